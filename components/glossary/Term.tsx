/** A trade word that explains itself: press it for what it means here. The same text stands on the page of words. */
import { type ReactNode, useId } from "react";
import { TERMS, type TermKey, type TermText } from "./terms";

export function Term({ of, children }: { readonly of: TermKey; readonly children?: ReactNode }) {
  const term: TermText = TERMS[of];
  const id = useId();
  return (
    <>
      <button type="button" className="term" popoverTarget={id}>{children ?? of}</button>
      <span id={id} popover="auto" className="term-note" role="note">
        <b>{term.word}</b>
        <span>{term.meaning}</span>
        {term.formula !== undefined && <span className="formula">{term.formula}</span>}
      </span>
    </>
  );
}
