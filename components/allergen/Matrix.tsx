/**
 * The menu, or the recipes, against the fourteen: a letter for contains, for traces, and for not known. An empty cell
 * says that no label names it, and only where every label was read. One landscape page in print.
 */
import Link from "next/link";
import { ALLERGENS, type AllergensFound, allergenState } from "@/lib/book";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./allergens.css";
import { ALLERGEN_WORDS, CHECK_THE_LABEL, STATE_LETTERS, STATE_WORDS } from "./words";

export interface MatrixRow {
  readonly id: string;
  readonly name: string;
  readonly section: string;
  /** Null where its page is not the reader's to open. */
  readonly href: string | null;
  readonly found: AllergensFound;
}

export function Matrix({ title, rows, paper, printed }: { readonly title: string; readonly rows: readonly MatrixRow[]; readonly paper: PaperSize; readonly printed: string }) {
  return (
    <div className="paper-room" role="region" aria-label="The matrix" tabIndex={0}>
      <article className={`paper wide-${paper} matrix`}>
        <header><h2>{title}</h2><p>{printed}</p></header>
        <p className="key"><b>C</b> contains · <b>t</b> may contain traces · <b>?</b> not known: a label nobody has read yet · empty: named by none of its labels</p>
        <table>
          <caption className="visually-hidden">{title}: each against the fourteen allergens</caption>
          <thead>
            <tr><th scope="col">{rows.length} {rows.length === 1 ? "row" : "rows"}</th>{ALLERGENS.map((one) => <th key={one} scope="col" className="a"><span>{ALLERGEN_WORDS[one]}</span></th>)}</tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row">{row.href === null ? row.name : <Link href={row.href}>{row.name}</Link>}</th>
                {ALLERGENS.map((one) => {
                  const state = allergenState(row.found, one);
                  return <td key={one} className={state}><span aria-hidden="true">{STATE_LETTERS[state]}</span><span className="visually-hidden">{STATE_WORDS[state]}</span></td>;
                })}
              </tr>
            ))}
          </tbody>
        </table>
        <footer><p>{CHECK_THE_LABEL}</p></footer>
      </article>
    </div>
  );
}
