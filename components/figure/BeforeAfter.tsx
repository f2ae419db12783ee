/**
 * A change: before → after, and then in words. `31.8 % → 33.1 %, up 1.3 points, now over 32 %`. The arrow is read out
 * as "becomes". Either side may be missing: a thing that is new, or gone.
 */
import type { ReactNode } from "react";
import { Fractions } from "./Figure";

export interface BeforeAfterProps {
  readonly before: string | null;
  readonly after: string | null;
  readonly unit?: string | undefined;
  /** The difference told in words. */
  readonly words?: ReactNode;
  readonly tone?: "over" | "near" | undefined;
}

export function BeforeAfter({ before, after, unit, words, tone }: BeforeAfterProps) {
  const same = before === after;
  return (
    <>
      <span className={tone ? `figure ${tone}` : "figure"}>
        {before === null ? <span className="quiet">new</span> : same ? null : <Fractions text={before} />}
        {(!same || before === null) && <Becomes />}
        {after === null ? <span className="quiet">gone</span> : <strong><Fractions text={after} /></strong>}
        {unit !== undefined && unit !== "" && <span className="u">{"\u00a0"}{unit}</span>}
      </span>
      {words !== undefined && <span className="quiet">, {words}</span>}
    </>
  );
}

/** The arrow between before and after. */
export function Becomes() {
  return <span className="becomes"><span aria-hidden="true">{" → "}</span><span className="visually-hidden"> becomes </span></span>;
}
