/**
 * The way through a list that is longer than one page: which of its rows stand above, and links to the stretches before
 * and after, each with an address that can be handed on. Where there is a script the rest comes by itself as one scrolls
 * (Rolling).
 */
import Link from "next/link";
import { type ListAddress, listHref } from "./address";
import { printCount } from "./count";

export interface StretchesProps {
  readonly list: ListAddress;
  /** How many rows come before the ones shown, how many are shown, and of how many. */
  readonly before: number;
  readonly shown: number;
  readonly of: number;
  /** How many a page shows at most. */
  readonly most: number;
  readonly locale: string;
}

/** "101 to 200 of 6,012 are shown. The 100 before · The next 100"; nothing where all are shown. */
export function Stretches({ list, before, shown, of, most, locale }: StretchesProps) {
  if (shown === of) return null;
  const after = of - before - shown;
  const earlier = Math.min(most, before);
  const next = Math.min(most, after);
  return (
    <nav className="stretches" aria-label="The rest of the list">
      <p>{printCount(before + 1, locale)} to {printCount(before + shown, locale)} of {printCount(of, locale)} are shown.</p>
      {before > 0 && <Link href={listHref(list, { from: before + 1 - most })} rel="prev" prefetch={false}>The {earlier} before</Link>}
      {after > 0 && <Link href={listHref(list, { from: before + shown + 1 })} rel="next" prefetch={false}>{next === after ? `The last ${next}` : `The next ${next}`}</Link>}
    </nav>
  );
}
