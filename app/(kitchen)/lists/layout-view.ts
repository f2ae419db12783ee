/** The layout of a list for its form: what each field is set to, and what there is to choose from. */
import type { FactOf } from "@/lib/book";
import { LIST_FIELDS, LIST_UNITS, type Layout, type ListField, tableOf } from "@/lib/buying";
import { DELIMITERS, type Delimiter, ENCODINGS, type FileRead } from "@/lib/exchange";
import { UNITS, oneOf } from "@/lib/measure";
import type { LayoutFormProps } from "@/components/price-list/LayoutForm";

const FIELD_WORDS: Readonly<Record<ListField, string>> = { code: "code", gtin: "GTIN", name: "name", pack: "pack", price: "price", per: "unit of the price", currency: "currency", from: "valid from" };
const DELIMITER_WORDS: Readonly<Record<Delimiter, string>> = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes" };
const MOST_COLUMNS = 200;

/** "code in A, name in B, price in D". */
export function layoutWords(layout: Layout): string {
  const told = LIST_FIELDS.flatMap((field) => { const column = layout.columns[field]; return column === null ? [] : [`${FIELD_WORDS[field]} in ${columnName(column.at)}`]; });
  return told.length === 0 ? "none is known" : told.join(", ");
}

/** 0 → "A", 26 → "AA": as a spreadsheet calls its columns. */
function columnName(at: number): string {
  const letter = String.fromCharCode(65 + (at % 26));
  return at < 26 ? letter : `${columnName(Math.floor(at / 26) - 1)}${letter}`;
}

type Choices = Pick<LayoutFormProps, "values" | "columns" | "sheets" | "units" | "currencies" | "delimiters" | "encodings">;

export function layoutForm(file: Extract<FileRead, { kind: "table" }>, layout: Layout, kitchen: FactOf["kitchen"]): Choices {
  const table = tableOf(file.tables, layout);
  const first = layout.headings ?? 0;
  const head = layout.headings === null ? [] : table.rows[layout.headings - 1] ?? [];
  const sample = table.rows.slice(first, first + 50);
  const width = Math.min(MOST_COLUMNS, Math.max(head.length, ...sample.map((row) => row.length)));
  const columns = Array.from({ length: width }, (_, at) => {
    const example = sample.map((row) => row[at]?.text.trim() ?? "").find((text) => text !== "") ?? "";
    return { value: String(at), label: [columnName(at), short(head[at]?.text ?? ""), example === "" ? "" : `“${short(example)}”`].filter(Boolean).join(" · ") };
  });
  return {
    columns,
    sheets: file.tables.filter(({ hidden }) => !hidden).map(({ name }) => ({ value: name, label: name })),
    units: [{ value: "pack", label: "the pack" }, ...LIST_UNITS.map((unit) => ({ value: unit, label: unit === "each" || unit === "dozen" ? UNITS[unit].one : oneOf(unit) }))],
    currencies: [kitchen.currency, ...kitchen.exchangeRates.map(({ currency }) => currency)].map((currency) => ({ value: currency, label: currency })),
    delimiters: file.format === "csv" ? DELIMITERS.map((delimiter) => ({ value: delimiter, label: DELIMITER_WORDS[delimiter] })) : [],
    encodings: file.format === "csv" ? ENCODINGS.map((encoding) => ({ value: encoding, label: encoding })) : [],
    values: {
      ...Object.fromEntries(LIST_FIELDS.map((field) => [`column.${field}`, layout.columns[field] === null ? "" : String(layout.columns[field].at)])),
      sheet: table.name, headings: layout.headings === null ? "" : String(layout.headings), decimal: layout.decimal, days: layout.days, per: layout.per ?? "",
      money: layout.currency ?? kitchen.currency, delimiter: layout.delimiter ?? "", encoding: layout.encoding ?? "",
    },
  };
}

function short(text: string): string {
  const plain = text.replace(/\s+/g, " ").trim();
  return plain.length > 28 ? `${plain.slice(0, 27)}…` : plain;
}
