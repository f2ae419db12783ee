/**
 * A table of details as data: its name and its columns, each with what it holds. From this one description follow the
 * type of a row, the SQL that reads it and the JSON that writes it. Rows travel as JSON in both directions, one
 * document for any number of rows: that is several times faster than parameters and result sets, and exact, because
 * every figure and day is text on the way ("7.10" comes back as "7.10", not as 7.1).
 */

/** "exact": NUMERIC, as text; "day": DATE, as "2026-11-25"; "?" where it may be null. */
export type ColumnType = "text" | "text?" | "exact" | "exact?" | "int" | "bool" | "day" | "day?";
export type Columns = Readonly<Record<string, ColumnType>>;

type Value<T extends ColumnType> =
  T extends "int" ? number : T extends "bool" ? boolean : T extends `${string}?` ? string | null : string;

export type Row<C extends Columns> = { readonly [N in keyof C]: Value<C[N]> };

export interface Table<C extends Columns = Columns> {
  readonly name: string;
  /** Beside kitchen_id and revision, which every table of details has. */
  readonly columns: C;
}

export type RowOf<T extends Table> = Row<T["columns"]>;

export function table<const C extends Columns>(name: string, columns: C): Table<C> {
  return { name, columns };
}

/** The SQL of the columns of a table that stands in the query as `d`, each in the form in which it travels. */
export function columnList(of: Table): string {
  return Object.entries(of.columns).map(([name, type]) => {
    switch (type) {
      case "exact": case "exact?": return `d."${name}"::text`;
      case "day": case "day?": return `to_char(d."${name}", 'YYYY-MM-DD')`;
      case "text": case "text?": case "int": case "bool": return `d."${name}"`;
    }
  }).join(", ");
}

/** A row from the values of its columns in their order, which begin at `from` in `values`. */
export function rowFrom<C extends Columns>(of: Table<C>, values: readonly unknown[], from: number): Row<C> {
  const row: Record<string, unknown> = {};
  let at = from;
  for (const name in of.columns) {
    row[name] = values[at];
    at += 1;
  }
  return row as Row<C>;
}
