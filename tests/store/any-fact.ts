/**
 * Facts of every kind at the edges of what they may be: figures of many digits, trailing zeros, ratios, text in any
 * script with quotes and line breaks, every word, every null. They need not make sense to a cook, only to their types;
 * references stay within `IDS`, so that every one of them leads somewhere.
 */
import fc from "fast-check";
import { ALLERGENS, type Change, type FactKind, type FactOf } from "@/lib/book";
import { type Exact, type Money, type Quantity, type Rate, UNIT_NAMES, exact, exactRatio } from "@/lib/measure";

/** Two facts of each kind; ids that differ in nothing else, contain the sign that keys are cut at, and other scripts. */
export const IDS: readonly string[] = ["a", "b:c/ü"];

const id = fc.constantFrom(...IDS);
const text: fc.Arbitrary<string> = fc.oneof(
  fc.string({ unit: "grapheme", maxLength: 60 }),
  fc.string({ unit: "binary", maxLength: 60 }).map((drawn) => drawn.replaceAll("\0", "").replace(/\p{Surrogate}/gu, "")),
  fc.constantFrom("", "'; DROP TABLE item; --", "\"double\" \\ back\\slash", "two\nlines\ttab", "NULL", "½ 肉 🥩", " led and trailed "),
);
const day = fc.date({ min: new Date("1901-01-01T00:00:00Z"), max: new Date("2199-12-31T00:00:00Z"), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));

const decimalText = fc.tuple(fc.boolean(), fc.bigInt(0n, 10n ** 30n), fc.option(fc.stringMatching(/^\d{1,40}$/), { nil: null }))
  .map(([negative, whole, places]) => `${negative && (whole > 0n || /[1-9]/.test(places ?? "")) ? "-" : ""}${whole}${places === null ? "" : `.${places}`}`);
export const anyExact: fc.Arbitrary<Exact> = fc.oneof(
  decimalText.map(exact),
  fc.tuple(fc.bigInt(-(10n ** 40n), 10n ** 40n), fc.bigInt(1n, 10n ** 20n)).map(([n, d]) => exactRatio(n, d)).filter((ratio) => ratio.length <= 100),
  fc.constantFrom("0", "0.00", "7.10", "1/3", "-2/7", "100.000").map(exact),
);

const unit = fc.constantFrom(...UNIT_NAMES);
const maybeTyped = fc.option(text, { nil: undefined }).map((typed) => (typed === undefined ? {} : { typed }));
const quantity: fc.Arbitrary<Quantity> = fc.tuple(anyExact, unit, maybeTyped).map(([amount, of, typed]) => ({ amount, unit: of, ...typed }));
const rate: fc.Arbitrary<Rate> = fc.tuple(anyExact, unit, maybeTyped).map(([amount, per, typed]) => ({ amount, per, ...typed }));
const money: fc.Arbitrary<Money> = fc.tuple(anyExact, maybeTyped).map(([amount, typed]) => ({ amount, ...typed }));
const maybe = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(of, { nil: null });
const few = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T[]> => fc.array(of, { maxLength: 4 });

const origin = fc.record({ kind: fc.constantFrom("item" as const, "cut" as const), id });
const line = fc.record({
  key: text, of: fc.record({ kind: fc.constantFrom("item" as const, "cut" as const, "spec" as const, "recipe" as const), id }), quantity, note: text,
});

const part = fc.record({
  key: text, name: text, role: fc.constantFrom("main" as const, "by-product" as const, "discard" as const, "purge" as const), weight: quantity,
  value: maybe(fc.oneof(
    fc.record({ kind: fc.constant("typed" as const), rate }),
    fc.record({ kind: fc.constantFrom("item" as const, "recipe" as const), id }),
  )),
  marketValue: maybe(rate), furtherCost: maybe(rate), pieces: few(quantity),
});

const allowance = fc.oneof(
  fc.record({ key: text, name: text, kind: fc.constant("share" as const), share: anyExact, basis: fc.constantFrom("on-cost" as const, "of-whole" as const) }),
  fc.record({ key: text, name: text, kind: fc.constant("money" as const), amount: money }),
);

/** Each kind's fact, with an id that is set afterwards. */
const FACTS: { readonly [K in FactKind]: fc.Arbitrary<Omit<FactOf[K], "id">> } = {
  kitchen: fc.record({
    name: text, place: text, currency: text, locale: text, timeZone: text, measures: fc.constantFrom("us" as const, "metric" as const),
    taxRate: anyExact, target: anyExact, near: anyExact,
    sectionTargets: few(fc.record({ section: text, target: anyExact })), endings: few(anyExact),
    budget: maybe(fc.record({ period: text, guests: anyExact, foodCost: money, nonFoodCost: money, profit: money, labour: maybe(money), primeCostShare: maybe(anyExact) })),
    exchangeRates: few(fc.record({ currency: text, rate: anyExact, source: text, on: day })),
  }),
  dealer: fc.record({ name: text, note: text, minimumOrder: maybe(money), ordering: text }),
  item: fc.record({
    name: text, section: text, specification: text, kind: fc.constantFrom("mass" as const, "volume" as const, "count" as const), dealerId: maybe(id),
    density: maybe(fc.record({ gramsPerMl: anyExact, source: text, on: day })),
    eachWeight: maybe(fc.record({ weight: quantity, source: text, on: day })),
    allergens: maybe(fc.record({ contains: fc.subarray([...ALLERGENS]), mayContain: fc.subarray([...ALLERGENS]), source: text, on: day })),
    transfer: maybe(fc.record({
      price: fc.oneof(
        fc.record({ kind: fc.constantFrom("market" as const, "fixed" as const), rate, source: text }), fc.record({ kind: fc.constant("item" as const), itemId: id, less: maybe(rate) }),
      ),
      on: day, destination: text, use: maybe(fc.record({ produced: quantity, used: quantity, over: text })),
    })),
  }),
  quote: fc.record({
    itemId: id, dealerId: id,
    pack: fc.record({ levels: few(fc.record({ count: anyExact, container: text })), size: quantity, catchWeight: fc.boolean() }),
    price: money, per: fc.oneof(fc.constant("pack" as const), unit), basis: fc.constantFrom("quoted" as const, "contract" as const, "market" as const, "invoice" as const), code: text,
    currency: maybe(text), until: maybe(day), gtin: text,
    landed: few(fc.record({ key: text, name: text, way: fc.constantFrom("adds" as const, "takes-off" as const), of: fc.oneof(
      fc.record({ kind: fc.constant("money" as const), amount: money, per: fc.oneof(fc.constant("pack" as const), unit) }), fc.record({ kind: fc.constant("share" as const), share: anyExact }),
    ) })),
  }),
  delivery: fc.record({
    dealerId: id, number: text, kind: fc.constantFrom("invoice" as const, "credit" as const), on: day, note: text,
    lines: few(fc.record({
      key: text, itemId: id, packs: maybe(anyExact), billed: quantity, price: money, per: fc.oneof(fc.constant("pack" as const), unit), amount: maybe(money), received: maybe(quantity),
      lot: text, useBy: maybe(day), note: text,
    })),
  }),
  test: fc.record({
    kind: fc.constantFrom("butcher" as const, "trim" as const, "cooking" as const, "drained" as const, "hydration" as const),
    of: origin, dealerId: maybe(id), on: day, cutter: text, pieces: anyExact, billed: quantity, price: maybe(rate), parts: few(part),
    cooking: maybe(fc.record({ method: text, temperature: text, endPoint: text, time: text, trimmed: quantity, cooked: quantity })),
    scaleStep: maybe(quantity), followsTestId: maybe(id), note: text,
  }),
  cut: fc.record({
    name: text, of: origin, partKey: text, testIds: few(id), leftOut: few(fc.record({ testId: id, reason: text })),
    borrowed: maybe(fc.record({ share: anyExact, what: text, source: text, on: day })), repricing: maybe(fc.constantFrom("by-factor" as const, "by-products-at-own-price" as const)),
    joint: fc.constantFrom("sales-value" as const, "net-realizable" as const, "weight" as const), specification: text,
  }),
  spec: fc.record({
    cutId: id, name: text, size: quantity, tolerance: maybe(quantity), thickness: text, trim: text,
    costing: fc.constantFrom("by-weight" as const, "whole" as const), endValue: maybe(rate),
    pieces: maybe(anyExact), meanCut: maybe(fc.record({ weight: quantity, count: maybe(anyExact), on: day })),
  }),
  recipe: fc.record({
    name: text, section: text, yields: few(quantity), lines: few(line), allowances: few(allowance), method: text,
    steps: few(fc.record({ text, critical: maybe(fc.record({ degrees: anyExact, scale: fc.constantFrom("F" as const, "C" as const), held: text })) })),
  }),
  dish: fc.record({
    name: text, section: text, note: text,
    lines: few(fc.tuple(line, fc.constantFrom("main" as const, "side" as const, "garnish" as const, "cover" as const, "packaging" as const), fc.constantFrom("any" as const, "table" as const, "away" as const))
      .map(([of, role, channel]) => ({ ...of, role, channel }))),
    allowances: few(allowance),
  }),
  menuPrice: fc.record({ gross: money, taxRate: maybe(anyExact), target: maybe(anyExact) }),
  sales: fc.record({ sold: few(fc.record({ dishId: id, count: anyExact })) }),
};

/** Any fact of a kind under a given id, as a change. */
export function anyChange(kind: FactKind, of: string): fc.Arbitrary<Change> {
  // Through JSON, since facts are plain data while records that are drawn have no prototype.
  return (FACTS[kind] as fc.Arbitrary<object>).map((fact) => JSON.parse(JSON.stringify({ kind, id: of, after: { ...fact, id: of } })) as Change);
}
