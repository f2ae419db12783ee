/**
 * A cost that rests on a borrowed yield says so wherever it stands: in a list by the words "borrowed yield" beside the
 * name, on a page by a sentence that leads to the cut, where the source stands and a test can take its place.
 */
import Link from "next/link";
import type { BorrowedCut } from "@/lib/cascade";

/** For a row of a list; nothing where the yields were measured here. */
export function BorrowedWord({ borrowed }: { readonly borrowed: readonly BorrowedCut[] }) {
  if (borrowed.length === 0) return null;
  const of = borrowedText(borrowed);
  return <>{" "}<span className="state quiet" title={`Rests on a borrowed yield of ${of}`}>borrowed yield<span className="visually-hidden"> of {of}</span></span></>;
}

/** " It rests on a borrowed yield of carrots, peeled: nobody has tested that here." */
export function RestsOnBorrowed({ borrowed, most = 3 }: { readonly borrowed: readonly BorrowedCut[]; readonly most?: number }) {
  if (borrowed.length === 0) return null;
  const shown = borrowed.slice(0, most);
  return (
    <>
      {" "}It rests on {borrowed.length === 1 ? "a borrowed yield" : "borrowed yields"} of{" "}
      {shown.map((cut, index) => (
        <span key={cut.id}>{index > 0 && (index === borrowed.length - 1 ? " and " : ", ")}<Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link></span>
      ))}
      {borrowed.length > shown.length && ` and ${borrowed.length - shown.length} more`}, not tested here.
    </>
  );
}

/** The cuts by name: "carrots, peeled; rice, boiled and 2 more". */
export function borrowedText(borrowed: readonly BorrowedCut[], most = 3): string {
  const names = borrowed.slice(0, most).map((cut) => cut.name).join("; ");
  return borrowed.length > most ? `${names} and ${borrowed.length - most} more` : names;
}
