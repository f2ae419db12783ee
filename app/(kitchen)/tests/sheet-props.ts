/** What the sheet of a test starts with: choices from the book, the last test's parts, or the test to be corrected. */
import { type Book, type Change, type Cut, type FactOf, type Origin, type PartValue, type TestKind, type TestPart, type YieldTest, boughtFrom, costingQuote, cutsOf, quoteRate } from "@/lib/book";
import { type Cascade, costOf } from "@/lib/cascade";
import { type Exact, type Rate, baseFactor, kindOf, printDay, ratio } from "@/lib/measure";
import { borrowedText } from "@/components/figure/Borrowed";
import { missingText } from "@/components/figure/Missing";
import type { Choice, ChoiceGroup, Values } from "@/components/form";
import type { CutChoice } from "@/components/yield-test/AdoptFields";
import type { SheetStart } from "@/components/yield-test/TestSheet";
import { printNodeCost } from "../change-flow/ripple-view";

const byName = (a: Choice, b: Choice): number => (a.label < b.label ? -1 : a.label > b.label ? 1 : 0);

export function originChoices(book: Book): readonly ChoiceGroup[] {
  return [...itemGroups(book), { title: "Cuts", choices: [...book.shelves.cut.values()].map((cut) => ({ value: `cut:${cut.id}`, label: cut.name })).sort(byName) }]
    .filter((group) => group.choices.length > 0);
}

export function worthChoices(book: Book): readonly ChoiceGroup[] {
  return [...itemGroups(book), { title: "Recipes", choices: [...book.shelves.recipe.values()].map((recipe) => ({ value: `recipe:${recipe.id}`, label: recipe.name })).sort(byName) }]
    .filter((group) => group.choices.length > 0);
}

function itemGroups(book: Book): readonly ChoiceGroup[] {
  const sections = new Map<string, Choice[]>();
  for (const item of book.shelves.item.values()) {
    const title = item.section === "" ? "Items" : item.section;
    sections.set(title, [...(sections.get(title) ?? []), { value: `item:${item.id}`, label: item.name }]);
  }
  return [...sections].sort(([a], [b]) => (a < b ? -1 : 1)).map(([title, choices]) => ({ title, choices: choices.sort(byName) }));
}

export function dealerChoices(book: Book): readonly Choice[] {
  return [...book.shelves.dealer.values()].map((dealer) => ({ value: dealer.id, label: dealer.name })).sort(byName);
}

/** Cuts that a test can stand behind; of one origin where that is settled. */
export function cutChoices(book: Book, of: Origin | null): readonly CutChoice[] {
  return (of === null ? [...book.shelves.cut.values()] : cutsOf(book, of))
    .map((cut) => ({ value: cut.id, label: cut.name, of: `${cut.of.kind}:${cut.of.id}`, tests: cut.testIds.length })).sort(byName);
}

/** The facts that a sheet with an adoption may change: the test, and any cut that it could stand behind. */
export function factsAdopted(book: Book, testId: string, of: Origin | null): readonly Pick<Change, "kind" | "id">[] {
  return [{ kind: "test", id: testId }, ...cutChoices(book, of).map((cut) => ({ kind: "cut" as const, id: cut.value }))];
}

/** In a book of more things than this, only those that were tested before come with what their sheet starts with. */
const MOST_STARTS = 1_000;

/** What a sheet starts with for each thing it can be made from; in a large book for those tested before, and for the one asked for. */
export function sheetStarts(cascade: Cascade, kind: TestKind, kitchen: FactOf["kitchen"], asked: string | null = null): Readonly<Record<string, SheetStart>> {
  const { book } = cascade;
  const unit = kitchen.measures === "us" ? "lb" : "kg";
  const last = new Map<string, YieldTest>();
  for (const test of book.shelves.test.values()) {
    const key = `${test.of.kind}:${test.of.id}`;
    if (test.kind === kind && test.on >= (last.get(key)?.on ?? "")) last.set(key, test);
  }
  const starts: Record<string, SheetStart> = {};
  const start = (key: string, dealerId: string, price: string, carriesIn: string | null): void => {
    const test = last.get(key);
    starts[key] = {
      dealerId, price, carriesIn, scaleStep: test?.scaleStep ? quantityInput(test.scaleStep) : "",
      rows: test === undefined ? null : startRows(test), lastOn: test === undefined ? null : printDay(test.on, kitchen),
    };
  };
  const small = book.shelves.item.size + book.shelves.cut.size <= MOST_STARTS;
  for (const item of book.shelves.item.values()) if (small || last.has(`item:${item.id}`) || asked === `item:${item.id}`) start(`item:${item.id}`, boughtFrom(book, item.id) ?? "", priceText(book, item.id, unit), null);
  for (const cut of book.shelves.cut.values()) if (small || last.has(`cut:${cut.id}`) || asked === `cut:${cut.id}`) start(`cut:${cut.id}`, "", "", carriesIn(cascade, cut, kitchen));
  return starts;
}

const MONEY_FIELDS = ["worth", "worthOf", "marketValue", "furtherCost"];

/** A part's row as somebody sees it who sees no money. */
export function rowWithoutMoney(row: Values): Values {
  return Object.fromEntries(Object.entries(row).filter(([name]) => !MONEY_FIELDS.includes(name)));
}

export function startsWithoutMoney(starts: Readonly<Record<string, SheetStart>>): Readonly<Record<string, SheetStart>> {
  return Object.fromEntries(Object.entries(starts).map(([key, start]) => [key, { ...start, price: "", carriesIn: null, rows: start.rows?.map(rowWithoutMoney) ?? null }]));
}

/** What a cut brings into a test of it: its net cost, after by-products, never the invoice price. */
function carriesIn(cascade: Cascade, cut: Cut, kitchen: FactOf["kitchen"]): string {
  const cost = costOf(cascade, { kind: "cut", id: cut.id });
  if (cost === null || cost.missing.length > 0) return `The net cost of ${cut.name} is carried in, once it is known: it still lacks ${cost === null ? "a yield test" : missingText(cost.missing)}.`;
  const { figure, unit } = printNodeCost(cost, kitchen);
  return `Carries in the net cost of ${cut.name}, after its by-products: today ${figure} ${unit}${cost.borrowed.length === 0 ? "" : `, on a borrowed yield of ${borrowedText(cost.borrowed)}`}.`;
}

/** The dealer’s price now per pound or kilo, for the field of that day's price; "" where it is not known. */
export function priceText(book: Book, itemId: string, unit: "lb" | "kg"): string {
  const quote = costingQuote(book, itemId);
  if (quote === null) return "";
  if (quote.per === unit && quote.currency === null && quote.landed.length === 0) return quote.price.typed ?? quote.price.amount;
  if (kindOf(quote.per === "pack" ? quote.pack.size.unit : quote.per) !== "mass") return "";
  const rate = quoteRate(book, quote);
  return rate === null ? "" : ratio.toDecimal(ratio.mul(rate, ratio.fromExact(baseFactor(unit)))).toDecimalPlaces(4).toString();
}

/** The parts of the last test, without their weights. */
function startRows(last: YieldTest): readonly Values[] {
  return last.parts.map((part) => ({ ...partValues(part), weight: "", pieces: "" }));
}

export function partValues(part: TestPart): Values {
  return {
    key: part.key, name: part.name, role: part.role, weight: quantityInput(part.weight), ...worthValues(part.value),
    marketValue: part.marketValue === null ? "" : rateInput(part.marketValue), furtherCost: part.furtherCost === null ? "" : rateInput(part.furtherCost),
    pieces: part.pieces.map(quantityInput).join("; "),
  };
}

function worthValues(value: PartValue | null): Values {
  if (value === null) return {};
  return value.kind === "typed" ? { worth: rateInput(value.rate) } : { worthOf: `${value.kind}:${value.id}` };
}

/** A recorded quantity as one would type it. */
export function quantityInput(quantity: { readonly amount: Exact; readonly unit: string; readonly typed?: string | undefined }): string {
  return quantity.typed ?? `${quantity.amount} ${quantity.unit}`;
}

export function rateInput(rate: Rate): string {
  return rate.typed ?? `${rate.amount} / ${rate.per}`;
}

/** A recorded test as the fields of its sheet. */
export function testValues(test: YieldTest): Values {
  return {
    of: `${test.of.kind}:${test.of.id}`, dealerId: test.dealerId ?? "", on: test.on, cutter: test.cutter, pieces: test.pieces, billed: quantityInput(test.billed),
    price: test.price === null ? "" : rateInput(test.price), scaleStep: test.scaleStep === null ? "" : quantityInput(test.scaleStep), note: test.note,
    ...(test.cooking === null ? {} : {
      "cooking.method": test.cooking.method, "cooking.temperature": test.cooking.temperature, "cooking.endPoint": test.cooking.endPoint, "cooking.time": test.cooking.time,
      "cooking.trimmed": quantityInput(test.cooking.trimmed), "cooking.cooked": quantityInput(test.cooking.cooked),
    }),
  };
}
