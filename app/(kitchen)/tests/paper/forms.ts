/**
 * What stands on the form of a yield test: on a filled one what was recorded and comes of it, on a blank one what is
 * known before anything is on the scale. The weights on the scale and the tubs come from the sheet at the block, where
 * there was one and it still says what was recorded.
 */
import { type BlockSheet, type Book, type Origin, type TestKind, type TestPart, type Weighing, type YieldTest, boughtFrom, factName } from "@/lib/book";
import { type Quantity, SCALE_READINGS, UNITS, customaryUnit, netWeight, printDay, printQuantity, quantityText, sameWeight } from "@/lib/measure";
import { paperCaution } from "@/components/paper/cautions";
import type { FormLine, FormRow, YieldForm } from "@/components/paper/yield-form";
import { KINDS, ROLE_WORDS } from "@/components/yield-test/kinds";
import type { ResultRow } from "@/components/yield-test/result-view";
import { currencySign } from "../../change-flow/ripple-view";
import type { OpenKitchen } from "../../open-kitchen";
import { resultView } from "../result-view";
import { quantityInput, rateInput } from "../sheet-props";

type Kitchen = OpenKitchen["kitchen"];

const line = (label: string, value = ""): FormLine => ({ label, value });

/** Who has it printed, and when: on every form. */
function printedBy({ live, kitchen, visitor }: OpenKitchen): string {
  return `Printed ${printDay(live.today, kitchen)} by ${visitor.name}`;
}

/** A recorded test. `recorded` says who recorded it when; `sheet` is how it was weighed at the block, null where it was not. */
export function filledForm(open: OpenKitchen, test: YieldTest, recorded: string, sheet: BlockSheet | null): YieldForm {
  const { live, kitchen, may } = open;
  const { book, cascade } = live;
  const seesMoney = may("see money");
  const view = resultView(cascade, test, kitchen, seesMoney);
  const weighed = readingsOf(test, sheet, kitchen);
  const rows = view?.rows.map((row) => filledRow(row, test, weighed)) ?? test.parts.map((part) => bareRow(part, kitchen));
  const { cooking } = test;
  const item = test.of.kind === "item" ? book.shelves.item.get(test.of.id) : undefined;
  return {
    title: KINDS[test.kind].name, of: factName(book, test.of.kind, test.of.id), kitchen: kitchen.name,
    lines: [
      line("Day", printDay(test.on, kitchen)), line("Cut by", test.cutter), line("Pieces worked", test.pieces),
      line(KINDS[test.kind].billed, quantityText(test.billed, kitchen)), line("Dealer", dealerName(book, test.dealerId)),
      ...(seesMoney && test.price !== null ? [line("Dealer’s price", `${currencySign(kitchen)} ${rateInput(test.price)}`)] : []),
      line("Scale reads", [sheet?.about?.scale ?? "", test.scaleStep === null ? "" : `to ${quantityText(test.scaleStep, kitchen)}`].filter((word) => word !== "").join(", ")),
      ...(cooking === null ? [] : [
        line("Into the heat", quantityText(cooking.trimmed, kitchen)), line("Out of the heat", quantityText(cooking.cooked, kitchen)),
        line("Method", cooking.method), line("Temperature", cooking.temperature), line("End point", cooking.endPoint), line("Time", cooking.time),
      ]),
      ...(item === undefined || item.specification === "" ? [] : [{ ...line("Grade and specification", item.specification), wide: true }]),
    ].filter(({ value }) => value !== ""),
    scales: [], rows, scaleColumns: weighed.size > 0,
    money: view === null || view.valueHead === "" ? null : { rate: view.rateHead, value: view.valueHead },
    pieces: test.parts.filter((part) => part.pieces.length > 0).map((part) => line(`Pieces of ${part.name}`, part.pieces.map((piece) => quantityText(piece, kitchen)).join("; "))),
    boxes: 0, note: test.note, noteLines: 0, caution: paperCaution(test.kind), recorded, printed: printedBy(open), blank: false,
  };
}

function filledRow(row: ResultRow, test: YieldTest, weighed: ReadonlyMap<string, { readonly gross: string; readonly tub: string }>): FormRow {
  const mains = test.parts.filter((part) => part.role === "main");
  const [only] = mains;
  // A single usable part stands in the row of what is usable.
  const key = row.key === "billed" ? "@billed" : row.key === "usable" ? (mains.length === 1 && only !== undefined ? only.key : "") : row.key;
  const part = test.parts.find((one) => one.key === row.key);
  const what = row.key === "billed" ? "the whole" : row.key === "usable" ? ROLE_WORDS.main : part === undefined ? "left to account for, by difference" : ROLE_WORDS[part.role];
  const { gross, tub } = weighed.get(key) ?? { gross: "", tub: "" };
  return { key: row.key, name: row.name, what, gross, tub, net: row.weight, share: row.share, rate: row.rate, value: row.value, sum: row.rule === "sum" };
}

/** Where the sheet gives no figures: what was weighed, and nothing that follows from it. */
function bareRow(part: TestPart, kitchen: Kitchen): FormRow {
  return { key: part.key, name: part.name, what: ROLE_WORDS[part.role], gross: "", tub: "", net: printQuantity(part.weight, kitchen), share: "", rate: "", value: "" };
}

/** What the scale showed and what the tubs weighed, of each part whose readings still come to what was recorded. */
function readingsOf(test: YieldTest, sheet: BlockSheet | null, kitchen: Kitchen): ReadonlyMap<string, { readonly gross: string; readonly tub: string }> {
  if (sheet === null) return new Map();
  const recorded = new Map<string, Quantity>([["@billed", test.billed], ...test.parts.map((part) => [part.key, part.weight] as const)]);
  const told = (weighing: Weighing): readonly [string, { gross: string; tub: string }][] => {
    const net = netWeight(weighing.readings, kitchen);
    const was = recorded.get(weighing.key);
    if (!net.ok || was === undefined || !sameWeight(net.value, was)) return [];
    return [[weighing.key, { gross: added(weighing.readings.map(({ gross }) => gross), kitchen), tub: added(weighing.readings.flatMap(({ tare }) => tare ?? []), kitchen) }]];
  };
  return new Map([sheet.wholes["@billed"], ...sheet.parts].flatMap(told));
}

function added(weights: readonly Quantity[], kitchen: Kitchen): string {
  const sum = netWeight(weights.map((gross) => ({ gross, tare: null })), kitchen);
  return sum.ok ? quantityText(sum.value, kitchen) : "";
}

/** So many rows of parts a sheet has room for; beyond that the boxes for pieces and lines for a note make some. */
const FULL = 11;
const FEWEST_ROWS = 9;

export interface BlankOf {
  readonly kind: TestKind;
  /** What will be worked; null where that is to be written. */
  readonly of: Origin | null;
  readonly parts: readonly Pick<TestPart, "name" | "role">[];
  /** The last test of the same kind of it. */
  readonly last: YieldTest | undefined;
}

/** A form for the clipboard. */
export function blankForm(open: OpenKitchen, { kind, of, parts, last }: BlankOf): YieldForm {
  const { live, kitchen, may } = open;
  const { book } = live;
  const seesMoney = may("see money");
  const currency = currencySign(kitchen);
  const unit = UNITS[customaryUnit("mass", kitchen)].one;
  const item = of?.kind === "item" ? book.shelves.item.get(of.id) : undefined;
  const dealerId = of?.kind !== "item" ? null : boughtFrom(book, of.id);
  const worth = (name: string): string => {
    const value = last?.parts.find((part) => part.name === name)?.value ?? null;
    return !seesMoney || value === null || value.kind !== "typed" ? "" : rateInput(value.rate);
  };
  const cooking = kind === "cooking";
  const spare = Math.max(1, Math.min(FULL - (cooking ? 2 : 0), Math.max(FEWEST_ROWS, parts.length + 3)) - parts.length);
  const crowded = parts.length + spare > FULL - (cooking ? 2 : 0);
  const row = (key: string, name: string, what: string, more: Partial<FormRow> = {}): FormRow => ({ key, name, what, gross: "", tub: "", net: [], share: "", rate: "", value: "", ...more });
  return {
    title: KINDS[kind].name, of: of === null ? "" : factName(book, of.kind, of.id), kitchen: kitchen.name,
    lines: [
      line("Day"), line("Cut by"), line("Pieces worked"),
      line("Dealer", dealerName(book, dealerId)), line("Lot or pack date"), ...(seesMoney && of?.kind !== "cut" ? [line(`Dealer’s price, ${currency} a ${unit}`)] : []),
      { ...line("Grade, brand", item?.specification ?? ""), wide: item !== undefined && item.specification !== "" },
      ...(cooking ? [line("Into the heat"), line("Out of the heat"), line("Method"), line("Temperature"), line("End point"), line("Time")] : []),
    ],
    scales: SCALE_READINGS,
    rows: [
      row("billed", KINDS[kind].billed, "the whole", { share: "100" }),
      ...parts.map((part, place) => row(`part ${place}`, part.name, ROLE_WORDS[part.role], { rate: worth(part.name) })),
      ...Array.from({ length: spare }, (_, place) => row(`spare ${place}`, "", "")),
      row("added", "All parts added", ""),
      row("left", "Left to account for", "whole less parts", { sum: true }),
    ],
    scaleColumns: true,
    money: seesMoney ? { rate: `Worth, ${currency} a ${unit}`, value: `Value, ${currency}` } : null,
    pieces: [], boxes: crowded ? 8 : 16, note: "", noteLines: crowded ? 1 : 2, caution: paperCaution(kind),
    recorded: [line("Weighed by"), line("Recorded in the book by"), line("On")],
    printed: `${printedBy(open)}${last === undefined ? "" : ` · parts as in the test of ${printDay(last.on, kitchen)}`}${last?.scaleStep ? ` · scale then to ${quantityInput(last.scaleStep)}` : ""}`, blank: true,
  };
}

function dealerName(book: Book, dealerId: string | null): string {
  return dealerId === null ? "" : book.shelves.dealer.get(dealerId)?.name ?? "";
}
