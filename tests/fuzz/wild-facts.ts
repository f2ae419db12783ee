/**
 * Facts that pass every schema and that no kitchen would write: amounts from a hair to a million million, units that do not
 * belong together, references to anything at all, made of themselves or of what is not there. What holds between facts is
 * for the checks across the book and for the cascade to say.
 */
import fc from "fast-check";
import { ALLERGENS, type Book, type Change, type FactKind, FACT_KINDS, readFact } from "@/lib/book";
import { UNIT_NAMES } from "@/lib/measure";
import { us } from "../measure/habits";

const amount = fc.oneof(
  { weight: 5, arbitrary: fc.integer({ min: 1, max: 4_000 }).map((hundredths) => (hundredths / 100).toFixed(2)) },
  { weight: 2, arbitrary: fc.constantFrom("1", "2", "1/3", "5/7", "0.5", "999999999999", "0.00000000000000000001", "123456789.123456789", "0.001", "16") },
  { weight: 1, arbitrary: fc.stringMatching(/^[1-9]\d{0,11}(\.\d{1,20})?$/) },
  { weight: 1, arbitrary: fc.constantFrom("0", "-1", "0.000", "-1/3", "9".repeat(100), `0.${"0".repeat(100)}1`, `${"9".repeat(50)}/${"7".repeat(60)}`) },
);
const usual = fc.constantFrom("lb" as const, "oz" as const);
const unit = fc.oneof({ weight: 4, arbitrary: usual }, { weight: 1, arbitrary: fc.constantFrom(...UNIT_NAMES) });
const maybe = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(of, { nil: null, freq: 2 });
const quantity = fc.record({ amount, unit });
const rate = fc.record({ amount, per: unit });
const name = fc.oneof(fc.constantFrom("Striploin", "a", "→", "½ 肉 🥩", "'; DROP TABLE item; --", "__proto__", "x".repeat(120), "\u200b"), fc.string({ unit: "grapheme", minLength: 1, maxLength: 20 }));
const note = fc.constantFrom("", "a\nb", "🥩".repeat(900), "NULL");
const day = fc.constantFrom("2026-11-21", "2026-11-25", "1900-01-01", "2199-12-31", "2026-12-01");
const few = <T>(of: fc.Arbitrary<T>, most = 3): fc.Arbitrary<T[]> => fc.array(of, { maxLength: most });

/** A change to any fact of the book, or a new one, that reads as a fact of its kind; the same id again and again, so that changes meet. */
export function wildChange(book: Book): fc.Arbitrary<Change> {
  const idsOf = (kind: FactKind): readonly string[] => [...book.shelves[kind].keys(), "new", "__proto__", "a:b/ü"];
  const id = (kind: FactKind): fc.Arbitrary<string> => fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...idsOf(kind)) }, { weight: 1, arbitrary: fc.constantFrom("nowhere", "new", "constructor") });
  const origin = fc.constantFrom("item" as const, "cut" as const).chain((kind) => id(kind).map((of) => ({ kind, id: of })));
  const source = fc.constantFrom("item" as const, "cut" as const, "spec" as const, "recipe" as const).chain((kind) => id(kind).map((of) => ({ kind, id: of })));
  const key = fc.constantFrom("steak", "trim", "usable", "__proto__");
  const line = fc.record({ key: fc.constantFrom("", "line-0", "line-1", "k"), of: source, quantity: fc.oneof(quantity, fc.record({ amount, unit: fc.constant("portion" as const) })), note });
  const value = fc.oneof(fc.record({ kind: fc.constant("typed"), rate }), fc.constantFrom("item" as const, "recipe" as const).chain((kind) => id(kind).map((of) => ({ kind, id: of }))));
  const part = fc.record({
    key, name, role: fc.constantFrom("main", "main", "by-product", "discard", "purge"), weight: quantity, value: maybe(value), marketValue: maybe(rate), furtherCost: maybe(rate), pieces: few(quantity),
  });
  const allowance = fc.oneof(
    fc.record({ key: fc.constantFrom("", "fat"), name, kind: fc.constant("share"), share: fc.constantFrom("2", "60", "0.1 %"), basis: fc.constantFrom("on-cost", "of-whole") }),
    fc.record({ key: fc.constantFrom("", "salt"), name, kind: fc.constant("money"), amount: fc.record({ amount }) }),
  );
  const landed = fc.record({ name, way: fc.constantFrom("adds", "takes-off"), of: fc.oneof(
    fc.record({ kind: fc.constant("money"), amount: fc.record({ amount }), per: fc.oneof(fc.constant("pack"), unit) }), fc.record({ kind: fc.constant("share"), share: fc.constantFrom("2", "60", "0.1 %") }),
  ) });
  const transfer = fc.record({
    price: fc.oneof(
      fc.record({ kind: fc.constantFrom("market", "fixed"), rate, source: fc.constant("the renderer") }),
      fc.record({ kind: fc.constant("item"), itemId: id("item"), less: maybe(rate) }),
    ), on: day, destination: note, use: maybe(fc.record({ produced: quantity, used: quantity, over: note })),
  });
  const kinds: Readonly<Record<FactKind, fc.Arbitrary<object>>> = {
    kitchen: fc.record({
      name, place: note, currency: fc.constantFrom("USD", "JPY", "KWD"), locale: fc.constantFrom("en-US", "de-DE", "ar-EG", "en-ES"), timeZone: fc.constantFrom("America/New_York", "Pacific/Kiritimati", "Pacific/Pago_Pago"),
      measures: fc.constantFrom("us", "metric"), taxRate: fc.constantFrom("0", "20", "100"), target: fc.constantFrom("0.01 %", "30", "100"), near: fc.constantFrom("0", "0.5 %", "100"),
      exchangeRates: few(fc.record({ currency: fc.constantFrom("EUR", "GBP", "CHF"), rate: amount, source: note, on: day })),
      sectionTargets: few(fc.record({ section: fc.constantFrom("Mains", "Starters", "Sides"), target: fc.constantFrom("0.1 %", "33", "100") })), endings: few(fc.constantFrom("0", "0.5", "0.95")),
      budget: maybe(fc.record({ period: fc.constant("a year"), guests: amount, foodCost: fc.record({ amount }), nonFoodCost: fc.record({ amount }), profit: fc.record({ amount }), labour: maybe(fc.record({ amount })), primeCostShare: maybe(fc.constantFrom("60", "0.5 %")) })),
    }),
    dealer: fc.record({ name, note, minimumOrder: maybe(fc.record({ amount })), ordering: note }),
    item: fc.record({
      name, section: fc.constantFrom("", "Beef"), specification: note, kind: fc.constantFrom("mass", "mass", "volume", "count"), dealerId: maybe(id("dealer")),
      density: maybe(fc.record({ gramsPerMl: amount, source: note, on: day })), eachWeight: maybe(fc.record({ weight: fc.record({ amount, unit: usual }), source: note, on: day })),
      allergens: maybe(fc.record({ contains: fc.subarray([...ALLERGENS]), mayContain: fc.subarray([...ALLERGENS]), source: fc.constant("the label"), on: day })),
      transfer: fc.oneof({ weight: 4, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: transfer }),
    }),
    quote: fc.record({
      itemId: id("item"), dealerId: id("dealer"), pack: fc.record({ levels: few(fc.record({ count: amount, container: fc.constantFrom("case", "bag") })), size: quantity, catchWeight: fc.boolean() }),
      price: fc.record({ amount }), per: fc.oneof(fc.constant("pack"), unit), basis: fc.constantFrom("quoted", "contract", "market", "invoice"), code: fc.constantFrom("", "A-1"), gtin: fc.constantFrom("", "00012345678905"),
      currency: fc.constantFrom(null, null, "EUR", "USD"), until: maybe(day), landed: few(landed),
    }),
    delivery: fc.record({
      dealerId: id("dealer"), number: fc.constantFrom("", "R-1"), kind: fc.constantFrom("invoice", "credit"), on: day, note,
      lines: fc.array(fc.record({
        itemId: id("item"), packs: maybe(amount), billed: quantity, price: fc.record({ amount }), per: fc.oneof(fc.constant("pack"), unit), amount: maybe(fc.record({ amount })),
        received: maybe(quantity), lot: fc.constantFrom("", "L7"), useBy: maybe(day), note,
      }), { minLength: 1, maxLength: 3 }),
    }),
    test: fc.record({
      kind: fc.constantFrom("butcher", "trim", "cooking", "drained", "hydration"), of: origin, dealerId: maybe(id("dealer")), on: day, cutter: fc.constantFrom("", "block"), pieces: fc.constantFrom("1", "2", "999"),
      billed: quantity, price: maybe(rate), parts: fc.array(part, { minLength: 1, maxLength: 3 }),
      cooking: maybe(fc.record({ method: note, temperature: fc.constant(""), endPoint: fc.constant(""), time: fc.constant(""), trimmed: quantity, cooked: quantity })),
      scaleStep: maybe(quantity), followsTestId: maybe(id("test")), note,
    }),
    cut: fc.record({ name, of: origin, partKey: key, testIds: few(id("test")), leftOut: few(fc.record({ testId: id("test"), reason: fc.constantFrom("tub not tared", "other trim") })), borrowed: maybe(fc.record({ share: fc.constantFrom("0.76", "1", "84 %", "100/189", "4"), what: fc.constant("Onions, raw"), source: fc.constantFrom("a table", "the fishmonger"), on: day })), repricing: maybe(fc.constantFrom("by-factor", "by-products-at-own-price")), joint: fc.constantFrom("sales-value", "net-realizable", "weight"), specification: note }),
    spec: fc.record({ cutId: id("cut"), name, size: quantity, tolerance: maybe(quantity), thickness: fc.constant(""), trim: fc.constant(""), costing: fc.constantFrom("by-weight", "whole"), endValue: maybe(rate), pieces: maybe(fc.constantFrom("1", "3")), meanCut: maybe(fc.record({ weight: quantity, count: maybe(fc.constantFrom("1", "12")), on: day })) }),
    recipe: fc.record({ name, section: fc.constant(""), yields: fc.array(quantity, { minLength: 1, maxLength: 2 }), lines: few(line), method: note, allowances: few(allowance), steps: few(fc.record({ text: fc.constant("Sear."), critical: maybe(fc.record({ degrees: fc.constantFrom("0", "74"), scale: fc.constantFrom("F", "C"), held: note })) })) }),
    dish: fc.record({ name, section: fc.constantFrom("", "Mains"), note, allowances: few(allowance), lines: few(fc.tuple(line, fc.constantFrom("main", "side", "packaging"), fc.constantFrom("any", "table", "away")).map(([one, role, channel]) => ({ ...one, role, channel }))) }),
    menuPrice: fc.record({ gross: fc.record({ amount }), taxRate: maybe(fc.constantFrom("0", "7", "100")), target: maybe(fc.constantFrom("0.1 %", "50", "100")) }),
    sales: fc.record({ sold: few(fc.record({ dishId: id("dish"), count: fc.constantFrom("0", "1", "999999999999") })) }),
  };
  // What stands in the book, with one thing about it otherwise, keeps together more often than what is drawn from nothing.
  const altered = (kind: FactKind): fc.Arbitrary<unknown> => fc.tuple(fc.constantFrom(undefined, ...book.shelves[kind].values()), kinds[kind], fc.nat()).map(([known, drawn, at]) => {
    if (known === undefined) return drawn;
    const fields = Object.entries(drawn);
    const [field, to] = fields[at % fields.length] ?? ["", undefined];
    return { ...known, [field]: to as unknown };
  });
  return fc.constantFrom(...FACT_KINDS).chain((kind) => fc.tuple(kind === "sales" ? fc.constantFrom("2026-11-16", "2026-11-23", "2199-12-30") : kind === "kitchen" ? fc.constant(book.kitchenId) : id(kind), fc.oneof(
    { weight: 2, arbitrary: fc.constant(null) }, { weight: 4, arbitrary: kinds[kind] as fc.Arbitrary<unknown> }, { weight: 9, arbitrary: altered(kind) },
  )).map(([of, drawn]): Change | null => {
    if (drawn === null) return { kind, id: of, after: null } as Change;
    const read = readFact(kind, { ...drawn as object, id: of }, us);
    return read.ok ? { kind, id: of, after: read.value } as unknown as Change : null;
  })).filter((change): change is Change => change !== null);
}
