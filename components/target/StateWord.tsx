/**
 * Where a dish stands, told by word and shape first, colour second: diamond for over, filled dot for near, ring for
 * under, a dash where nobody can say. `hung` hangs the word in the ledger's margin beside its row (in front of the
 * name on a phone); the row's first cell must then be wrapped in <Hangs>.
 */
import type { ReactNode } from "react";

export type Standing = "over" | "near" | "under" | "unpriced" | "incomplete" | "crosses over" | "back under";

const WORD: Readonly<Record<Standing, string>> = {
  over: "over", near: "near", under: "under", unpriced: "no price", incomplete: "unsure", "crosses over": "crosses", "back under": "back",
};

const SPOKEN: Readonly<Record<Standing, string>> = {
  over: "over target", near: "near target", under: "under target", unpriced: "no menu price", incomplete: "not fully costed", "crosses over": "crosses over target", "back under": "comes back under target",
};

export function StateWord({ state, hung = false, shape = false }: { readonly state: Standing; readonly hung?: boolean; readonly shape?: boolean }) {
  const tone = state === "over" || state === "crosses over" ? " over" : state === "near" ? " near" : " quiet";
  return (
    <span className={`state${tone}${hung ? " hung" : ""}`}>
      {shape && <Shape state={state} />}
      <span aria-hidden="true">{WORD[state]}</span>
      <span className="visually-hidden">{SPOKEN[state]}: </span>
    </span>
  );
}

/** Around a row's name where a state word hangs in the margin beside it. */
export function Hangs({ state, children }: { readonly state: Standing | null; readonly children: ReactNode }) {
  return <span className="hangs">{state !== null && <><StateWord state={state} hung />{" "}</>}{children}</span>;
}

function Shape({ state }: { readonly state: Standing }) {
  return (
    <svg viewBox="0 0 10 10" aria-hidden="true">
      {state === "over" || state === "crosses over" ? <path d="M5 0l5 5-5 5-5-5z" fill="currentColor" />
        : state === "near" ? <circle cx="5" cy="5" r="4.4" fill="currentColor" />
        : state === "under" || state === "back under" ? <circle cx="5" cy="5" r="3.8" fill="none" stroke="currentColor" strokeWidth="1.6" />
        : <path d="M1 5H9" stroke="currentColor" strokeWidth="1.6" />}
    </svg>
  );
}
