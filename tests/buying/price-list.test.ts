/** A dealer's list from cells to changes: headings in several languages, marks, packs, codes, questions, repeats; whatever stands in it. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, type Quote, emptyBook, withChanges } from "@/lib/book";
import {
  FATES, type JudgedLine, type JudgedList, type Layout, type ListChoices, type ListTable, NO_CHOICES, guessLayout, itemIndex, judgeList, layoutAgain, layoutLacks, layoutSetRight, linesOfCatalogue, pricedPer, readChoices, readLayout, readLines,
} from "@/lib/buying";
import { exact } from "@/lib/measure";
import { dealer, item, kitchen, quote } from "../menu/small-books";

const table = (...rows: readonly string[]): readonly ListTable[] => [{ name: "", rows: rows.map((row) => row.split(";").map((text) => ({ text, number: null }))) }];
const caseOf = (size: string, count = "1") => { const [amount = "", unit = ""] = size.split(" "); return { levels: [{ count: exact("1"), container: "case" }, ...(count === "1" ? [] : [{ count: exact(count), container: "bag" }])], size: { amount: exact(amount), unit: unit as "lb" }, catchWeight: false }; };
const q = (id: string, price: string, more: Partial<Quote>) => quote(id, `${price} a lb`, { per: "pack", basis: "quoted", pack: caseOf("40 lb"), ...more });
const book: Book = withChanges(emptyBook({ ...kitchen, exchangeRates: [{ currency: "EUR", rate: exact("1.10"), source: "bank", on: "2026-11-01" }] }, "2026-11-25"), [
  dealer,
  item("striploin", "mass", { name: "Beef striploin, choice" }), quote("striploin", "7.10 a lb", { code: "1001", basis: "quoted", pack: { levels: [{ count: exact("1"), container: "piece" }], size: { amount: exact("13"), unit: "lb" }, catchWeight: true } }),
  item("carrots", "mass", { name: "Carrots, jumbo" }), q("carrots", "19.00", { code: "0042" }),
  item("butter", "mass", { name: "Butter, unsalted" }), q("butter", "133.20", { code: "B-7", gtin: "04006381333931", pack: caseOf("1 lb", "36") }),
  item("flour", "mass", { name: "Bread flour" }), q("flour", "22.50", { code: "F1", basis: "contract", until: "2026-12-31" }),
  item("eggs", "count", { name: "Eggs, large" }),
  item("shallots", "mass", { name: "Shallots, peeled" }),
]);

function judged(tables: readonly ListTable[], choices: Partial<ListChoices> = {}, layout: Layout = guessLayout(tables, kitchen)): JudgedList & { readonly layout: Layout; readonly at: (row: number) => JudgedLine } {
  const { lines } = readLines(tables, layout, kitchen);
  const list = judgeList({ listId: "list-1", dealerId: "dealer", lines, decimal: layout.decimal, choices: { ...NO_CHOICES, ...choices }, book, from: "2026-12-01" });
  return { ...list, layout, at: (row) => { const found = list.lines.find(({ line }) => line.row === row); if (found === undefined) throw new Error(`no line of row ${row}`); return found; } };
}
const heads = (layout: Layout) => Object.fromEntries(Object.entries(layout.columns).flatMap(([field, column]) => (column === null ? [] : [[field, column.at]])));

describe("the layout", () => {
  test.each([
    ["English", "Item Code;Description;Pack Size;UOM;Net Price", { code: 0, name: 1, pack: 2, per: 3, price: 4 }],
    ["German", "Art.-Nr.;EAN;Bezeichnung;Gebinde;Alter Preis;Neuer Preis;ME;gültig ab", { code: 0, gtin: 1, name: 2, pack: 3, price: 5, per: 6, from: 7 }],
    ["French", "Réf.;Désignation;Conditionnement;Prix HT;Unité", { code: 0, name: 1, pack: 2, price: 3, per: 4 }],
    ["Spanish", "Código;Descripción;Formato;Precio neto;Moneda", { code: 0, name: 1, pack: 2, price: 3, currency: 4 }],
    ["Italian", "Codice articolo;Descrizione;Confezione;Prezzo netto", { code: 0, name: 1, pack: 2, price: 3 }],
    ["Dutch", "Artikelnummer;Omschrijving;Inhoud;Prijs", { code: 0, name: 1, pack: 2, price: 3 }],
    ["item and description", "Item;Description;Price per lb", { code: 0, name: 1, price: 2 }],
    ["item alone", "Item;Price;Pack", { name: 0, price: 1, pack: 2 }],
  ])("is guessed from headings in %s", (_, heading, columns) => {
    const layout = guessLayout(table("Harbour Provisioners;;", "Price list valid from 1.12.2026;;", heading), kitchen);
    expect(layout.headings).toBe(3);
    expect(heads(layout)).toEqual(columns);
  });

  test("is guessed from the cells where nothing heads them", () => {
    const tables = table("1001;Beef striploin;13 lb;7,20;KG;4006381333931", "1002;Short ribs;10 lb;9,85;KG;4006381333931", "1003;Oxtail, cleaned;2 x 5 lb;4,10;KG;4006381333931");
    const layout = guessLayout(tables, kitchen);
    expect(layout.headings).toBeNull();
    expect(heads(layout)).toEqual({ code: 0, name: 1, pack: 2, price: 3, per: 4, gtin: 5 });
    expect(layout.decimal).toBe(",");
  });

  test("knows its marks, its day, and what its prices are for", () => {
    const tables = table("Preisliste gültig ab 1.12.2026;;", "Code;Name;Preis EUR/kg", "1;a;1.234,56", "2;b;1.200");
    const layout = guessLayout(tables, kitchen);
    expect(layout).toMatchObject({ decimal: ",", per: "kg", currency: "EUR" });
    const read = readLines(tables, layout, kitchen);
    expect(read.from).toBe("2026-12-01");
    expect(read.lines.map(({ price, per, currency }) => [price, per, currency])).toEqual([["1234.56", "kg", "EUR"], ["1200", "kg", "EUR"]]);
  });

  test("is remembered by its headings, wherever the columns stand next month; not in a file of another make", () => {
    const first = table("Code;Name;Liste A;Liste B", "1001;Beef;7.00;7.20");
    const right = layoutSetRight(guessLayout(first, kitchen), { columns: { code: 0, name: 1, price: 3, pack: -1, per: -1, gtin: -1, currency: -1, from: -1 } }, first, kitchen);
    const kept = readLayout(JSON.parse(JSON.stringify(right)));
    expect(kept).toEqual(right);
    const next = layoutAgain(right, table("Greetings;;;;", "Liste B;Liste A;Neu;Name;Code", "7.40;7.20;;Beef;1001"));
    expect(next === null ? null : [next.headings, heads(next)]).toEqual([2, { code: 4, name: 3, price: 0 }]);
    expect(layoutAgain(right, table("Code;Name;Price", "1001;Beef;7.20"))).toBeNull();
    expect(readLayout({ sheet: "x" })).toBeNull();
    expect(layoutLacks(layoutSetRight(right, { columns: { price: -1 } }, first, kitchen))).toContain("price");
  });

  test.each([["CS", "pack"], ["Kiste", "pack"], ["XCS", "pack"], ["/kg", "kg"], ["per lb", "lb"], ["LBR", "lb"], ["Stück", "each"], ["€/kg", "kg"], ["EA", "each"], ["pièce", "each"], ["furlong", null], ["", null]])("%s prices the %s", (text, per) => {
    expect(pricedPer(text)).toBe(per);
  });
});

describe("the fates of lines", () => {
  test("a new price, before and after; the same as before; not bought here; what cannot be read says where and what would be right", () => {
    const list = judged(table("Code;Description;Price;UOM", "1001;Striploin;7.35;LB", "42;Carrots;19.00;CS", "9999;Halibut;24.00;LB", "B-7;Butter;call;CS", "9998;Cod;call;LB", "F1;Flour;22.50;CS"));
    expect(list.at(2)).toMatchObject({ fate: "new-price", itemId: "striploin", before: { price: { amount: "7.10" } }, after: { price: { amount: "7.35" }, per: "lb", id: "quote-striploin", code: "1001" }, counts: true });
    // The spreadsheet lost the leading noughts of 0042.
    expect(list.at(3).fate).toBe("same");
    expect(list.at(4).fate).toBe("not-bought");
    expect(list.at(5)).toMatchObject({ fate: "unreadable", itemId: "butter", problem: { path: "price", code: "no-price" } });
    // Nobody is troubled with what is not bought.
    expect(list.at(6).fate).toBe("not-bought");
    expect(list.at(7).fate).toBe("same");
    expect(list.changes).toHaveLength(1);
    expect(list.counts).toEqual({ asked: 0, unreadable: 1, "new-price": 1, "new-quote": 0, same: 2, repeated: 0, left: 0, "not-bought": 2 });
  });

  test("found by GTIN where there is no code; another pack is told, and the pack of another kind stays", () => {
    const list = judged(table("EAN;Name;Gebinde;Preis", "4006381333931;Butter;30 x 1 lb;115,00", "4006381333930;Butter, check digit wrong;36 x 1 lb;115,00"));
    expect(list.at(2)).toMatchObject({ fate: "new-price", itemId: "butter", after: { pack: { levels: [{ count: "1" }, { count: "30" }] } } });
    expect(list.at(2).notes[0]).toMatch(/^Another pack: case of 36 bags of 1 lb before, case of 30 /);
    expect(list.at(3).fate).toBe("not-bought");
    const counted = judged(table("Code;Name;Pack;Price", "B-7;Butter;36 ct;135.00"));
    expect(counted.at(2)).toMatchObject({ fate: "new-price", after: { pack: { size: { unit: "lb" } } } });
    expect(counted.at(2).notes[0]).toContain("the pack on file stays");
  });

  test("a case price typed as per pound, the mirror, a slipped point, a jump: each asked, and the old price stands", () => {
    const list = judged(table("Code;Description;Price;UOM", "1001;Striploin;92.30;LB", "0042;Carrots;0.48;CS", "B-7;Butter;13.32;CS"));
    expect([2, 3, 4].map((row) => [list.at(row).fate, list.at(row).problem?.code])).toEqual([["asked", "case-price-per-unit"], ["asked", "unit-price-per-case"], ["asked", "price-point"]]);
    expect(list.changes).toEqual([]);
    const answered = judged(table("Code;Description;Price;UOM", "1001;Striploin;92.30;LB", "0042;Carrots;0.48;CS", "B-7;Butter;13.32;CS"), { lines: { 3: { answer: "unit" }, 4: { answer: "moved" } }, all: { "case-price-per-unit": "leave" } });
    expect(answered.at(2).fate).toBe("left");
    expect(answered.at(3)).toMatchObject({ fate: "new-price", after: { per: "lb", price: { amount: "0.48" } } });
    // The point put back gives the price that stands already.
    expect(answered.at(4)).toMatchObject({ fate: "same", answer: "moved" });
    // A piece billed by its weight has no price of the case.
    expect(list.at(2).answers).toEqual(["take", "leave"]);
    const jump = judged(table("Code;Description;Price", "1001;Striploin;8.90", "0042;Carrots;24.00"), { all: { "price-jump": "take" } });
    expect(jump.counts["new-price"]).toBe(2);
    expect(jump.asked).toEqual({ "price-jump": 2 });
  });

  test("a contract that still runs is asked about; a currency needs a rate", () => {
    const list = judged(table("Code;Description;Price;Currency", "F1;Flour;23.00;USD", "0042;Carrots;17.30;EUR", "B-7;Butter;130;GBP"));
    expect(list.at(2)).toMatchObject({ fate: "asked", problem: { code: "contract" }, answers: ["leave", "take"] });
    expect(list.at(3)).toMatchObject({ fate: "asked", problem: { code: "other-currency" }, after: { currency: "EUR" } });
    expect(list.at(4)).toMatchObject({ fate: "unreadable", problem: { code: "no-rate" } });
    expect(judged(table("Code;Description;Price", "F1;Flour;23.00"), { lines: { 2: { answer: "take" } } }).at(2).after).toMatchObject({ basis: "quoted", until: null });
  });

  test("an item chosen becomes a new quote, or teaches the quote on file its code", () => {
    const rows = ["Code;Description;Pack;Price", "S-1;Shallots peeled;5 lb;14.50", "X;Striploin;;7.10"];
    const list = judged(table(...rows), { lines: { 2: { itemId: "shallots" }, 3: { itemId: "striploin" } } });
    expect(list.at(2)).toMatchObject({ fate: "new-quote", counts: true, after: { id: "quote-list-1-2", itemId: "shallots", dealerId: "dealer", code: "S-1", per: "pack", pack: { size: { amount: "5", unit: "lb" } } } });
    expect(list.at(3)).toMatchObject({ fate: "same", counts: true, after: { code: "X" } });
    const noPack = judged(table("Code;Description;Price", "S-1;Shallots peeled;14.50"), { lines: { 2: { itemId: "shallots" } } });
    expect(noPack.at(2)).toMatchObject({ fate: "unreadable", problem: { path: "pack" } });
    const wrongKind = judged(table("Code;Description;Pack;Price", "E-1;Eggs;30 lb;52.50"), { lines: { 2: { itemId: "eggs" } } });
    expect(wrongKind.at(2)).toMatchObject({ fate: "unreadable", problem: { code: "wrong-kind" } });
  });

  test("twice in the list: the same says nothing new; different prices are a question that one answer settles", () => {
    const rows = ["Code;Description;Price", "1001;Striploin;7.35", "1001;Striploin;7.35", "0042;Carrots;20.00", "42;Carrots;21.00"];
    const list = judged(table(...rows));
    expect([2, 3, 4, 5].map((row) => list.at(row).fate)).toEqual(["new-price", "repeated", "asked", "asked"]);
    expect(list.at(3).repeats).toBe(2);
    expect(list.at(4).problem?.sentence).toContain("row 4 (20.00), row 5 (21.00)");
    const said = judged(table(...rows), { lines: { 5: { answer: "this" } } });
    expect([said.at(4).fate, said.at(4).repeats, said.at(5).fate, said.at(5).counts]).toEqual(["repeated", 5, "new-price", true]);
    // Leaving one out leaves the other.
    const left = judged(table(...rows), { lines: { 4: { answer: "leave" } } });
    expect([left.at(4).fate, left.at(5).fate]).toEqual(["left", "new-price"]);
  });
});

test("the likeliest items by words and runs of letters, the same however often asked", () => {
  const index = itemIndex(book);
  expect(index.likeliest("BF STRIPLN CHC 13UP", 3)[0]?.itemId).toBe("striploin");
  expect(index.likeliest("Shallot, peeled, 5 lb bag", 3)[0]?.itemId).toBe("shallots");
  expect(index.likeliest("unsalted butter", 1)).toEqual(index.likeliest("unsalted butter", 1));
  expect(index.likeliest("detergent", 3)).toEqual([]);
  expect(index.likeliest("", 3)).toEqual([]);
});

test("an electronic catalogue takes the same road", () => {
  const coded = (amount: string, code: string, unit: "lb" | "oz" | null) => ({ amount: exact(amount), code, unit });
  const line = { at: "line 1", action: "Update", orderableUnit: "XCS", contentUnits: null, valid: { from: null } };
  const read = linesOfCatalogue({
    valid: { from: "2026-12-01" }, lines: [
      { ...line, item: { name: "Butter", sellersId: "B-7", gtin: "04006381333931", packQuantity: coded("1", "LBR", "lb"), packSize: exact("36"), properties: [] }, prices: [{ price: { amount: exact("135.00"), currency: "USD" }, base: null, valid: { from: null } }] },
      { ...line, item: { name: "Striploin", sellersId: "1001", gtin: "", packQuantity: null, packSize: null, properties: [] }, prices: [{ price: { amount: exact("14.60"), currency: "" }, base: coded("2", "LBR", "lb"), valid: { from: null } }] },
      { ...line, action: "Delete", item: { name: "Carrots", sellersId: "0042", gtin: "", packQuantity: null, packSize: null, properties: [] }, prices: [] },
    ],
  });
  const list = judgeList({ listId: "l", dealerId: "dealer", lines: read.lines, decimal: ".", choices: NO_CHOICES, book, from: "2026-12-01" });
  expect(list.lines.map(({ fate, after }) => [fate, after?.price.amount ?? null, after?.per ?? null])).toEqual([["new-price", "135.00", "pack"], ["new-price", "7.3", "lb"], ["unreadable", null, null]]);
});

describe("whatever stands in it", () => {
  const cell = fc.oneof(
    fc.string({ maxLength: 12 }), fc.string({ unit: "binary", maxLength: 8 }),
    fc.constantFrom("1001", "0042", "B-7", "F1", "7.35", "1.234,56", "€ 7,10 / kg", "-3", "0", "call", "6/#10", "4/5#", "40#", "CS", "KGM", "1.12.2026", "4006381333931", "Price", "Preis", "Code", "Bezeichnung", "=1+1", "\u202E", "\uD800", "9".repeat(80), "1e999", "1/3", "NaN", "__proto__"),
  ).map((text) => ({ text, number: null }));
  const anyTable = fc.array(fc.array(cell, { maxLength: 7 }), { maxLength: 14 }).map((rows): readonly ListTable[] => [{ name: "x", rows }]);
  const anyChoices = fc.anything().map((kept) => readChoices(kept));

  test("nothing throws, every line has one fate, and the counts add up", () => {
    fc.assert(fc.property(anyTable, anyChoices, (tables, choices) => {
      const layout = guessLayout(tables, kitchen);
      expect(readLayout(JSON.parse(JSON.stringify(layout)))).not.toBeNull();
      const list = judged(tables, choices, layout);
      expect(FATES.reduce((sum, fate) => sum + list.counts[fate], 0)).toBe(list.lines.length);
      // Nothing is recorded twice, and nothing without a price.
      expect(new Set(list.changes.map(({ id }) => id)).size).toBe(list.changes.length);
    }), { numRuns: 400 });
  });

  test("the order of lines changes nothing", () => {
    const known = fc.constantFrom("1001;Striploin;7.35;LB", "1001;Striploin;7.35;LB", "1001;S;8.00;LB", "0042;Carrots;20.00;CS", "42;Carrots;21.00;CS", "B-7;Butter;13.32;CS", "F1;Flour;23.00;CS", "9999;Halibut;24.00;LB", "B-7;Butter;140.00;CS", "F1;Flour;call;CS");
    fc.assert(fc.property(fc.array(known, { maxLength: 8 }).chain((lines) => fc.tuple(fc.constant(lines), fc.shuffledSubarray(lines, { minLength: lines.length }))), ([one, other]) => {
      const [a, b] = [judged(table("Code;Name;Price;UOM", ...one)), judged(table("Code;Name;Price;UOM", ...other))];
      const said = ({ changes }: JudgedList) => changes.map(({ id, after }) => `${id} ${JSON.stringify((after as Quote).price)}`).sort();
      expect(said(b)).toEqual(said(a));
      expect(b.counts).toEqual(a.counts);
    }), { numRuns: 300 });
  });
});
