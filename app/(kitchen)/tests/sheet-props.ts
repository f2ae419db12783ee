/** What the sheet of a test starts with: choices from the book, the last test's parts, or the test to be corrected. */
import { type Book, type Origin, type PartValue, type TestKind, type TestPart, type YieldTest, costingQuote, quoteRate } from "@/lib/book";
import { type Exact, type Rate, baseFactor, kindOf, ratio } from "@/lib/measure";
import type { Choice, ChoiceGroup, Values } from "@/components/form";
import { KINDS } from "@/components/yield-test/kinds";

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

/** Cuts that a test of this origin can stand behind. */
export function cutChoices(book: Book, of: Origin | null): readonly Choice[] {
  return [...book.shelves.cut.values()]
    .filter((cut) => of === null || (cut.of.kind === of.kind && cut.of.id === of.id))
    .map((cut) => ({ value: cut.id, label: cut.name })).sort(byName);
}

/** The newest recorded test of an origin. */
export function lastTestOf(book: Book, of: Origin, kind: TestKind): YieldTest | null {
  let last: YieldTest | null = null;
  for (const test of book.shelves.test.values()) {
    if (test.kind === kind && test.of.kind === of.kind && test.of.id === of.id && (last === null || test.on >= last.on)) last = test;
  }
  return last;
}

/** The dealer's price now per pound or kilo, for the field of that day's price; "" where it is not known. */
export function priceText(book: Book, itemId: string, unit: "lb" | "kg"): string {
  const quote = costingQuote(book, itemId);
  if (quote === null) return "";
  if (quote.per === unit) return quote.price.typed ?? quote.price.amount;
  if (kindOf(quote.per === "pack" ? quote.pack.size.unit : quote.per) !== "mass") return "";
  return ratio.toDecimal(ratio.mul(quoteRate(quote), ratio.fromExact(baseFactor(unit)))).toDecimalPlaces(4).toString();
}

/** The parts a new sheet starts with: those of the last test without their weights, else the usual ones of the kind. */
export function startRows(kind: TestKind, last: YieldTest | null): readonly Values[] {
  if (last === null) return KINDS[kind].parts.map((part) => ({ name: part.name, role: part.role }));
  return last.parts.map((part) => ({ ...partValues(part), weight: "", pieces: "" }));
}

export function partValues(part: TestPart): Values {
  return {
    key: part.key, name: part.name, role: part.role, weight: quantityInput(part.weight), ...worthValues(part.value),
    marketValue: part.marketValue === null ? "" : rateInput(part.marketValue), pieces: part.pieces.map(quantityInput).join("; "),
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
