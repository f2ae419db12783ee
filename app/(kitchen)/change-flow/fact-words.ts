/**
 * Facts told in words, line by line: what the record and a stale save lay side by side. Every line has a name and a
 * text; the lines of a list carry the name of what stands in them, so that before and after meet.
 */
import type { Book, Channel, DishRole, FactKind, FactOf, PartValue } from "@/lib/book";
import { kitchenOf, printPack } from "@/lib/book";
import { type Money, type Quantity, type Rate, moneyPlaces, printDay, printMoney, printNumber, printShare, quantityText, rateText, shareText, toDecimal } from "@/lib/measure";
import type { Fact } from "@/lib/store";

export interface FactLine {
  readonly what: string;
  readonly text: string;
}

/** What a kind of fact is called. */
export const KIND_WORD: Readonly<Record<FactKind, string>> = {
  kitchen: "kitchen", dealer: "dealer", item: "item", quote: "price quote", delivery: "delivery", test: "yield test", cut: "cut", spec: "portion spec", recipe: "recipe", dish: "dish", menuPrice: "menu price", sales: "week’s sales",
};

/** Where a fact is looked at; null for facts without a page of their own. */
export function factHref(kind: FactKind, id: string): string | null {
  const at = encodeURIComponent(id);
  switch (kind) {
    case "item": return `/items/${at}`;
    case "test": return `/tests/${at}`;
    case "cut": return `/cuts/${at}`;
    case "spec": return `/specs/${at}`;
    case "recipe": return `/recipes/${at}`;
    case "dish": case "menuPrice": return `/dishes/${at}`;
    case "kitchen": return "/house";
    case "dealer": return `/dealers/${at}`;
    case "delivery": return `/deliveries/${at}`;
    case "quote": case "sales": return null;
  }
}

/** The lines of a fact; empty ones are left out. `book` gives the names of what it refers to. */
export function factLines(kind: FactKind, fact: Fact, book: Book): FactLine[] {
  const words = new Words(book);
  return words.linesOf(kind, fact).filter((line) => line.text !== "");
}

/** A line in which two states of a fact differ; null on the side that does not have it. */
export interface ChangedLine {
  readonly what: string;
  readonly before: string | null;
  readonly after: string | null;
}

/** The lines in which a fact changed, in the order in which it is told. A state is null while the fact is not in the book. */
export function changedLines(kind: FactKind, before: Fact | null, after: Fact | null, book: Book): ChangedLine[] {
  const texts = (fact: Fact | null) => new Map(fact === null ? [] : factLines(kind, fact, book).map(({ what, text }) => [what, text]));
  const was = texts(before);
  const is = texts(after);
  return [...new Set([...was.keys(), ...is.keys()])]
    .map((what) => ({ what, before: was.get(what) ?? null, after: is.get(what) ?? null }))
    .filter((line) => line.before !== line.after);
}

const PART_WORDS: Readonly<Record<DishRole, string>> = { main: "", side: "side", garnish: "garnish", cover: "with every cover", packaging: "packaging" };
const WAY_WORDS: Readonly<Record<Channel, string>> = { any: "", table: "at the table only", away: "taken away only" };

class Words {
  constructor(private readonly book: Book) {}

  private get habits(): FactOf["kitchen"] {
    return kitchenOf(this.book);
  }

  linesOf(kind: FactKind, fact: Fact): FactLine[] {
    switch (kind) {
      case "kitchen": return this.kitchen(fact as FactOf["kitchen"]);
      case "dealer": return this.dealer(fact as FactOf["dealer"]);
      case "item": return this.item(fact as FactOf["item"]);
      case "quote": return this.quote(fact as FactOf["quote"]);
      case "delivery": return this.delivery(fact as FactOf["delivery"]);
      case "test": return this.test(fact as FactOf["test"]);
      case "cut": return this.cut(fact as FactOf["cut"]);
      case "spec": return this.spec(fact as FactOf["spec"]);
      case "recipe": return this.recipe(fact as FactOf["recipe"]);
      case "dish": return this.dish(fact as FactOf["dish"]);
      case "menuPrice": return this.menuPrice(fact as FactOf["menuPrice"]);
      case "sales": return this.sales(fact as FactOf["sales"]);
    }
  }

  private kitchen(fact: FactOf["kitchen"]): FactLine[] {
    return [
      line("Name", fact.name), line("Place", fact.place), line("Currency", fact.currency), line("Writes numbers as", fact.locale), line("Time zone", fact.timeZone),
      line("Measures", fact.measures === "us" ? "pounds and quarts" : "kilos and litres"),
      line("Tax within menu prices", this.share(fact.taxRate)), line("Target", this.share(fact.target)), line("Near", this.share(fact.near)),
      ...fact.sectionTargets.map(({ section, target }) => line(`Target of ${section}`, this.share(target))),
      line("Prices end on", fact.endings.map((ending) => printNumber(toDecimal(ending), this.habits, { places: moneyPlaces(this.habits.currency) })).join(", ")),
      ...(fact.budget === null ? [] : this.budget(fact.budget)),
      ...fact.exchangeRates.map((one) => line(`One ${one.currency}`, `${this.money({ amount: one.rate })} (${[one.source, printDay(one.on, this.habits)].filter(Boolean).join(", ")})`)),
    ];
  }

  private budget(budget: NonNullable<FactOf["kitchen"]["budget"]>): FactLine[] {
    return [
      line("Period", budget.period), line("Guests", printNumber(toDecimal(budget.guests), this.habits)), line("Food cost of the period", this.money(budget.foodCost)),
      line("Everything but food", this.money(budget.nonFoodCost)), line("Profit", this.money(budget.profit)), line("Labour", budget.labour === null ? "" : this.money(budget.labour)),
      line("Food and labour together", budget.primeCostShare === null ? "" : this.share(budget.primeCostShare)),
    ];
  }

  private dealer(fact: FactOf["dealer"]): FactLine[] {
    return [line("Name", fact.name), line("Note", fact.note), line("Least order", fact.minimumOrder === null ? "" : this.money(fact.minimumOrder)), line("How to order", fact.ordering)];
  }

  private item(fact: FactOf["item"]): FactLine[] {
    return [
      line("Name", fact.name), line("Section", fact.section), line("Specification", fact.specification), line("Priced by", fact.kind),
      ...(fact.transfer === null ? [line("Bought from", fact.dealerId === null ? "whoever quoted last" : this.name("dealer", fact.dealerId))] : this.transfer(fact.transfer)),
      line("Density", fact.density === null ? "" : `${fact.density.gramsPerMl} g in a mL, ${fact.density.source}`),
      line("One weighs", fact.eachWeight === null ? "" : `${this.quantity(fact.eachWeight.weight)}, ${fact.eachWeight.source}`),
      ...this.label(fact.allergens),
    ];
  }

  private transfer({ price, on, destination, use }: NonNullable<FactOf["item"]["transfer"]>): FactLine[] {
    const by = price.kind === "item"
      ? `what ${this.name("item", price.itemId)} costs${price.less === null ? "" : `, less ${this.rate(price.less)}`}`
      : `${this.rate(price.rate)}, ${price.kind === "market" ? "by the market" : "fixed"}: ${price.source}`;
    return [
      line("Transfer price", `${by}, ${printDay(on, this.habits)}`), line("Goes into", destination),
      line("Used", use === null ? "" : `${this.quantity(use.used)} of ${this.quantity(use.produced)}${use.over === "" ? "" : `, ${use.over}`}`),
    ];
  }

  private delivery(fact: FactOf["delivery"]): FactLine[] {
    const seen = new Map<string, number>();
    return [
      line("Dealer", this.name("dealer", fact.dealerId)), line(fact.kind === "credit" ? "Credit memo" : "Invoice", fact.number === "" ? "without a number" : fact.number), line("Of", printDay(fact.on, this.habits)),
      ...fact.lines.map((one) => {
        const name = this.name("item", one.itemId);
        const times = (seen.get(name) ?? 0) + 1;
        seen.set(name, times);
        return line(times === 1 ? name : `${name} (${times})`, [
          one.packs === null ? "" : `${one.packs} packs`, `billed ${this.quantity(one.billed)}`, `at ${one.per === "pack" ? `${this.money(one.price)} a pack` : this.rate({ amount: one.price.amount, per: one.per })}`,
          one.amount === null ? "" : this.money(one.amount), one.received === null ? "" : `received ${this.quantity(one.received)}`, one.lot === "" ? "" : `lot ${one.lot}`,
          one.useBy === null ? "" : `use by ${printDay(one.useBy, this.habits)}`, one.note,
        ].filter(Boolean).join(", "));
      }),
      line("Note", fact.note),
    ];
  }

  private quote(fact: FactOf["quote"]): FactLine[] {
    const asked = fact.currency === null ? this.habits : { ...this.habits, currency: fact.currency };
    return [
      line("Item", this.name("item", fact.itemId)), line("Dealer", this.name("dealer", fact.dealerId)), line("Pack", printPack(fact.pack, this.habits)),
      line("Price", fact.per === "pack" ? `${printMoney(toDecimal(fact.price.amount), asked)} a pack` : rateText({ amount: fact.price.amount, per: fact.per }, asked)),
      ...fact.landed.map(({ name, way, of }) => line(name, `${way === "adds" ? "adds" : "takes off"} ${of.kind === "share" ? this.share(of.share) : of.per === "pack" ? `${printMoney(toDecimal(of.amount.amount), asked)} a pack` : rateText({ amount: of.amount.amount, per: of.per }, asked)}`)),
      line("Basis", fact.until === null ? fact.basis : `${fact.basis} to ${printDay(fact.until, this.habits)}`), line("Code", fact.code), line("GTIN", fact.gtin),
    ];
  }

  private test(fact: FactOf["test"]): FactLine[] {
    return [
      line("Kind", fact.kind), line("Of", this.name(fact.of.kind, fact.of.id)), line("Dealer", fact.dealerId === null ? "" : this.name("dealer", fact.dealerId)),
      line("Day", printDay(fact.on, this.habits)), line("Cut by", fact.cutter), line("Pieces", fact.pieces), line("Billed weight", this.quantity(fact.billed)),
      line("Price that day", fact.price === null ? "" : this.rate(fact.price)),
      ...fact.parts.map((part) => line(`${part.name}, ${part.role}`, [this.quantity(part.weight), part.value === null ? "" : this.value(part.value)].filter(Boolean).join(" at "))),
      ...(fact.cooking === null ? [] : [
        line("Went in to the heat", this.quantity(fact.cooking.trimmed)), line("Came out", this.quantity(fact.cooking.cooked)),
        line("Cooked", [fact.cooking.method, fact.cooking.temperature, fact.cooking.endPoint, fact.cooking.time].filter(Boolean).join(", ")),
      ]),
      line("Scale step", fact.scaleStep === null ? "" : this.quantity(fact.scaleStep)), line("Note", fact.note),
    ];
  }

  private cut(fact: FactOf["cut"]): FactLine[] {
    return [
      line("Name", fact.name), line("Of", this.name(fact.of.kind, fact.of.id)),
      line("Adopted tests", fact.testIds.length === 0 ? "none yet" : fact.testIds.map((id) => this.testName(id)).join("; ")),
      line("Left out", fact.leftOut.map(({ testId, reason }) => `${this.testName(testId)}: ${reason}`).join("; ")),
      line("Borrowed yield", fact.borrowed === null ? "" : `${printShare(toDecimal(fact.borrowed.share), this.habits)} %, ${fact.borrowed.what} (${fact.borrowed.source}), taken up ${printDay(fact.borrowed.on, this.habits)}`),
      line("Part", fact.partKey), line("Specification", fact.specification), line("Repriced", fact.repricing ?? "by default"), line("Joint cost", fact.joint),
    ];
  }

  private spec(fact: FactOf["spec"]): FactLine[] {
    return [
      line("Name", fact.name), line("Cut", this.name("cut", fact.cutId)), line("Size", this.quantity(fact.size)),
      line("Tolerance", fact.tolerance === null ? "" : this.quantity(fact.tolerance)), line("Thickness", fact.thickness), line("Trim", fact.trim),
      line("Costed", fact.costing === "whole" ? "by whole portions a piece" : "by weight"), line("End worth", fact.endValue === null ? "" : this.rate(fact.endValue)),
      line("Pieces to a portion", fact.pieces ?? ""),
      line("Mean weight as cut", fact.meanCut === null ? "" : `${this.quantity(fact.meanCut.weight)}${fact.meanCut.count === null ? "" : `, ${fact.meanCut.count} weighed`}, ${printDay(fact.meanCut.on, this.habits)}`),
    ];
  }

  private recipe(fact: FactOf["recipe"]): FactLine[] {
    return [
      line("Name", fact.name), line("Section", fact.section), line("Yield", fact.yields.map((amount) => this.quantity(amount)).join(", ")),
      ...this.lines(fact.lines), ...this.allowances(fact.allowances, "a batch"), line("Method", fact.method),
      ...fact.steps.map((step, index) => line(`Step ${index + 1}`, `${step.text}${step.critical === null ? "" : ` (${step.critical.degrees} °${step.critical.scale}${step.critical.held === "" ? "" : `, ${step.critical.held}`})`}`)),
    ];
  }

  /** Not known is a line of its own, since it is not the same as none. */
  private label(allergens: FactOf["item"]["allergens"]): FactLine[] {
    if (allergens === null) return [line("Allergens", "not known: nobody has read the label")];
    return [
      line("Allergens", `contains ${allergens.contains.join(", ") || "none named"}`),
      line("Traces", allergens.mayContain.length === 0 ? "none named" : `may contain ${allergens.mayContain.join(", ")}`),
      line("Label", `${allergens.source}, ${printDay(allergens.on, this.habits)}`),
    ];
  }

  private dish(fact: FactOf["dish"]): FactLine[] {
    return [
      line("Name", fact.name), line("Section", fact.section),
      ...this.lines(fact.lines, (one, at) => [PART_WORDS[fact.lines[at]?.role ?? "main"], WAY_WORDS[fact.lines[at]?.channel ?? "any"]]),
      ...this.allowances(fact.allowances, "a plate"), line("Note", fact.note),
    ];
  }

  private menuPrice(fact: FactOf["menuPrice"]): FactLine[] {
    return [
      line("Menu price", this.money(fact.gross)),
      line("Tax within it", fact.taxRate === null ? "the kitchen’s" : this.share(fact.taxRate)),
      line("Target", fact.target === null ? "its section’s, or the kitchen’s" : this.share(fact.target)),
    ];
  }

  private sales(fact: FactOf["sales"]): FactLine[] {
    return fact.sold.map(({ dishId, count }) => line(this.name("dish", dishId), count));
  }

  private lines(lines: FactOf["recipe"]["lines"], more: (line: FactOf["recipe"]["lines"][number], at: number) => readonly string[] = () => []): FactLine[] {
    const seen = new Map<string, number>();
    return lines.map((one, at) => {
      const name = this.name(one.of.kind, one.of.id);
      const times = (seen.get(name) ?? 0) + 1;
      seen.set(name, times);
      return line(times === 1 ? name : `${name} (${times})`, [this.quantity(one.quantity), ...more(one, at), one.note].filter(Boolean).join(", "));
    });
  }

  private allowances(allowances: FactOf["dish"]["allowances"], of: string): FactLine[] {
    return allowances.map((one) => line(`Allowance: ${one.name}`, one.kind === "money" ? `${this.money(one.amount)} ${of}` : `${this.share(one.share)} ${one.basis === "on-cost" ? "on the cost of the lines" : "of the whole"}`));
  }

  private testName(id: string): string {
    const test = this.book.shelves.test.get(id);
    return test ? `${test.kind} test of ${printDay(test.on, this.habits)}` : "a test no longer in the book";
  }

  private value(value: PartValue): string {
    return value.kind === "typed" ? this.rate(value.rate) : `the cost of ${this.name(value.kind, value.id)}`;
  }

  private name(kind: "item" | "cut" | "spec" | "recipe" | "dealer" | "dish", id: string): string {
    return this.book.shelves[kind].get(id)?.name ?? `a ${KIND_WORD[kind]} no longer in the book`;
  }

  private quantity(amount: Quantity): string {
    return quantityText(amount, this.habits);
  }

  private money(amount: Money): string {
    return printMoney(toDecimal(amount.amount), this.habits);
  }

  private rate(rate: Rate): string {
    return rateText(rate, this.habits);
  }

  private share(value: FactOf["kitchen"]["target"]): string {
    return shareText(value, this.habits);
  }
}

function line(what: string, text: string): FactLine {
  return { what, text };
}
