/**
 * Finding something on a long list: a field that asks the same page again with ?find=…, so that it works without a script
 * and the address can be kept. It says how many were found, and gives the way back to all. Where more rows are there
 * than one page shows, `Stretches` stands below the list and leads on and back.
 */
import Link from "next/link";
import { Button } from "@/components/form/Button";
import { printCount } from "./count";

export interface FindProps {
  /** The page that lists: "/items". */
  readonly page: string;
  /** What is looked for: "Find an item". */
  readonly label: string;
  readonly asked: string;
  /** How many were found, of how many. */
  readonly found: number;
  readonly all: number;
  readonly locale: string;
}

export function Find({ page, label, asked, found, all, locale }: FindProps) {
  return (
    <form className="find" role="search" action={page} method="get">
      <label htmlFor="find">{label}</label>
      <input id="find" className="find" type="search" name="find" defaultValue={asked} autoComplete="off" spellCheck={false} maxLength={120} />
      <Button type="submit" plain>Find</Button>
      {asked !== "" && <p role="status">{found === 0 ? "None" : printCount(found, locale)} of {printCount(all, locale)} {found === 1 ? "answers" : "answer"} to “{asked}”. <Link href={page}>Show all</Link></p>}
    </form>
  );
}
