/**
 * An invoice that came as a table: its columns by their headings, the first row that names an item and a price. Only what
 * dealers usually write is known here; a column that is called something else is left out and can be typed.
 */
import { foldWords } from "@/lib/book";
import { type Exact, type Habits, type Quantity, type Unit, bad, type Checked, good, parseMoney, parseNumber, parseQuantity, quoted, unitFromSpelling } from "@/lib/measure";
import type { BilledLine } from "./delivery-lines";
import type { ListTable, ListCell } from "./price-list/line";

type Field = "code" | "gtin" | "name" | "packs" | "billed" | "price" | "per" | "amount" | "lot" | "useBy";

const HEADINGS: Readonly<Record<Field, readonly string[]>> = {
  code: ["code", "item code", "item no", "item number", "sku", "product code", "product no", "order code", "art nr", "artikelnummer", "artikel nr", "ref", "reference", "code article", "codigo", "codice"],
  gtin: ["gtin", "ean", "upc", "barcode", "bar code"],
  name: ["item", "name", "description", "item description", "product", "product description", "artikel", "bezeichnung", "designation", "libelle", "descripcion", "producto", "descrizione", "prodotto", "omschrijving"],
  packs: ["packs", "cases", "qty", "quantity", "qty shipped", "shipped", "pieces", "pcs", "ctn", "cartons", "menge", "anzahl", "quantite", "qte", "cantidad", "quantita", "aantal"],
  billed: ["weight", "net weight", "billed", "billed weight", "catch weight", "total weight", "lb", "lbs", "kg", "gewicht", "nettogewicht", "poids", "poids net", "peso", "peso neto", "gewicht kg"],
  price: ["price", "unit price", "net price", "case price", "preis", "einzelpreis", "prix", "prix unitaire", "pu", "precio", "prezzo", "prijs"],
  per: ["per", "unit", "uom", "price unit", "price per", "einheit", "unite", "unidad", "unita", "eenheid"],
  amount: ["amount", "total", "line total", "extension", "ext", "extended", "ext price", "betrag", "gesamt", "gesamtpreis", "montant", "total ht", "importe", "importo", "bedrag"],
  lot: ["lot", "lot no", "batch", "charge", "charge nr", "lotto", "lote", "n lot"],
  useBy: ["use by", "best before", "expiry", "exp", "mhd", "dlc", "ddm", "caducidad", "scadenza", "tht"],
};
const FIELD_OF = new Map<string, Field>(Object.entries(HEADINGS).flatMap(([field, words]) => words.map((word): [string, Field] => [word, field as Field])));
const PACK_WORDS = new Set(["pack", "packs", "case", "cases", "cs", "ctn", "carton", "box", "bx", "karton", "kiste", "colis", "caja", "cartone", "doos"]);
const LOOKED = 40;

export interface BilledTable {
  readonly lines: readonly BilledLine[];
  /** Cells that could not be read, each in a sentence with its row. */
  readonly left: readonly string[];
}

/** Codes: no-headings, empty. */
export function billedInTable(tables: readonly ListTable[], habits: Habits): Checked<BilledTable> {
  for (const { rows } of tables) {
    for (const [at, row] of rows.slice(0, LOOKED).entries()) {
      const columns = new Map<Field, { readonly at: number; readonly unit: Unit | undefined }>();
      row.forEach((cell, column) => {
        const words = foldWords(cell.text.replace(/[().,:/-]+/g, " ")).trim();
        const unit = unitFromSpelling(words.split(" ").at(-1) ?? "");
        const field = FIELD_OF.get(words) ?? (unit === undefined ? undefined : FIELD_OF.get(words.split(" ").slice(0, -1).join(" ").replace(/ per$/, "")));
        if (field !== undefined && !columns.has(field)) columns.set(field, { at: column, unit });
      });
      const named = columns.has("name") || columns.has("code") || columns.has("gtin");
      if (!named || !(columns.has("price") || columns.has("amount"))) continue;
      return read(rows, at, columns, habits);
    }
  }
  return bad("", "no-headings", "No row of the file heads its columns: an item (or its code) and a price must stand there by name, such as Item, Code, Cases, Weight, Price, Per, Amount. Put them in, or type the lines.");
}

function read(rows: ListTable["rows"], head: number, columns: ReadonlyMap<Field, { readonly at: number; readonly unit: Unit | undefined }>, habits: Habits): Checked<BilledTable> {
  const left: string[] = [];
  const lines: BilledLine[] = [];
  rows.slice(head + 1).forEach((row, n) => {
    const at = `row ${head + n + 2} of the file`;
    const cell = (field: Field): ListCell | null => { const column = columns.get(field); return column === undefined ? null : row[column.at] ?? null; };
    const text = (field: Field): string => cell(field)?.text.trim() ?? "";
    const name = text("name");
    // A row without an item is a heading, a total or a remark.
    if ((name === "" && text("code") === "" && text("gtin") === "") || (text("price") === "" && text("amount") === "")) return;
    const figure = (field: Field, of: (typed: string) => Checked<Exact>): Exact | null => {
      const one = cell(field);
      if (one === null || one.text.trim() === "") return null;
      if (one.number !== null) return one.number;
      const value = of(one.text);
      if (!value.ok) left.push(`${at.charAt(0).toUpperCase()}${at.slice(1)}: ${value.problems[0]?.sentence ?? quoted(one.text)}`);
      return value.ok ? value.value : null;
    };
    const money = (typed: string): Checked<Exact> => { const value = parseMoney(typed, habits); return value.ok ? good(value.value.amount) : value; };
    const per = perOf(text("per"), columns.get("price")?.unit);
    lines.push({
      at, code: text("code"), gtin: text("gtin").replace(/\D/g, "").padStart(14, "0").replace(/^0{14}$/, ""), name,
      packs: figure("packs", (typed) => parseNumber(typed, habits)), billed: billedOf(cell("billed"), columns.get("billed")?.unit ?? (per === null || per === "pack" ? undefined : per), habits, at, left),
      price: figure("price", money), per, amount: figure("amount", money), lot: text("lot").slice(0, 40), useBy: /^\d{4}-\d\d-\d\d$/.test(text("useBy")) ? text("useBy") : null, note: "",
    });
  });
  return lines.length === 0 ? bad("", "empty", "Under its headings the file has no line with an item and a price.") : good({ lines, left });
}

function perOf(text: string, ofHeading: Unit | undefined): "pack" | Unit | null {
  const word = text.replace(/^[/]|^per /i, "").trim();
  return PACK_WORDS.has(foldWords(word)) ? "pack" : unitFromSpelling(word) ?? ofHeading ?? null;
}

function billedOf(cell: ListCell | null, unit: Unit | undefined, habits: Habits, at: string, left: string[]): Quantity | null {
  if (cell === null || cell.text.trim() === "") return null;
  if (cell.number !== null && unit !== undefined) return { amount: cell.number, unit };
  const read = parseQuantity(cell.text, habits, { kinds: ["mass", "volume", "count"], bare: unit });
  if (!read.ok) left.push(`${at.charAt(0).toUpperCase()}${at.slice(1)}: ${read.problems[0]?.sentence ?? ""}`);
  // As it is understood: a form shows it in the kitchen's own writing.
  return read.ok ? { amount: read.value.amount, unit: read.value.unit } : null;
}
