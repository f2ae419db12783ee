/**
 * What the book knows of cutting a portion in the house, for make-or-buy.ts: as purchased for a portion, by-products at what
 * they are worth today, how many portions a piece gives; and what a portion costs that is bought cut.
 */
import { type Book, type PortionSpec, crossKinds, cutWeight } from "@/lib/book";
import { type Cascade, type Missing, atPrice, adoptedTests, costExactly, costOf, creditsOfCut, portionLine, priceLine } from "@/lib/cascade";
import { type Quantity, type Ratio, kindOf, ratio } from "@/lib/measure";
import { lastWeeks } from "@/lib/menu";
import { quantityInBase, rateInBase, yieldLine } from "@/lib/yield";
import type { Rate } from "@/lib/measure";
import { platesAWeek, weekOf } from "./by-product-week";
import type { Made } from "./make-or-buy";

export type MadeHere =
  | { readonly ok: true; readonly made: Made; readonly itemId: string }
  /** no-test: a borrowed yield, or none, tells nothing of pieces. no-size: no piece holds the portion. missing: something has no price. */
  | { readonly ok: false; readonly why: "no-test" | "no-size" | "missing"; readonly missing: readonly Missing[] };

export function madeHere(cascade: Cascade, spec: PortionSpec): MadeHere {
  const { book } = cascade;
  const cut = book.shelves.cut.get(spec.cutId);
  const tests = cut === undefined ? null : adoptedTests(book, cut);
  const line = cut === undefined || tests === null || tests.length === 0 ? null : yieldLine(tests, cut.partKey, cut.joint);
  const credits = cut === undefined ? null : creditsOfCut(cascade, cut);
  const itemId = cut === undefined ? null : rootOf(book, cut.id);
  if (cut === undefined || tests === null || line === null || !line.ok || credits === null || itemId === null) return { ok: false, why: "no-test", missing: [] };
  const portion = portionLine(book, spec, cutWeight(spec));
  if (portion === null) return { ok: false, why: "no-size", missing: [] };
  const missing = costOf(cascade, { kind: "cut", id: cut.id })?.missing ?? [];
  const worths = credits.credits.flatMap(({ worth }) => (worth === null ? [] : [worth]));
  if (missing.length > 0 || worths.length < credits.credits.length) return { ok: false, why: "missing", missing };
  const origin = priceLine(cascade, cut.of, itemId);
  const price = costExactly(cascade, { kind: "item", id: itemId });
  // perOrigin is told in the sheet's own measure, which the origin's may not be.
  const through = throughOrigin(book, cut.of, line.value.measure);
  if (through === null) return { ok: false, why: "no-test", missing: [] };
  const ofOrigin = ratio.mul(ratio.mul(portion.usable, line.value.perOrigin), through);
  const worked = ratio.sum(tests.map((test) => ratio.fromExact(test.pieces)));
  const usable = ratio.sum(tests.flatMap((test) => test.parts.filter(({ key, role }) => key === cut.partKey && role === "main").map(({ weight }) => quantityInBase(weight))));
  return {
    ok: true, itemId,
    made: {
      asPurchased: ratio.mul(ofOrigin, origin.slope), rest: ratio.mul(ofOrigin, origin.rest), price,
      credits: credits.credits.map(({ name, perUsable, worth, credited, value }) => {
        const counted = value?.kind === "item" && (book.shelves.item.get(value.id)?.transfer?.use ?? null) !== null;
        const all = worth ?? ratio.ZERO;
        // The worth that is credited is capped by use already: it is told here as the whole worth and the used share.
        return { name, amount: ratio.mul(portion.usable, perUsable), worth: counted && ratio.sign(credited) > 0 ? ratio.div(all, credited) : all, counted: counted ? credited : null };
      }),
      endCredit: ratio.mul(portion.end, portion.endValue),
      perPiece: portion.portions === null ? ratio.div(ratio.div(usable, worked), portion.usable) : ratio.div(ratio.of(portion.portions), worked),
      yield: line.value.yield, gains: tests.some(({ kind }) => kind === "hydration"),
    },
  };
}

function throughOrigin(book: Book, of: { readonly kind: "item" | "cut"; readonly id: string }, measure: "mass" | "volume" | "count"): Ratio | null {
  if (of.kind === "cut") return ratio.ONE;
  const item = book.shelves.item.get(of.id);
  if (item === undefined) return null;
  const one = crossKinds(item, { amount: ratio.toExact(ratio.ONE), unit: measure === "mass" ? "g" : measure === "volume" ? "mL" : "each" }, item.kind);
  return typeof one === "string" ? null : one;
}

/** The item that a cut comes off, through whatever cuts stand between. */
function rootOf(book: Book, cutId: string): string | null {
  let id = cutId;
  for (let steps = 0; steps <= book.shelves.cut.size; steps += 1) {
    const of = book.shelves.cut.get(id)?.of;
    if (of === undefined) return null;
    if (of.kind === "item") return of.id;
    id = of.id;
  }
  return null;
}

export type BoughtPortion =
  | { readonly ok: true; readonly perPortion: Ratio }
  /** kind: it is priced in a measure that a portion of this size cannot be told in. */
  | { readonly ok: false; readonly why: "kind" | "price"; readonly missing: readonly Missing[] };

/** What one portion costs that is bought cut: by weight price × size; by count as many as make a portion. `trimmed`: the share that is still thrown. */
export function boughtPortion(cascade: Cascade, itemId: string, spec: PortionSpec, trimmed: Ratio): BoughtPortion {
  const ref = { kind: "item", id: itemId } as const;
  const item = cascade.book.shelves.item.get(itemId);
  const cost = costOf(cascade, ref);
  if (item === undefined || cost === null || cost.missing.length > 0) return { ok: false, why: "price", missing: cost?.missing ?? [] };
  const takes = item.kind === "count" ? piecesOf(spec) : quantityTaken(spec.size, item.kind);
  return takes === null ? { ok: false, why: "kind", missing: [] } : { ok: true, perPortion: ratio.div(ratio.mul(costExactly(cascade, ref), takes), ratio.sub(ratio.ONE, trimmed)) };
}

/** The same of a price that somebody types: for a portion, for one of a weight. */
export function typedPortion(rate: Rate, spec: PortionSpec, trimmed: Ratio): BoughtPortion {
  const kind = kindOf(rate.per);
  const takes = rate.per === "portion" ? ratio.ONE : kind === "count" ? piecesOf(spec) : quantityTaken(spec.size, kind);
  return takes === null ? { ok: false, why: "kind", missing: [] } : { ok: true, perPortion: ratio.div(ratio.mul(rateInBase(rate), takes), ratio.sub(ratio.ONE, trimmed)) };
}

function piecesOf(spec: PortionSpec): Ratio {
  return spec.pieces === null ? ratio.ONE : ratio.fromExact(spec.pieces);
}

function quantityTaken(size: Quantity, kind: ReturnType<typeof kindOf>): Ratio | null {
  return kindOf(size.unit) === kind ? quantityInBase(size) : null;
}

/** Portions of it that a usual week takes, by what was sold; null where nothing was. */
export function portionsAWeek(cascade: Cascade, specId: string): Ratio | null {
  const { on, shelves: { sales } } = cascade.book;
  const weeks = lastWeeks(sales.values(), on);
  const amount = weeks.length === 0 ? undefined : weekOf(cascade, platesAWeek(weeks)).amounts.get(`spec:${specId}`);
  return amount === undefined || ratio.sign(amount) === 0 ? null : amount;
}

/** What a portion costs in goods alone after its credits, as the book has it with every by-product used. */
export function goodsCost(made: Made, used: Ratio): Ratio {
  const goods = atPrice({ slope: made.asPurchased, rest: made.rest }, made.price);
  return ratio.sub(ratio.sub(goods, ratio.sum(made.credits.map(({ amount, worth, counted }) => ratio.mul(ratio.mul(amount, worth), counted ?? used)))), made.endCredit);
}
