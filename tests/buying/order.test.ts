/**
 * Ordering: what is bought suffices, is whole, and never shrinks when more is served; quantity comes from the yield; nothing
 * is made up where a yield is not known.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type OrderPlan, EMPTY_PLAN, lowerLimit, orderNeeds, orderOf, quantityFor, readOrderPlan, toldAs, yieldOf } from "@/lib/buying";
import { type Book, type Change, type Line, cutKind, cutWeight, lineInBase } from "@/lib/book";
import { type Cascade, adoptedTests, compile } from "@/lib/cascade";
import { BASE_UNIT, type Ratio, baseFactor, exact, ratio } from "@/lib/measure";
import { poolWeights, readWeights } from "@/lib/yield";
import { bookOf, butcherTest, cut, dealer, dish, item, line, part, q, quote, randomBook, spec, typed } from "../menu/small-books";
import { figure, show } from "../yield/sheets";
import { someTests } from "../yield/yields";

const compiled = (book: Book): Cascade => {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error("expected the book to compile");
  return cascade.value;
};
const plan = (dishes: Readonly<Record<string, string>>, more: Partial<OrderPlan> = {}): OrderPlan => ({
  ...EMPTY_PLAN, dishes: Object.entries(dishes).map(([dishId, covers], at) => ({ key: `d${at}`, dishId, covers: exact(covers) })), ...more,
});
const lines = (...texts: readonly string[]): readonly Line[] => texts.map(line);
/** Pounds from grams. */
const lb = (grams: Ratio): string => show(ratio.div(grams, ratio.fromExact(exact("453.59237"))), 6);

const LOIN: readonly Change[] = [
  dealer, item("loin"), item("chuck"), quote("chuck", "3 a lb"),
  quote("loin", "8 a lb", { pack: { levels: [{ count: exact("1"), container: "piece" }], size: q("12 lb"), catchWeight: true } }),
  butcherTest("t1", "loin", "12 lb", "8 a lb", [part("main", "steak", "8 lb", { pieces: [q("8 lb")] }), part("by-product", "trim", "2 lb", { value: { kind: "item", id: "chuck" } }), part("discard", "fat", "1 lb")]),
  cut("trimmed", { kind: "item", id: "loin" }, ["t1"]),
  spec("steak-10", "trimmed", "10 oz"), spec("counted-10", "trimmed", "10 oz", { costing: "whole" }),
  dish("frites", ["spec steak-10 1 portion"]), dish("counted", ["spec counted-10 1 portion"]), dish("roast", ["item loin 28.125 lb"]),
];

describe("from covers to what is bought", () => {
  test("by weight q = N·s/Y: 30 of 10 oz at 2/3 are 28 1/8 lb, three pieces of about 12 lb", () => {
    const order = orderOf(compiled(bookOf(LOIN)), plan({ frites: "30" }));
    const [part] = order.dealers;
    const loin = part?.lines[0];
    expect(order.dealers).toHaveLength(1);
    expect(lb(loin?.need.needed ?? ratio.ZERO)).toBe("28.125");
    if (loin === undefined || typeof loin.packs === "string") throw new Error("expected packs");
    expect([loin.packs.packs, lb(loin.packs.over)]).toEqual([3n, "7.875"]);
    expect([show(loin.packs.cost ?? ratio.ZERO), show(loin.packs.overCost ?? ratio.ZERO), loin.packs.estimate]).toEqual(["288", "63", true]);
  });

  test("counted portions take whole pieces: 12 of 10 oz from 8 lb, so 30 need three and 36 three, 37 four", () => {
    const cascade = compiled(bookOf(LOIN));
    const pieces = (covers: string): bigint | undefined => orderNeeds(cascade, plan({ counted: covers })).items[0]?.pieces;
    expect([pieces("30"), pieces("36"), pieces("37")]).toEqual([3n, 3n, 4n]);
    const four = orderOf(cascade, plan({ counted: "37" })).dealers[0]?.lines[0];
    if (four === undefined || typeof four.packs === "string") throw new Error("expected packs");
    expect(four.packs.packs).toBe(4n);
  });

  test("a dealer’s estimate a little off the tested weight buys no piece more; far off, it is bought by weight", () => {
    const at = (size: string, onHand: readonly Line[] = [], dishes: Readonly<Record<string, string>> = { counted: "36" }): readonly [bigint, string] => {
      const facts = LOIN.map((fact) => (fact.kind === "quote" && fact.id === "quote-loin" && fact.after !== null ? { ...fact, after: { ...fact.after, pack: { ...fact.after.pack, size: q(size) } } } : fact));
      const packs = orderOf(compiled(bookOf(facts)), plan(dishes, { onHand })).dealers[0]?.lines[0]?.packs;
      if (packs === undefined || typeof packs === "string") throw new Error("expected packs");
      return [packs.packs, lb(packs.over)];
    };
    // Three tested pieces weigh 36 lb.
    expect([at("12 lb"), at("11.5 lb"), at("13 lb")]).toEqual([[3n, "0"], [3n, "0"], [3n, "0"]]);
    expect([at("60 lb"), at("8 lb")]).toEqual([[1n, "24"], [5n, "4"]]);
    // A whole piece in the house saves one; half a piece saves weight alone, of which none is wanted here.
    expect([at("12 lb", lines("item loin 13 lb")), at("12 lb", lines("item loin 6 lb"))]).toEqual([[2n, "0"], [3n, "0"]]);
    // 36 counted, and 30 by weight from 28 1/8 lb: 2.34 pieces more.
    expect(at("12 lb", [], { counted: "36", roast: "1" })[0]).toBe(6n);
  });

  test("what comes out beside is listed with what it takes the place of", () => {
    const { byProducts } = orderNeeds(compiled(bookOf(LOIN)), plan({ frites: "30" }));
    expect(byProducts.map(({ name, amount, instead }) => [name, lb(amount), instead?.id])).toEqual([["trim", "4.6875", "chuck"]]);
  });

  test("what is on hand is taken off where it stands: portions, cut meat, whole pieces", () => {
    const cascade = compiled(bookOf(LOIN));
    const needed = (onHand: readonly Line[]): string => { const order = orderOf(cascade, plan({ frites: "30" }, { onHand })); return lb(order.dealers[0]?.lines[0]?.toBuy ?? ratio.ZERO); };
    expect(needed(lines("spec steak-10 6 portion"))).toBe("22.5");
    expect(needed(lines("cut trimmed 3 lb 12 oz".replace(" 12 oz", "")))).toBe("23.625");
    expect(needed(lines("item loin 12 lb"))).toBe("16.125");
    const covered = orderOf(cascade, plan({ frites: "30" }, { onHand: lines("item loin 40 lb") }));
    expect([covered.dealers.length, covered.covered.length]).toEqual([0, 1]);
    const spare = orderNeeds(cascade, plan({ frites: "30" }, { onHand: lines("item chuck 5 lb") })).spare;
    expect(spare.map(({ name, why }) => [name, why])).toEqual([["chuck", "not-taken"]]);
  });

  test("a missing yield makes no quantity: the item is named, and the cut", () => {
    const order = orderOf(compiled(bookOf([...LOIN, cut("untested", { kind: "item", id: "chuck" }, []), dish("stew", ["cut untested 6 oz", "item chuck 1 lb"])])), plan({ stew: "10" }));
    const chuck = order.needs.items[0];
    expect([chuck?.name, lb(chuck?.needed ?? ratio.ZERO), chuck?.missing.map(({ what, name }) => `${what} ${name}`)]).toEqual(["chuck", "10", ["yield untested"]]);
    expect(order.atLeast).toBe(true);
    expect(order.needs.missing.map(({ name }) => name)).toEqual(["untested"]);
  });

  test("cuts off the same pieces share them: the greater need decides and the rest comes out beside", () => {
    const facts = [
      dealer, item("short-loin"), quote("short-loin", "9 a lb"),
      butcherTest("s1", "short-loin", "20 lb", null, [part("main", "strip", "10 lb", { marketValue: null }), part("main", "tender", "5 lb")]),
      cut("strip", { kind: "item", id: "short-loin" }, ["s1"], { partKey: "strip" }), cut("tender", { kind: "item", id: "short-loin" }, ["s1"], { partKey: "tender" }),
      dish("both", ["cut strip 1 lb", "cut tender 1 lb"]),
    ];
    const needs = orderNeeds(compiled(bookOf(facts)), plan({ both: "10" }));
    const [loin] = needs.items;
    // The tenderloin needs 40 lb, and 20 lb of strip come with it, of which 10 were wanted.
    expect(lb(loin?.needed ?? ratio.ZERO)).toBe("40");
    expect(loin?.cuts.map(({ cutId, comesWith }) => [cutId, comesWith])).toEqual([["strip", "tender"], ["tender", null]]);
    expect(needs.byProducts.map(({ name, amount }) => [name, lb(amount)])).toEqual([["strip", "10"]]);
  });

  test("a dealer's minimum is told, and a by-product of the house is not bought", () => {
    const transfer = { price: { kind: "fixed" as const, rate: { amount: exact("2"), per: "lb" as const }, source: "the house" }, on: "2026-11-01", destination: "", use: null };
    const facts: readonly Change[] = [
      ...LOIN.filter(({ kind, id }) => kind !== "dealer" && id !== "t1"), item("own-trim", "mass", { transfer }),
      { kind: "dealer", id: "dealer", after: { id: "dealer", name: "Harbour", note: "", minimumOrder: { amount: exact("400") }, ordering: "by 4 pm" } },
      butcherTest("t1", "loin", "12 lb", "8 a lb", [part("main", "steak", "8 lb"), part("by-product", "trim", "2 lb", { value: { kind: "item", id: "own-trim" } })]),
      dish("burger", ["item own-trim 6 oz"]),
    ];
    const order = orderOf(compiled(bookOf(facts)), plan({ frites: "30", burger: "20" }));
    expect(order.needs.house.map(({ name, needed, comesOut }) => [name, lb(needed), lb(comesOut)])).toEqual([["own-trim", "7.5", "4.6875"]]);
    expect(order.dealers.map(({ name, total, minimum }) => [name, show(total), show(minimum?.short ?? ratio.ZERO)])).toEqual([["Harbour", "288", "112"]]);
  });

  test("a chain of cuts: cooked from trimmed from the loin, each by its own yield", () => {
    const facts = [...LOIN,
      butcherTest("roast", "trimmed", "8 lb", null, [part("main", "steak", "6 lb")], { of: { kind: "cut", id: "trimmed" } }),
      cut("roasted", { kind: "cut", id: "trimmed" }, ["roast"]), dish("plate", ["cut roasted 6 lb"])];
    const needs = orderNeeds(compiled(bookOf(facts)), plan({ plate: "2" }));
    expect(lb(needs.items[0]?.needed ?? ratio.ZERO)).toBe("24");
    expect(needs.items[0]?.cuts.map(({ cutId }) => cutId)).toEqual(["trimmed", "roasted"]);
  });

  test("taken away and eaten here take different lines; a dish without lines is named", () => {
    const facts = [dealer, item("box", "count"), quote("box", "0.5 a each"), dish("togo", ["item box 1 each"]), dish("bare", [])];
    const away = facts.map((fact) => (fact.kind === "dish" && fact.id === "togo" && fact.after !== null ? { ...fact, after: { ...fact.after, lines: fact.after.lines.map((one) => ({ ...one, channel: "away" as const })) } } : fact));
    const cascade = compiled(bookOf(away));
    expect(orderNeeds(cascade, plan({ togo: "9", bare: "3" })).items).toEqual([]);
    const needs = orderNeeds(cascade, plan({ togo: "9", bare: "3" }, { way: "away" }));
    expect([needs.items.map(({ needed }) => show(needed)), needs.empty]).toEqual([["9"], ["bare"]]);
  });
});

describe("how sure", () => {
  const level = fc.constantFrom(exact("0.8"), exact("0.9"), exact("0.95"), exact("0.99"));
  const pounds = fc.integer({ min: 1, max: 100_000 }).map((n) => ratio.of(BigInt(n), 10n));
  const cutOf = (tests: Parameters<typeof quantityFor>[1]["tests"]) => {
    const billed = ratio.sum(tests.map((one) => one.billed));
    return { tests, yield: ratio.div(ratio.sum(tests.map((one) => one.usable)), billed), piece: ratio.div(billed, ratio.sum(tests.map((one) => one.pieces))) };
  };

  test("the quantity is the one whose own lower limit just gives what is needed", () => {
    fc.assert(fc.property(someTests(2, 9), pounds, level, (tests, needed, sure) => {
      const own = cutOf(tests);
      const found = quantityFor(needed, own, sure);
      if (found.sureness.by === "mean") return;
      const limit = lowerLimit(own, ratio.div(found.quantity, own.piece), sure);
      if (limit === null) throw new Error("expected a limit");
      const gives = limit.mul(ratio.toDecimal(found.quantity));
      const want = ratio.toDecimal(needed);
      expect(gives.minus(want).abs().lte(want.mul("1e-15"))).toBe(true);
      // And whole pieces, counted up, give at least that.
      const whole = ratio.of(ratio.ceil(ratio.div(found.quantity, own.piece)));
      expect((lowerLimit(own, whole, sure) ?? limit).mul(ratio.toDecimal(ratio.mul(whole, own.piece))).gte(want.mul("0.999999999999999"))).toBe(true);
    }));
  });

  test("never less than the mean asks for, more for more, and more for surer", () => {
    fc.assert(fc.property(someTests(2, 9), pounds, pounds, (tests, a, b) => {
      const own = cutOf(tests);
      const [less, more] = ratio.compare(a, b) <= 0 ? [a, b] : [b, a];
      const at = (needed: Ratio, sure: string | null): Ratio | null => { const found = quantityFor(needed, own, sure === null ? null : exact(sure)); return sure !== null && found.sureness.by === "mean" ? null : found.quantity; };
      const [mean, eighty, ninety, many] = [at(less, null), at(less, "0.8"), at(less, "0.9"), at(more, "0.8")];
      if (mean === null || eighty === null) return;
      expect(ratio.compare(eighty, mean)).not.toBe(-1);
      if (many !== null) expect(ratio.compare(many, eighty)).not.toBe(-1);
      if (ninety !== null) expect(ratio.compare(ninety, eighty)).not.toBe(-1);
    }));
  });

  test("what cannot be made sure of says why", () => {
    const why = (tests: Parameters<typeof cutOf>[0], sure = "0.95") => { const found = quantityFor(ratio.ONE, tests.length === 0 ? { tests: [], yield: figure("0.5"), piece: null } : cutOf(tests), exact(sure)); return found.sureness.by === "mean" ? found.sureness.why : "limit"; };
    const one = { id: "a", on: null, pieces: ratio.ONE, billed: figure("10"), usable: figure("6"), yield: figure("0.6"), gains: false };
    const other = { ...one, id: "b", usable: figure("5"), yield: figure("0.5") };
    expect([why([]), why([one]), why([one, other], "0.99"), why([one, other], "0.8")]).toEqual(["borrowed", "one-test", "too-spread", "limit"]);
  });
});

/** An oracle written the other way round: how much of an item one of a thing takes, by weight and without sharing of pieces. null: not known. */
function takes(book: Book, kind: string, id: string, itemId: string): Ratio | null {
  const over = (all: readonly Line[]): Ratio | null => all.reduce<Ratio | null>((sum, one) => {
    const own = lineInBase(book, one);
    if (sum === null || !own.ok) return null;
    const each = takes(book, one.of.kind, one.of.id, itemId);
    return each === null ? null : ratio.add(sum, ratio.mul(own.amount, each));
  }, ratio.ZERO);
  switch (kind) {
    case "item": return id === itemId ? ratio.ONE : ratio.ZERO;
    case "dish": return over(book.shelves.dish.get(id)?.lines ?? []);
    case "recipe": return over(book.shelves.recipe.get(id)?.lines ?? []);
    case "spec": {
      const own = book.shelves.spec.get(id);
      return own === undefined ? null : over([{ key: "", of: { kind: "cut", id: own.cutId }, quantity: cutWeight(own), note: "" }]);
    }
    default: {
      const own = book.shelves.cut.get(id);
      const known = own === undefined ? null : yieldOf(book, own);
      if (own === undefined || known === null) return null;
      const each = over([{ key: "", of: own.of, quantity: { amount: exact("1"), unit: BASE_UNIT[cutKind(book, id) ?? "mass"] }, note: "" }]);
      return each === null ? null : ratio.div(each, known.yield);
    }
  }
}

describe("laws over random books", () => {
  const twoPlans = (g: fc.GeneratorValue): { readonly book: Book; readonly fewer: OrderPlan; readonly more: OrderPlan } => {
    const book = randomBook(g);
    const covers = [...book.shelves.dish.keys()].map((id) => [id, g(fc.integer, { min: 1, max: 90 }), g(fc.integer, { min: 0, max: 40 })] as const);
    const sureness = g(fc.constantFrom<(string | null)[]>, null, "0.8", "0.95");
    const own = { sureness: sureness === null ? null : exact(sureness) };
    return {
      book, fewer: plan(Object.fromEntries(covers.map(([id, n]) => [id, `${n}`])), own), more: plan(Object.fromEntries(covers.map(([id, n, extra]) => [id, `${n + extra}`])), own),
    };
  };

  test("more covers never need less of anything, nor fewer packs", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const { book, fewer, more } = twoPlans(g);
      const cascade = compiled(book);
      const [some, many] = [orderOf(cascade, fewer), orderOf(cascade, more)];
      const packsOf = (order: typeof some) => new Map(order.dealers.flatMap(({ lines: own }) => own.map(({ need, packs }) => [need.itemId, { needed: need.needed, packs: typeof packs === "string" ? 0n : packs.packs }] as const)));
      const grown = packsOf(many);
      for (const [id, one] of packsOf(some)) {
        const other = grown.get(id);
        expect(other !== undefined && ratio.compare(other.needed, one.needed) >= 0 && other.packs >= one.packs).toBe(true);
      }
    }), { numRuns: 60 });
  });

  test("buying the packs suffices: whole packs hold what is needed, and each cut gets its edible portion and its pieces", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const { book, more } = twoPlans(g);
      const order = orderOf(compiled(book), more);
      for (const { lines: own } of order.dealers) {
        for (const { need, packs, toBuy } of own) {
          if (typeof packs !== "string") {
            // By the piece: as many as are counted out of. Else as much as is needed, and one pack fewer would not do.
            if (packs.pieces !== null) expect(ratio.compare(ratio.mul(packs.pieces, ratio.of(packs.packs)), ratio.of(need.pieces))).not.toBe(-1);
            else expect([ratio.compare(packs.bought, toBuy) >= 0, packs.packs === 0n || ratio.compare(ratio.sub(packs.bought, packs.content), toBuy) === -1]).toEqual([true, true]);
            expect(ratio.sign(packs.over)).not.toBe(-1);
          }
          for (const made of need.cuts) {
            const of = book.shelves.cut.get(made.cutId);
            const known = of === undefined ? null : yieldOf(book, of);
            if (made.bought === null || known === null) continue;
            expect(ratio.compare(ratio.mul(made.bought.quantity, known.yield), made.needed)).not.toBe(-1);
            for (const counted of made.counted) {
              expect(ratio.compare(ratio.mul(ratio.of(counted.pieces), counted.perPiece), counted.portions)).not.toBe(-1);
              expect((made.pieces ?? 0n) >= counted.pieces).toBe(true);
            }
          }
        }
      }
    }), { numRuns: 60 });
  });

  test("at the mean, by weight, an item is needed as the recipes say, worked out from the item upwards", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const random = randomBook(g);
      const book: Book = { ...random, shelves: { ...random.shelves, spec: new Map([...random.shelves.spec].map(([id, one]) => [id, { ...one, costing: "by-weight" as const }])) } };
      const dishes = [...book.shelves.dish.keys()];
      const needs = orderNeeds(compiled(book), plan(Object.fromEntries(dishes.map((id) => [id, "7"]))));
      for (const itemId of book.shelves.item.keys()) {
        const each = dishes.map((id) => takes(book, "dish", id, itemId));
        if (each.some((one) => one === null)) continue;
        const sum = ratio.mul(ratio.sum(each.flatMap((one) => one ?? [])), figure("7"));
        expect([...needs.items, ...needs.house].find((need) => need.itemId === itemId)?.needed ?? ratio.ZERO).toEqual(sum);
      }
    }), { numRuns: 80 });
  });

  test("by-products are the share that the tests weighed", () => {
    const book = bookOf([...LOIN, butcherTest("t2", "loin", "24 lb", null, [part("main", "steak", "17 lb"), part("by-product", "bone", "3 lb", { value: typed("1 a lb") })]), cut("trimmed", { kind: "item", id: "loin" }, ["t1", "t2"])]);
    const needs = orderNeeds(compiled(book), plan({ frites: "40" }));
    const loin = needs.items[0]?.needed ?? ratio.ZERO;
    const trimmed = book.shelves.cut.get("trimmed");
    const pooled = poolWeights(trimmed === undefined ? [] : adoptedTests(book, trimmed) ?? []);
    const read = pooled.ok ? readWeights(pooled.value) : pooled;
    if (!read.ok) throw new Error("expected the tests to pool");
    for (const { name, amount } of needs.byProducts) {
      const weighed = read.value.parts.find((one) => one.name === name)?.weight ?? ratio.ZERO;
      expect(amount).toEqual(ratio.mul(loin, ratio.div(weighed, read.value.billed)));
    }
    expect(needs.byProducts.map(({ name }) => name)).toEqual(["trim", "bone"]);
  });
});

describe("quantities as they are told", () => {
  test("what is needed never falls short, what is left is never more, and neither is off by more than a step", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 9_000_000 }), fc.integer({ min: 1, max: 97 }), fc.constantFrom("mass", "volume", "count"), fc.constantFrom("us", "metric"), (n, d, kind, measures) => {
      const amount = ratio.of(BigInt(n), BigInt(d));
      const back = (way: "up" | "down"): Ratio => { const told = toldAs(amount, kind, { measures }, way); return ratio.mul(ratio.fromExact(told.amount), ratio.fromExact(baseFactor(told.unit))); };
      expect([ratio.compare(back("up"), amount) >= 0, ratio.compare(back("down"), amount) <= 0]).toEqual([true, true]);
      // A whole thing, an ounce, an eighth of a quart.
      expect(ratio.compare(ratio.sub(back("up"), back("down")), figure("119"))).toBe(-1);
    }));
    expect(toldAs(figure("12757"), "mass", { measures: "us" }, "up")).toEqual({ amount: "28.125", unit: "lb" });
  });
});

describe("a plan that was kept", () => {
  test("comes back as it was, and what cannot be read is counted", () => {
    const kept = plan({ frites: "30" }, { lines: lines("item chuck 4 lb"), onHand: lines("spec steak-10 6 portion"), sureness: exact("0.9"), way: "away", note: "tent" });
    expect(readOrderPlan(JSON.parse(JSON.stringify(kept)))).toEqual({ plan: kept, lost: 0 });
    expect(readOrderPlan({ dishes: [{ key: "a", dishId: "x", covers: "many" }], lines: [{ of: { kind: "ship", id: "x" } }], sureness: "2", way: 7 })).toEqual({ plan: EMPTY_PLAN, lost: 2 });
    expect(readOrderPlan(null)).toEqual({ plan: EMPTY_PLAN, lost: 0 });
  });
});
