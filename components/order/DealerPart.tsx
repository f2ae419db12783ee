/** One dealer's part of an order: whole packs of each item, what is bought beyond the need, and what it comes to against the least order. */
import Link from "next/link";
import { Fractions } from "@/components/figure/Figure";
import { Term } from "@/components/glossary/Term";
import { type Column, Table } from "@/components/table/Table";
import type { OrderRowView } from "./row-view";

export interface DealerPartProps {
  readonly name: string;
  readonly dealerHref: string | null;
  readonly ordering: string;
  readonly minimum: string | null;
  /** It stays below the least order. */
  readonly short: boolean;
  /** null: nothing in it has a price. */
  readonly total: string | null;
  readonly rows: readonly OrderRowView[];
  /** The first part of a page explains its words. */
  readonly explained: boolean;
  readonly sheets: { readonly csv: string; readonly xlsx: string; readonly paper: string } | null;
}

const columnsOf = (explained: boolean): readonly Column<OrderRowView>[] => [
  { key: "item", head: "Item", cell: ({ itemId, name, notes }) => <><Link href={`/items/${encodeURIComponent(itemId)}`} prefetch={false}>{name}</Link>{notes.length > 0 && <span className="row-note quiet">{notes.join(" ")}</span>}</> },
  { key: "needed", head: "Needed", label: "needed", figure: true, width: 7, fold: "phone", cell: ({ needed }) => <Fractions text={needed} /> },
  { key: "hand", head: "In the house", label: "in the house", figure: true, width: 7, fold: "narrow", cell: ({ onHand }) => (onHand === null ? "" : <Fractions text={onHand} />) },
  { key: "packs", head: "Order", figure: true, width: 5, cell: ({ packs, bought }) => (packs === null ? bought : <strong>{packs}</strong>) },
  { key: "pack", head: "Pack", fold: "phone", label: "", cell: ({ pack, why }) => (why === null ? <Fractions text={pack} /> : <span className="quiet">not in packs: {why}</span>) },
  { key: "over", head: explained ? <Term of="overbuy">Beyond the need</Term> : "Beyond the need", label: "beyond the need", figure: true, width: 8, fold: "narrow", cell: ({ over, overCost }) => (over === null ? "" : <><Fractions text={over} />{overCost !== null && <span className="quiet">, {overCost}</span>}</>) },
  { key: "cost", head: "In all", figure: true, width: 6, cell: ({ cost }) => cost ?? <span className="quiet">not known</span> },
];

export function DealerPart({ name, dealerHref, ordering, minimum, short, total, rows, explained, sheets }: DealerPartProps) {
  return (
    <section className="dealer-part">
      <h2>{dealerHref === null ? name : <Link href={dealerHref} prefetch={false}>{name}</Link>}</h2>
      {(ordering !== "" || minimum !== null) && <p>{ordering !== "" && <>{ordering}. </>}{minimum !== null && (short ? <strong>{minimum}</strong> : minimum)}</p>}
      <Table caption={`${rows.length} ${rows.length === 1 ? "item" : "items"}${total === null ? "" : `, ${total} as asked`}`} columns={columnsOf(explained)} rows={rows} rowKey={({ key }) => key} />
      {sheets !== null && <p className="sheets"><Link href={sheets.paper} prefetch={false}>Print this sheet</Link> · <a href={sheets.csv} download>CSV</a> · <a href={sheets.xlsx} download>Spreadsheet</a></p>}
    </section>
  );
}
