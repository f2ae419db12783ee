/**
 * The tests of a cut at the prices of one date: what a usable unit would cost today by each of them alone, and by all
 * that stand behind it together. Costs of different weeks hold different by-product prices and may not be laid side by
 * side; these may. Everything is valued as the cut itself is: the same price, the same worth of every by-product (the
 * newest that the tests behind it, or else the test alone, tell), the same way for a new price to reach it. So the
 * figure of the tests behind it together is the cost of the cut.
 */
import type { Book, Cut, PartValue, YieldTest } from "@/lib/book";
import { type Kind, type Ratio, BASE_UNIT, baseFactor, kindOf, ratio } from "@/lib/measure";
import { type PriceThenAndNow, type YieldLine, costOfLine, factorDrift, rateInBase, yieldLine } from "@/lib/yield";
import type { Cascade } from "./cascade";
import { adoptedTests, repricingOf, shareCredited, testPrice, valuesOf } from "./rows/cut";
import { costAsRate } from "./valued-sheet";

export interface TestsAtToday {
  /** Money per base unit of the usable part by each test alone, by its id; null where something is not known. */
  readonly alone: ReadonlyMap<string, Ratio | null>;
  /** By the tests behind the cut, pooled by weights; null where there is none or something is not known. */
  readonly pooled: Ratio | null;
  /** Per base unit of which kind: as the tests are told. */
  readonly measure: Kind | null;
}

/** The costs of these tests today, and of those behind the cut together. */
export function testsAtToday(cascade: Cascade, cut: Cut, tests: readonly YieldTest[]): TestsAtToday {
  const behind = adoptedTests(cascade.book, cut) ?? [];
  const worth = worthToday(cascade, cut, behind);
  const pooled = behind.length === 0 ? null : yieldLine(behind, cut.partKey, cut.joint);
  return {
    alone: new Map(tests.map((test) => {
      const line = yieldLine([test], cut.partKey, cut.joint);
      return [test.id, line.ok ? costToday(line.value, worth, valuesOf([test])) : null];
    })),
    pooled: pooled?.ok ? costToday(pooled.value, worth, new Map()) : null,
    measure: pooled?.ok ? pooled.value.measure : tests[0] === undefined ? null : kindOf(tests[0].billed.unit),
  };
}

interface WorthToday {
  /** The price now of what the cut is made from, money per base unit of a kind. */
  readonly price: (kind: Kind) => Ratio | null;
  /** What a by-product is worth now, money per base unit of a kind. */
  readonly value: (value: PartValue, kind: Kind) => Ratio | null;
  readonly values: ReadonlyMap<string, PartValue>;
}

/** What a cut is valued at today, whichever of its tests is looked at. */
export function worthToday(cascade: Cascade, cut: Cut, behind: readonly YieldTest[]): WorthToday {
  const values = valuesOf(behind);
  const then = repricingOf(cut, values) === "by-factor" ? testPrice(behind) : null;
  const price = (kind: Kind): Ratio | null => perBase(cascade, cut.of, kind);
  return {
    price, values,
    value: (value, kind) => {
      if (value.kind !== "typed") return creditedAt(cascade, value, kind);
      const typed = rateInBase(value.rate);
      const now = price(kind);
      // By the factor, what was typed moves in step with the dealer's price.
      return then === null ? typed : now === null ? null : ratio.mul(typed, ratio.div(now, then));
    },
  };
}

function costToday(line: YieldLine, worth: WorthToday, own: ReadonlyMap<string, PartValue>): Ratio | null {
  const price = worth.price(line.measure);
  const values = line.credits.map(({ key }) => {
    const value = worth.values.get(key) ?? own.get(key);
    return value === undefined ? null : worth.value(value, line.measure);
  });
  const known = values.flatMap((value) => value ?? []);
  return price === null || known.length < values.length ? null : costOfLine(line, price, known);
}

/** What a linked by-product is credited at: what it costs, of one of the house no more than is used. */
function creditedAt(cascade: Cascade, value: PartValue & { readonly kind: "item" | "recipe" }, kind: Kind): Ratio | null {
  const worth = perBase(cascade, value, kind);
  return worth === null ? null : ratio.mul(worth, shareCredited(cascade.book, value));
}

function perBase(cascade: Cascade, ref: { readonly kind: "item" | "cut" | "recipe"; readonly id: string }, kind: Kind): Ratio | null {
  const rate = costAsRate(cascade, ref, BASE_UNIT[kind]);
  return rate === null ? null : rateInBase(rate);
}

/** What by-products were worth by the tests behind a cut, where every worth was typed: money per base unit, in the order of the line. null where one is linked to a price. */
function typedWorths(book: Book, cut: Cut, line: YieldLine): readonly Ratio[] | null {
  const values = valuesOf(adoptedTests(book, cut) ?? []);
  const typed = line.credits.flatMap(({ key }) => {
    const value = values.get(key);
    return value?.kind === "typed" ? [rateInBase(value.rate)] : [];
  });
  return typed.length === line.credits.length ? typed : null;
}

/** The dealer's price on a test's sheet beside the price now, and how far the factor of that day has drifted. null where either price is not known. */
export function priceThenAndNow(cascade: Cascade, cut: Cut, test: YieldTest): PriceThenAndNow | null {
  if (test.price === null) return null;
  const now = perBase(cascade, cut.of, kindOf(test.price.per));
  if (now === null) return null;
  const line = yieldLine([test], cut.partKey, cut.joint);
  const worths = line.ok ? typedWorths(cascade.book, { ...cut, testIds: [test.id] }, line.value) : null;
  const then = rateInBase(test.price);
  return {
    then: test.price,
    now: { amount: ratio.toExact(ratio.mul(now, ratio.fromExact(baseFactor(test.price.per)))), per: test.price.per },
    factorDrift: line.ok && worths !== null ? factorDrift(line.value, { price: then, values: worths }, { price: now, values: worths }) : null,
  };
}
