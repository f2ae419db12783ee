/**
 * A figure opened to its arithmetic. Examples read like the ledger a cook would check by hand; the law is that the
 * amounts of every explanation sum to the node's cost, over random books with gaps and every kind of node.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Book, Change } from "@/lib/book";
import { type Cascade, type Explanation, type NodeRef, type Step, NODE_KINDS, compile, costExactly, explain, repricedAt } from "@/lib/cascade";
import { Decimal, amountIn, exact, inBase, ratio } from "@/lib/measure";
import {
  bookOf, butcherTest, cut, dealer, density, dish, eachWeight, item, part, quote, randomBook, rate, recipe, spec, striploin, typed,
} from "../menu/small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map((problem) => problem.sentence).join(" "));
  return cascade.value;
}

function opened(facts: readonly Change[], kind: NodeRef["kind"], id: string): Explanation {
  const found = explain(compiled(bookOf(facts)), { kind, id });
  if (!found) throw new Error(`expected ${kind} ${id} in the book`);
  return found;
}

function step(explanation: Explanation, key: string): Step {
  const found = explanation.steps.find((each) => each.key === key);
  if (!found) throw new Error(`expected a step ${key} among ${explanation.steps.map((each) => each.key).join(", ")}`);
  return found;
}

const cents = (amount: Decimal | null | undefined): string | undefined => amount?.toFixed(2);
const pounds = (each: Step): string | undefined => each.quantity ? amountIn(each.quantity, "lb").toString() : undefined;

function about<K extends Explanation["about"]["kind"]>(explanation: Explanation, kind: K): Extract<Explanation["about"], { kind: K }> {
  if (explanation.about.kind !== kind) throw new Error(`expected a ${kind}`);
  return explanation.about as Extract<Explanation["about"], { kind: K }>;
}

describe("an item opened", () => {
  test("a case of 4 bags of 5 lb at 48.60 is 2.43 a lb, and says whose quote, since when, recorded by whom", () => {
    const pack = { levels: [{ count: exact("1"), container: "case" }, { count: exact("4"), container: "bag" }], size: { amount: exact("5"), unit: "lb" as const }, catchWeight: false };
    const flour = opened([dealer, item("flour"), quote("flour", "48.60 a lb", { pack, per: "pack" })], "item", "flour");
    expect(flour.steps).toHaveLength(1);
    const asked = step(flour, "quote-flour");
    expect([asked.kind, cents(asked.amount), cents(asked.rate?.amount), asked.rate?.per, pounds(asked)]).toEqual(["price", "48.60", "2.43", "lb", "20"]);
    expect(flour.costOf.map((each) => [each.quantity.unit, each.amount.toDecimalPlaces(6).toString()])).toEqual([["lb", "2.43"], ["oz", "0.151875"]]);
    const { quote: behind } = about(flour, "item");
    expect([behind?.dealerName, behind?.provenance?.validFrom, behind?.provenance?.by]).toEqual(["Harbour Provisioners", "2026-11-01", "Chef"]);
  });

  const kilo = { levels: [{ count: exact("1"), container: "case" }, { count: exact("12"), container: "tin" }], size: { amount: exact("500"), unit: "g" as const }, catchWeight: false };
  const euros = { pack: kilo, per: "pack", currency: "EUR", landed: [
    { key: "sea", name: "Sea freight", way: "adds", of: { kind: "money", amount: { amount: exact("9.50") }, per: "pack" } },
    { key: "broker", name: "Broker", way: "adds", of: { kind: "share", share: exact("0.05") } },
    { key: "back", name: "Rebate", way: "takes-off", of: { kind: "money", amount: { amount: exact("0.40") }, per: "kg" } },
  ] } as const;

  test("asked in euros, with freight, a broker's share and a rebate: every part in the kitchen's money for the same case, and at the door together", () => {
    const rates = [{ currency: "EUR", rate: exact("1.10"), source: "the bank", on: "2026-11-02" }];
    const book = bookOf([dealer, item("anchovies"), quote("anchovies", "96 a lb", euros)], { exchangeRates: rates });
    const anchovies = explain(compiled(book), { kind: "item", id: "anchovies" });
    if (!anchovies) throw new Error("expected anchovies");
    expect(anchovies.steps.map((each) => [each.kind, each.name, each.amount?.toFixed(4)])).toEqual([
      ["price", "Harbour Provisioners", "105.6000"], ["extra", "Sea freight", "10.4500"], ["extra", "Broker", "5.2800"], ["rebate", "Rebate", "-2.6400"],
    ]);
    expect(step(anchovies, "quote-anchovies").detail).toMatchObject({ of: "exchange", currency: "EUR", rate: rates[0] });
    expect([cents(step(anchovies, "landed-back").rate?.amount), step(anchovies, "landed-back").rate?.per, step(anchovies, "landed-broker").rate]).toEqual(["0.44", "kg", null]);
    expect(anchovies.total.toFixed(4)).toBe("118.6900");
    expect(anchovies.divisor).toEqual({ amount: "6", unit: "kg" });
    expect([cents(step(anchovies, "quote-anchovies").rate?.amount), step(anchovies, "quote-anchovies").rate?.per]).toEqual(["17.60", "kg"]);
    sums(anchovies);
  });

  test("in money that nobody has said the worth of, it says so and costs nothing that is made up", () => {
    const anchovies = opened([dealer, item("anchovies"), quote("anchovies", "96 a lb", euros)], "item", "anchovies");
    expect(new Set(anchovies.steps.map((each) => `${String(each.amount)} ${each.missing.map(({ what }) => what).join()}`))).toEqual(new Set(["null exchange-rate"]));
    expect(anchovies.cost.missing.map(({ what }) => what)).toEqual(["exchange-rate"]);
  });

  test("without a price there is a line that says so, not a zero", () => {
    const salt = opened([item("salt")], "item", "salt");
    expect(salt.steps.map((each) => [each.amount, each.missing])).toEqual([[null, [{ what: "price", of: { kind: "item", id: "salt" }, name: "salt" }]]]);
  });

  test("a metric kitchen hears of a kilo and of 100 g", () => {
    const book = bookOf([dealer, item("flour"), quote("flour", "1.20 a kg")], { measures: "metric" });
    expect(explain(compiled(book), { kind: "item", id: "flour" })?.costOf.map((each) => `${each.quantity.amount} ${each.quantity.unit} ${each.amount.toDecimalPlaces(20).toString()}`))
      .toEqual(["1 kg 1.2", "100 g 0.12"]);
  });
});

describe("a cut opened: the ledger of the weighed striploin", () => {
  const strip = opened(striploin, "cut", "strip");

  test("what was billed at today's price, by-products with their values and where those come from, discards and loss", () => {
    expect(strip.steps.map((each) => [each.kind, each.name, pounds(each), cents(each.rate?.amount), cents(each.amount)])).toEqual([
      ["billed", "striploin", "13.5", "7.10", "95.85"],
      ["by-product", "lean-trim", "1.625", "3.20", "-5.20"],
      ["by-product", "end-pieces", "0.875", "5.10", "-4.46"],
      ["discard", "fat-cap", "2.125", "0.00", "0.00"],
      ["loss", "Loss in cutting", "0.1875", undefined, "0.00"],
    ]);
    expect(strip.steps.map((each) => each.rate?.per)).toEqual(["lb", "lb", "lb", "lb", undefined]);
    expect(step(strip, "lean-trim").detail).toEqual({ of: "credit", cap: null, value: { kind: "linked", ref: { kind: "recipe", id: "burger-grind" }, name: "burger-grind" } });
    expect(step(strip, "end-pieces").detail).toMatchObject({ of: "credit", value: { kind: "typed", testId: "test-1", on: "2026-11-21", movesWithPrice: false, provenance: { by: "Chef" } } });
    const loss = step(strip, "cutting").detail;
    expect(loss?.of === "loss" ? loss.ofWhole.mul(100).toFixed(1) : null).toBe("1.4");
  });

  test("86.19 over 8 11/16 usable pounds is 9.92 a pound", () => {
    expect(cents(strip.total)).toBe("86.19");
    expect(strip.divisor).toMatchObject({ amount: "8.6875", unit: "lb" });
    expect(strip.costOf.map((each) => each.amount.toFixed(2))).toEqual(["9.92", "0.62"]);
    expect(cents(strip.total.div("8.6875"))).toBe("9.92");
  });

  test("whose test, on which day, and the factor", () => {
    const told = about(strip, "cut");
    expect(told.tests.map((each) => [each.test.on, each.test.cutter, each.dealerName, each.yield.toFixed(4)])).toEqual([["2026-11-21", "M. Ortega", "Harbour Provisioners", "0.6435"]]);
    expect(told.factor?.factor.toFixed(3)).toBe("1.397");
    expect([told.unit, told.factor?.price.amount.toFixed(20), told.perOrigin?.toFixed(4)]).toEqual(["lb", "7.10000000000000000000", "1.5540"]);
  });

  test("at 7.60 the factor and by-products at their own price say two things, and why", () => {
    const told = about(strip, "cut");
    const both = repricedAt(strip.cost, told, new Decimal("7.60"));
    expect(cents(both?.byFactor.amount.mul("0.625"))).toBe("6.64");
    expect(cents(both?.byProductsAtOwnPrice.amount.mul("0.625"))).toBe("6.69");
  });

  test("today's price against the test's: what each method says now, and the gap (V/U)·(P'/P − 1) of the typed value", () => {
    const { repricing } = about(strip, "cut");
    expect([repricing?.inForce, repricing?.chosen]).toEqual(["by-products-at-own-price", false]);
    expect([cents(repricing?.priceAtTest?.amount), cents(repricing?.priceNow?.amount)]).toEqual(["6.80", "7.10"]);
    const gap = new Decimal("4.4625").div("8.6875").mul(new Decimal("7.10").div("6.80").minus(1));
    expect(repricing?.gap?.amount.toDecimalPlaces(28).toString()).toBe(gap.toDecimalPlaces(28).toString());
  });

  test("by the factor, a typed value moves with the dealer's price, and says so", () => {
    const byFactor = opened([...striploin, cut("strip", { kind: "item", id: "striploin" }, ["test-1"], { repricing: "by-factor" })], "cut", "strip");
    const moved = step(byFactor, "end-pieces");
    expect(moved.amount?.toDecimalPlaces(10).toString()).toBe(new Decimal("-4.4625").mul("7.10").div("6.80").toDecimalPlaces(10).toString());
    expect(moved.detail).toMatchObject({ value: { movesWithPrice: true } });
    const typedValue = moved.detail?.of === "credit" && moved.detail.value?.kind === "typed" ? moved.detail.value.typed : null;
    expect([typedValue?.amount.toString(), typedValue?.per]).toEqual(["5.1", "lb"]);
    sums(byFactor);
  });

  test("several tests stand as one by their weights, with the spread of their losses", () => {
    const second = butcherTest("test-2", "striploin", "12 lb", "6.95 a lb", [
      part("main", "steak", "7.5 lb"), part("by-product", "lean-trim", "1.5 lb", { value: typed("3 a lb") }), part("discard", "fat-cap", "2.75 lb"),
    ], { on: "2026-11-23", cutter: "J. Whitlock" });
    const pooled = opened([...striploin, second, cut("strip", { kind: "item", id: "striploin" }, ["test-2", "test-1"])], "cut", "strip");
    expect(pooled.steps.map((each) => [each.key, pounds(each)])).toEqual([
      ["billed", "25.5"], ["lean-trim", "3.125"], ["end-pieces", "0.875"], ["fat-cap", "4.875"], ["cutting", "0.4375"],
    ]);
    // The newest test types a value for the trim, so every value is typed and moves by the factor: 3 × 7.10/6.95.
    expect(cents(step(pooled, "lean-trim").rate?.amount)).toBe("3.06");
    const loss = step(pooled, "cutting").detail;
    expect(loss?.of === "loss" && loss.among ? [loss.among.least.mul(100).toFixed(2), loss.among.greatest.mul(100).toFixed(2)] : null).toEqual(["1.39", "2.08"]);
    expect(about(pooled, "cut").tests.map((each) => each.test.id)).toEqual(["test-1", "test-2"]);
    expect(opened([...striploin, second], "spec", "steak-10oz").steps[0]?.behind).toMatchObject({ kind: "tests", count: 1, newestOn: "2026-11-21" });
    sums(pooled);
  });

  test("two main parts: the other carries its share of the joint cost, and both together are what was paid", () => {
    const shortLoin: Change[] = [
      dealer, item("short-loin"), quote("short-loin", "6 a lb"),
      butcherTest("test-9", "short-loin", "20 lb", "6 a lb", [
        part("main", "steak", "8 lb", { marketValue: rate("9 a lb") }), part("main", "tenderloin", "3 lb", { marketValue: rate("14 a lb") }),
        part("by-product", "trim", "4 lb", { value: typed("1.5 a lb") }), part("discard", "bone", "5 lb"),
      ]),
      cut("strip", { kind: "item", id: "short-loin" }, ["test-9"], { joint: "sales-value" }),
      cut("fillet", { kind: "item", id: "short-loin" }, ["test-9"], { joint: "sales-value", partKey: "tenderloin" }),
    ];
    const strip = opened(shortLoin, "cut", "strip");
    const fillet = opened(shortLoin, "cut", "fillet");
    // 114 to share by 72 to 42.
    expect([cents(step(strip, "tenderloin").amount), cents(strip.total), cents(fillet.total)]).toEqual(["-42.00", "72.00", "42.00"]);
    expect(about(strip, "cut").joint).toMatchObject({ method: "sales-value", shares: [{ key: "steak" }, { key: "tenderloin" }] });
    sums(strip);
    sums(fillet);
  });

  test("no test: the yield is missing and nothing is claimed", () => {
    const none = opened([dealer, item("striploin"), quote("striploin", "7.10 a lb"), cut("strip", { kind: "item", id: "striploin" }, [])], "cut", "strip");
    expect(none.steps.map((each) => [each.amount, each.missing[0]?.what])).toEqual([[null, "yield"]]);
    expect([none.divisor, none.cost.missing.length]).toEqual([null, 1]);
  });

  test("a by-product whose worth is unknown: the cut is at least 0, since what is credited could be anything", () => {
    const [test1] = striploin.filter((fact) => fact.kind === "test");
    if (test1?.kind !== "test" || !test1.after) throw new Error("expected the weighed striploin");
    const unsaid = { ...test1, after: { ...test1.after, parts: test1.after.parts.map((each) => (each.role === "by-product" ? { ...each, value: null } : each)) } };
    const cutOf = opened([...striploin.filter((fact) => fact !== test1), unsaid], "cut", "strip");
    expect([cents(step(cutOf, "billed").amount), step(cutOf, "lean-trim").amount]).toEqual(["95.85", null]);
    expect([cutOf.cost.amount.toString(), cutOf.summed, cutOf.cost.missing.map((each) => each.what)]).toEqual(["0", false, ["price"]]);
  });

  test("a by-product linked to a thing counted by the piece, of which nobody weighed one: at least 0 as well", () => {
    const [test1] = striploin.filter((fact) => fact.kind === "test");
    if (test1?.kind !== "test" || !test1.after) throw new Error("expected the weighed striploin");
    const linked = { ...test1, after: { ...test1.after, parts: test1.after.parts.map((each) => (each.role === "by-product" ? { ...each, value: { kind: "item" as const, id: "skewer" } } : each)) } };
    const cutOf = opened([...striploin.filter((fact) => fact !== test1), linked, item("skewer", "count"), quote("skewer", "2 a each")], "cut", "strip");
    expect([cents(step(cutOf, "billed").amount), step(cutOf, "lean-trim").amount]).toEqual(["95.85", null]);
    expect([cutOf.cost.amount.toString(), cutOf.summed, cutOf.cost.missing.map((each) => each.what)]).toEqual(["0", false, ["each-weight"]]);
  });

  test("portions written by weight are told as portions too", () => {
    const plate = opened([...striploin, dish("two", ["spec steak-10oz 20 oz"])], "dish", "two");
    expect(plate.steps[0]?.converted).toMatchObject({ quantity: { amount: "2", unit: "portion" }, through: [] });
    expect(cents(plate.steps[0]?.converted?.rate?.amount)).toBe("6.20");
    sums(plate);
  });

  test("an unknown price beside credits: known lines stand, the cost is at least 0, and the missing one is named", () => {
    const noPrice = opened(striploin.filter((fact) => fact.id !== "quote-striploin"), "cut", "strip");
    expect(step(noPrice, "billed").amount).toBeNull();
    expect(step(noPrice, "billed").missing).toEqual([{ what: "price", of: { kind: "item", id: "striploin" }, name: "striploin" }]);
    expect(cents(step(noPrice, "lean-trim").amount)).toBe("-5.20");
    expect([noPrice.summed, noPrice.cost.amount.toString()]).toEqual([false, "0"]);
  });
});

describe("a spec opened", () => {
  test("10 oz of it at 9.92 a pound is 6.20, with 0.873 lb paid for as purchased", () => {
    const steak = opened(striploin, "spec", "steak-10oz");
    expect(steak.steps.map((each) => [each.kind, each.quantity?.amount, each.quantity?.unit, cents(each.rate?.amount), cents(each.amount)])).toEqual([["size", "10", "oz", "9.92", "6.20"]]);
    expect(steak.divisor).toBeNull();
    const { factor } = about(steak, "spec");
    expect([factor?.perPortion.toFixed(3), factor?.unit, factor?.name]).toEqual(["0.873", "lb", "striploin"]);
    expect(steak.steps[0]?.ref).toEqual({ kind: "cut", id: "strip" });
  });

  test("whole portions: 68 oz gives six of 10 oz, and the end left over is credited at what it is worth", () => {
    const tenderloin: Change[] = [
      dealer, item("tenderloin"), quote("tenderloin", "6.11 a lb"),
      butcherTest("test-t", "tenderloin", "9 lb", "6.11 a lb", [part("main", "steak", "68 oz"), part("by-product", "other", "4 lb", { value: typed("0.4675 a lb") })]),
      cut("fillet", { kind: "item", id: "tenderloin" }, ["test-t"]),
      spec("fillet-10oz", "fillet", "10 oz", { costing: "whole" }),
      spec("fillet-10oz-end", "fillet", "10 oz", { costing: "whole", endValue: rate("2 a lb") }),
    ];
    const thrown = opened(tenderloin, "spec", "fillet-10oz");
    expect(about(thrown, "spec")).toMatchObject({ portions: "6", pieces: [{ portions: "6", left: { amount: "0.5", unit: "lb" } }] });
    // 13.3 % dearer than by weight, if the end is thrown.
    expect(thrown.cost.amount.div(about(thrown, "spec").byWeight ?? 0).minus(1).mul(100).toFixed(1)).toBe("13.3");
    const kept = opened(tenderloin, "spec", "fillet-10oz-end");
    expect([cents(step(kept, "end").amount), kept.divisor]).toEqual(["-1.00", { amount: "6", unit: "portion" }]);
    sums(thrown);
    sums(kept);
  });
});

describe("recipes and dishes opened", () => {
  const facts: Change[] = [
    ...striploin,
    item("flour", "mass", { density: density("0.53") }), quote("flour", "0.60 a lb"),
    item("egg", "count", { eachWeight: eachWeight("50 g") }), quote("egg", "3 a dozen"),
    item("saffron"),
    recipe("batter", ["2 qt", "16 portion"], ["item flour 4 cup", "item egg 100 g", "cut strip 8 oz"]),
    recipe("sauce", ["1 qt"], ["recipe batter 1 qt", "item saffron 1 g"]),
    dish("plate", ["recipe batter 2 portion", "spec steak-10oz 1 portion", "item saffron 1 g", "recipe sauce 1 cup"]),
  ];

  test("each line says as purchased or edible portion, its rate, and the density or each-weight it went through", () => {
    const batter = opened(facts, "recipe", "batter");
    expect(batter.steps.map((each) => (each.detail?.of === "line" ? each.detail.basis : null))).toEqual(["as-purchased", "as-purchased", "edible-portion"]);
    const flour = batter.steps[0];
    expect(flour?.converted?.through).toMatchObject([{ what: "density", figure: { gramsPerMl: "0.53" }, source: "own cup, weighed", on: "2026-09-01" }]);
    expect(flour?.converted?.quantity.unit).toBe("lb");
    expect(cents(flour?.converted?.rate?.amount)).toBe("0.60");
    const egg = batter.steps[1];
    expect(egg?.converted).toMatchObject({ quantity: { amount: "2", unit: "each" }, through: [{ what: "each-weight" }] });
    expect(egg?.amount?.toString()).toBe("0.5");
    expect(batter.steps[0]?.behind).toMatchObject({ kind: "quote", dealerName: "Harbour Provisioners" });
  });

  test("a batch tells what a quart and a portion of it cost", () => {
    const batter = opened(facts, "recipe", "batter");
    expect(batter.costOf.map((each) => each.quantity)).toEqual([{ amount: "1", unit: "qt" }, { amount: "1", unit: "portion" }]);
    expect(batter.costOf[1]?.amount.mul(16).toFixed(20)).toBe(batter.cost.amount.toFixed(20));
  });

  test("a line of a sub-recipe tells which share of which batch it is", () => {
    const plate = opened(facts, "dish", "plate");
    const { detail } = step(plate, "line-0");
    expect(detail).toMatchObject({ of: "line", basis: "batch", role: "main", batch: { yield: { amount: "16", unit: "portion" } } });
    expect(detail?.of === "line" ? detail.batch?.share.toString() : null).toBe("0.125");
  });

  test("a plate is told largest first, an unknown line as unknown and a bound as a bound", () => {
    const plate = opened(facts, "dish", "plate");
    expect(plate.steps.map((each) => each.key)).toEqual(["line-1", "line-0", "line-3", "line-2"]);
    expect([step(plate, "line-2").amount, step(plate, "line-2").missing[0]?.name]).toEqual([null, "saffron"]);
    expect([step(plate, "line-3").amount?.gt(0), step(plate, "line-3").missing[0]?.name]).toEqual([true, "saffron"]);
    sums(plate);
  });

  test("what is not in the book is not explained", () => {
    expect(explain(compiled(bookOf(facts)), { kind: "dish", id: "nowhere" })).toBeNull();
  });
});

/** A step's amount is a lower bound or unknown only where it says what is missing. */
function honest(explanation: Explanation): void {
  for (const each of explanation.steps) if (each.amount === null) expect(each.missing.length, `${explanation.ref.id} ${each.key}`).toBeGreaterThan(0);
}

/** The amounts over the divisor are the cost, to the digits that the cascade carries. */
function sums(explanation: Explanation): void {
  const { cost, divisor, steps, total } = explanation;
  if (!explanation.summed) {
    expect(cost.missing.length).toBeGreaterThan(0);
    expect(cost.amount.isZero()).toBe(true);
    return;
  }
  const known = steps.reduce((sum, each) => (each.amount ? sum.plus(each.amount) : sum), new Decimal(0));
  expect(known.eq(total)).toBe(true);
  const size = steps.reduce((sum, each) => (each.amount ? sum.plus(each.amount.abs()) : sum), new Decimal(0));
  const over = divisor ? inBase(divisor) : new Decimal(1);
  const difference = total.div(over).minus(cost.amount).abs();
  expect(difference.lte(size.div(over).mul("1e-28")), `${explanation.ref.kind} ${explanation.ref.id}: ${total.div(over).toString()} is not ${cost.amount.toString()}`).toBe(true);
}

const names = (missing: readonly { readonly what: string; readonly of: NodeRef }[]): string[] =>
  [...new Set(missing.map((each) => `${each.what} ${each.of.kind}:${each.of.id}`))].sort();

describe("laws over random books", () => {
  const everyNode = (book: Book): NodeRef[] => NODE_KINDS.flatMap((kind) => [...book.shelves[kind].keys()].map((id) => ({ kind, id })));

  test("every node's amounts sum to its cost, and what is missing is named in its lines", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const ref of everyNode(cascade.book)) {
        const explanation = explain(cascade, ref);
        if (!explanation) throw new Error(`expected ${ref.kind} ${ref.id}`);
        sums(explanation);
        honest(explanation);
        expect(names(explanation.steps.flatMap((each) => each.missing)), `${ref.kind} ${ref.id}`).toEqual(names(explanation.cost.missing));
      }
    }), { numRuns: 200 });
  });

  test("the sum agrees with the cost as an exact fraction", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const ref of everyNode(cascade.book)) {
        const explanation = explain(cascade, ref);
        if (!explanation?.summed) continue;
        const exactly = ratio.toDecimal(costExactly(cascade, ref));
        const over = explanation.divisor ? inBase(explanation.divisor) : new Decimal(1);
        const size = explanation.steps.reduce((sum, each) => (each.amount ? sum.plus(each.amount.abs()) : sum), new Decimal(0)).div(over);
        expect(explanation.total.div(over).minus(exactly).abs().lte(size.mul("1e-26")), `${ref.kind} ${ref.id}: ${explanation.total.div(over).toString()} is not ${exactly.toString()}`).toBe(true);
      }
    }), { numRuns: 50 });
  });

  test("rate times quantity is the amount, and every ref opens further, down to the quotes", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const ref of everyNode(cascade.book)) {
        for (const each of explain(cascade, ref)?.steps ?? []) {
          if (each.ref) expect(explain(cascade, each.ref)).not.toBeNull();
          if (!each.rate || !each.quantity || !each.amount) continue;
          const product = amountIn(each.quantity, each.rate.per).mul(each.rate.amount);
          const signed = each.kind === "by-product" || each.kind === "end" || each.kind === "work" ? product.neg() : product;
          expect(signed.minus(each.amount).abs().lte(product.abs().mul("1e-30")), `${ref.id} ${each.key}`).toBe(true);
        }
      }
    }), { numRuns: 50 });
  });
});
