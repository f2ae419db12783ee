/** A portion that was tried: what each piece gives, before and after, and where the menu promises its weight. */
import Link from "next/link";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { type Column, Table } from "@/components/table/Table";
import "./spec.css";
import type { PortionsRow, PortionsView } from "./portions-view";

const COLUMNS: readonly Column<PortionsRow>[] = [
  { key: "what", head: "From the pieces as tested", cell: (row) => row.what },
  { key: "figure", head: "Before, after", figure: true, width: 11, cell: (row) => <BeforeAfter before={row.before} after={row.after} unit={row.unit} /> },
];
const NEW_COLUMNS: readonly Column<PortionsRow>[] = [
  { key: "what", head: "From the pieces as tested", cell: (row) => row.what },
  { key: "figure", head: "Comes to", figure: true, width: 8, cell: (row) => <>{row.after} <span className="u">{row.unit}</span></> },
];

export function TriedPortions({ view }: { readonly view: PortionsView }) {
  return (
    <>
      <h2>What a piece gives</h2>
      {view.uncounted !== null && <p className="quiet">{view.uncounted}</p>}
      {view.rows.length > 0 && <Table caption={view.isNew ? "What the portion would come to" : "The portion, before and after"} quietCaption narrow columns={view.isNew ? NEW_COLUMNS : COLUMNS} rows={view.rows} rowKey={(row) => row.what} />}
      {view.notes.map((note) => <p key={note}>{note}</p>)}
      {view.promise !== null && (
        <div role="note" className="promised">
          <p><strong>{view.promise.sentence}</strong></p>
          {view.promise.dishes.length > 0 && (
            <ul>
              {view.promise.dishes.map((dish) => <li key={dish.href}><Link href={dish.href}>{dish.name}</Link>{dish.says !== null && <>, which says {dish.says}</>}</li>)}
            </ul>
          )}
        </div>
      )}
    </>
  );
}
