/**
 * A ledger table. It says of what it is a table, how many rows, and as of when (caption); rows may stand in groups
 * with a heading; totals are ruled. Where the sheet is narrow, rows become lines: the first column and the columns
 * that matter stay, the others fold into a second line with their names (`fold`).
 *
 *   const columns: Column<Row>[] = [
 *     { key: "name", head: "Item", cell: (row) => <Link href={...}>{row.name}</Link> },
 *     { key: "price", head: "Price, $/lb", figure: true, cell: (row) => row.price },
 *     { key: "dealer", head: "Dealer", fold: "phone", cell: (row) => row.dealer },
 *   ];
 *   <Table caption="45 items, by shelf · prices as of Wed 25 Nov 2026" columns={columns} groups={[{ title: "Beef", rows }]} rowKey={(row) => row.id} />
 *
 * `fold`: "narrow" folds on tablets and phones, "phone" on phones only, "hide-narrow" and "hide-phone" leave the column
 * out there (only for what stands elsewhere too). `width` is the column's width in rem where rows are lines (5.5).
 */
import Link from "next/link";
import type { CSSProperties, ReactNode } from "react";
import { type ListAddress, listHref } from "@/components/find/address";

export interface Column<Row> {
  readonly key: string;
  readonly head: ReactNode;
  readonly cell: (row: Row) => ReactNode;
  /** Right-aligned, tabular figures. */
  readonly figure?: boolean;
  readonly fold?: "narrow" | "phone" | "hide-narrow" | "hide-phone";
  /** What a folded figure is called; "" for a cell that speaks for itself. Default: the head, when it is text. */
  readonly label?: string;
  readonly width?: number;
}

/** The list's address, and the columns it can be ordered by. */
export interface Order {
  readonly list: ListAddress;
  readonly sorts: readonly { readonly key: string; readonly label: string }[];
}

export interface Group<Row> {
  readonly key?: string;
  /** Heading of the group; null for rows without one. */
  readonly title: ReactNode | null;
  /** Beside the heading in the second ink: how many, or what it means. */
  readonly note?: ReactNode;
  readonly rows: readonly Row[];
}

export interface TableProps<Row> {
  readonly caption: ReactNode;
  readonly columns: readonly Column<Row>[];
  readonly rowKey: (row: Row) => string;
  readonly rows?: readonly Row[];
  readonly groups?: readonly Group<Row>[];
  /** "sum": ruled above and double-ruled below. "in": set in, as a part of the row above. */
  readonly rowRule?: (row: Row) => "sum" | "in" | null;
  /** Keeps the table from spreading over a wide sheet. */
  readonly narrow?: boolean;
  /** Hides the caption from sight where a heading right above says the same. */
  readonly quietCaption?: boolean;
  readonly order?: Order;
}

export function Table<Row>({ caption, columns, rowKey, rows, groups, rowRule, narrow = false, quietCaption = false, order }: TableProps<Row>) {
  const all: readonly Group<Row>[] = groups ?? [{ title: null, rows: rows ?? [] }];
  return (
    <div className="ledger-room"><table role="table" className={narrow ? "ledger narrow" : "ledger"}>
      <caption><span className={quietCaption ? "visually-hidden" : undefined}>{caption}</span></caption>
      <thead role="rowgroup">
        <tr role="row">
          {columns.map((column) => {
            const sort = order?.sorts.find(({ key }) => key === column.key);
            return (
              <th key={column.key} role="columnheader" scope="col" className={classOf(column)} style={widthOf(column)} abbr={sort?.label} aria-sort={sort && sortedBy(sort.key, order?.list)}>
                {order === undefined || sort === undefined ? column.head : <SortHead head={column.head} sort={sort} figure={column.figure === true} list={order.list} />}
              </th>
            );
          })}
        </tr>
      </thead>
      {all.map((group, index) => (
        <tbody role="rowgroup" key={group.key ?? index}>
          {group.title !== null && (
            <tr role="row" className="part">
              <th role="rowheader" scope="rowgroup" colSpan={columns.length}>
                {group.title}{group.note !== undefined && <span className="count">{" "}{group.note}</span>}
              </th>
            </tr>
          )}
          {group.rows.map((row) => (
            <tr role="row" key={rowKey(row)} className={rowRule?.(row) ?? undefined}>
              {columns.map((column, at) => at === 0
                ? <th key={column.key} role="rowheader" scope="row">{column.cell(row)}</th>
                : <td key={column.key} role="cell" className={classOf(column)} style={widthOf(column)} data-label={labelOf(column)}>{column.cell(row)}</td>)}
            </tr>
          ))}
        </tbody>
      ))}
    </table></div>
  );
}

function sortedBy(key: string, list: ListAddress | undefined): "ascending" | "descending" | undefined {
  if (list?.sorting?.key !== key) return undefined;
  return list.sorting.down ? "descending" : "ascending";
}

/** A head that orders: figures largest first, words from the beginning; then the other way; then as the list comes. */
function SortHead({ head, sort, figure, list }: { readonly head: ReactNode; readonly sort: { readonly key: string; readonly label: string }; readonly figure: boolean; readonly list: ListAddress }) {
  const now = list.sorting?.key === sort.key ? list.sorting : null;
  const next = now === null ? { key: sort.key, down: figure } : now.down === figure ? { key: sort.key, down: !figure } : null;
  const what = next === null ? "order as it comes" : next.down ? "order largest or last first" : "order smallest or first first";
  const link = (words: ReactNode) => <Link className="order" href={listHref({ ...list, sorting: next })} prefetch={false} scroll={false}>{words}<span aria-hidden="true">{now === null ? "↕" : now.down ? "↓" : "↑"}</span></Link>;
  if (typeof head === "string") return link(<>{head}<span className="visually-hidden">, {what}</span> </>);
  return <>{head} {link(<span className="visually-hidden">{sort.label}, {what}</span>)}</>;
}

function classOf<Row>(column: Column<Row>): string | undefined {
  const names = [
    column.figure ? "n" : "",
    column.fold === "narrow" ? "fold-narrow fold-phone" : column.fold === "phone" ? "fold-phone"
      : column.fold === "hide-narrow" ? "hide-narrow hide-phone" : column.fold === "hide-phone" ? "hide-phone" : "",
  ].filter(Boolean).join(" ");
  return names === "" ? undefined : names;
}

function widthOf<Row>(column: Column<Row>): CSSProperties | undefined {
  return column.width === undefined ? undefined : ({ "--w": `${column.width}rem` } as CSSProperties);
}

function labelOf<Row>(column: Column<Row>): string {
  return column.label ?? (typeof column.head === "string" ? column.head : "");
}
