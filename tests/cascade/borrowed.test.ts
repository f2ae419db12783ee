/**
 * A cut without a test on a borrowed yield: it costs price over share, exactly; every portion, recipe and dish on it says
 * so and no other does; a test of the house's own wins, and the borrowed yield comes back when it goes.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, type BorrowedYield, type Change, borrowedInUse } from "@/lib/book";
import { type Cascade, NODE_KINDS, type NodeRef, advance, borrowedBelow, carriedIn, compile, costExactly, costOf, explain, tryOut, yieldOfCut } from "@/lib/cascade";
import { rowsBelow } from "@/lib/cascade/exact";
import { type Exact, exact, exactRatio, ratio, toDecimal } from "@/lib/measure";
import { dishFigures, readRipple } from "@/lib/menu";
import { bookOf, butcherTest, cut, dish, eachWeight, item, part, quote, randomBook, recipe, spec, typed } from "../menu/small-books";

const borrowed = (share: string): BorrowedYield => ({ share: exact(share), what: "Leeks, raw; without tops, root end and skin", source: "USDA, Release 28", on: "2026-11-25" });
const fromLeeks = { kind: "item", id: "leeks" } as const;
const trimmed = (share: string | null, tests: readonly string[] = []): Change => cut("leeks-trimmed", fromLeeks, tests, { borrowed: share === null ? null : borrowed(share) });
const ownTest = butcherTest("own", "leeks", "10 lb", "1.10 a lb", [part("main", "steak", "5 lb"), part("by-product", "tops", "2 lb", { value: typed("0.20 a lb") })]);

const leeks: readonly Change[] = [
  item("leeks"), quote("leeks", "1.10 a lb"), item("cream"), quote("cream", "2 a lb"),
  spec("handful", "leeks-trimmed", "4 oz"), recipe("soup", ["4 qt"], ["cut leeks-trimmed 3 lb", "item cream 1 lb"]), recipe("cream-only", ["1 qt"], ["item cream 2 lb"]),
  dish("leek-soup", ["recipe soup 0.25 qt", "spec handful 1 portion"]), dish("plain", ["recipe cream-only 0.5 qt"]),
];

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map(({ sentence }) => sentence).join(" "));
  return cascade.value;
}

const names = (cascade: Cascade, ref: NodeRef): readonly string[] => costOf(cascade, ref)?.borrowed.map(({ name }) => name) ?? [];

describe("a cut on a borrowed yield", () => {
  test("costs the price over the share, to the last digit, and is not missing anything", () => {
    const cascade = compiled(bookOf([...leeks, trimmed("0.44")]));
    const cost = costOf(cascade, { kind: "cut", id: "leeks-trimmed" });
    expect(cost?.missing).toEqual([]);
    expect(cost?.borrowed).toEqual([{ id: "leeks-trimmed", name: "leeks-trimmed" }]);
    const price = costExactly(cascade, fromLeeks);
    expect(costExactly(cascade, { kind: "cut", id: "leeks-trimmed" })).toEqual(ratio.div(price, ratio.of(44n, 100n)));
    expect(yieldOfCut(cascade, "leeks-trimmed")).toEqual(ratio.of(11n, 25n));
  });

  test("over any price and share: C·Y = P", () => {
    const any = fc.tuple(fc.integer({ min: 1, max: 1_000_000 }), fc.integer({ min: 1, max: 400 }), fc.integer({ min: 100, max: 999 }));
    fc.assert(fc.property(any, ([cents, n, d]) => {
      const share: Exact = exactRatio(BigInt(n), BigInt(d));
      const cascade = compiled(bookOf([...leeks, quote("leeks", `${(cents / 100).toFixed(2)} a lb`), trimmed(share)]));
      expect(ratio.mul(costExactly(cascade, { kind: "cut", id: "leeks-trimmed" }), ratio.fromExact(share))).toEqual(costExactly(cascade, fromLeeks));
    }), { numRuns: 200 });
  });

  test("whatever rests on it says so, and nothing else does", () => {
    const cascade = compiled(bookOf([...leeks, trimmed("0.44")]));
    for (const ref of [{ kind: "spec", id: "handful" }, { kind: "recipe", id: "soup" }, { kind: "dish", id: "leek-soup" }] as const) expect(names(cascade, ref)).toEqual(["leeks-trimmed"]);
    for (const ref of [fromLeeks, { kind: "recipe", id: "cream-only" }, { kind: "dish", id: "plain" }] as const) expect(names(cascade, ref)).toEqual([]);
    expect(dishFigures(cascade, "leek-soup")?.plateCost.borrowed).toHaveLength(1);
  });

  test("a by-product worth what a recipe on it costs brings it to the cut that credits it, and a cut made of it carries it on", () => {
    const cascade = compiled(bookOf([
      ...leeks, trimmed("0.44"), item("hake"), quote("hake", "6 a lb"),
      butcherTest("hake-test", "hake", "10 lb", "6 a lb", [part("main", "steak", "6 lb"), part("by-product", "heads", "2 lb", { value: { kind: "recipe", id: "soup" } })]),
      cut("hake-loin", { kind: "item", id: "hake" }, ["hake-test"]), cut("sweated", { kind: "cut", id: "leeks-trimmed" }, [], { borrowed: borrowed("0.8") }),
      { ...recipe("soup", ["4 qt", "8 lb"], ["cut leeks-trimmed 3 lb", "item cream 1 lb"]) },
    ]));
    expect(names(cascade, { kind: "cut", id: "hake-loin" })).toEqual(["leeks-trimmed"]);
    expect(names(cascade, { kind: "cut", id: "sweated" })).toEqual(["leeks-trimmed", "sweated"]);
    expect(yieldOfCut(cascade, "sweated")).toEqual(ratio.of(4n, 5n));
  });

  test("a test of the house's own wins, and the borrowed yield stays on file unused", () => {
    const before = compiled(bookOf([...leeks, trimmed("0.44")]));
    const tested = tryOut(before, [ownTest, trimmed("0.44", ["own"])]);
    if (!tested.ok) throw new Error("expected the test to be laid over");
    const { after } = tested.value;
    const alone = compiled(bookOf([...leeks, ownTest, trimmed(null, ["own"])]));
    expect(costExactly(after, { kind: "dish", id: "leek-soup" })).toEqual(costExactly(alone, { kind: "dish", id: "leek-soup" }));
    expect(names(after, { kind: "dish", id: "leek-soup" })).toEqual([]);
    const moved = tested.value.ripple.moved.find(({ ref }) => ref.id === "leeks-trimmed");
    expect([moved?.before?.borrowed.length, moved?.after?.borrowed.length]).toEqual([1, 0]);
    const kept = after.book.shelves.cut.get("leeks-trimmed");
    expect([kept?.borrowed?.share, kept && borrowedInUse(kept)]).toEqual(["0.44", null]);
    // Without the test it is costed by the borrowed yield again, by the same digits.
    const back = advance(after, [trimmed("0.44"), { kind: "test", id: "own", after: null }]);
    expect(back.ok && costOf(back.value.cascade, { kind: "dish", id: "leek-soup" })).toEqual(costOf(before, { kind: "dish", id: "leek-soup" }));
  });

  test("taken up, a dish that was “at least” is whole; given back, it is “at least” again", () => {
    const without = compiled(bookOf([...leeks, trimmed(null)]));
    expect(costOf(without, { kind: "dish", id: "leek-soup" })?.missing.map(({ what }) => what)).toContain("yield");
    const taken = advance(without, [trimmed("0.44")]);
    if (!taken.ok) throw new Error("expected the yield to be borrowed");
    expect(costOf(taken.value.cascade, { kind: "dish", id: "leek-soup" })?.missing).toEqual([]);
    const report = readRipple(without, taken.value.cascade, taken.value.ripple);
    expect(report.dishes.map((move) => [move.dishId, move.before?.plateCost.borrowed.length, move.after?.plateCost.borrowed.length])).toEqual([["leek-soup", 0, 1]]);
    const back = advance(taken.value.cascade, [trimmed(null)]);
    expect(back.ok && names(back.value.cascade, { kind: "dish", id: "leek-soup" })).toEqual([]);
  });

  test("opened, it is one pound bought over what is usable of it, with the source on the step", () => {
    const opened = explain(compiled(bookOf([...leeks, trimmed("0.44")])), { kind: "cut", id: "leeks-trimmed" });
    expect(opened?.steps.map(({ kind, amount }) => [kind, amount?.toDecimalPlaces(25).toString()])).toEqual([["billed", "1.1"], ["borrowed", "0"]]);
    expect(opened?.divisor).toEqual({ amount: "0.44", unit: "lb" });
    expect(opened?.steps[1]?.detail).toEqual({ of: "borrowed", borrowed: borrowed("0.44") });
    expect(opened?.costOf[0]?.amount.toDecimalPlaces(25).toString()).toBe("2.5");
    const rice = explain(compiled(bookOf([...leeks, trimmed("2.5")])), { kind: "cut", id: "leeks-trimmed" });
    expect(rice?.steps[1]).toMatchObject({ name: "taken up", quantity: { amount: "1.5", unit: "lb" } });
    const line = explain(compiled(bookOf([...leeks, trimmed("0.44")])), { kind: "recipe", id: "soup" });
    expect(line?.steps[0]).toMatchObject({ behind: { kind: "borrowed" }, borrowed: [{ id: "leeks-trimmed" }] });
    expect(line?.steps[1]?.borrowed).toEqual([]);
  });

  test("by whole portions a piece has to be weighed: a borrowed yield knows no pieces", () => {
    const cascade = compiled(bookOf([...leeks, trimmed("0.44"), spec("handful", "leeks-trimmed", "4 oz", { costing: "whole" })]));
    expect(costOf(cascade, { kind: "spec", id: "handful" })?.missing).toEqual([{ what: "yield", of: { kind: "spec", id: "handful" }, name: "handful" }]);
  });

  test("a cooking test of it carries its share on", () => {
    const sweat = butcherTest("sweat", "leeks", "4 lb", null, [part("main", "steak", "3 lb")], { of: { kind: "cut", id: "leeks-trimmed" }, dealerId: null });
    const cascade = compiled(bookOf([...leeks, trimmed("0.44"), sweat]));
    const recorded = cascade.book.shelves.test.get("sweat");
    expect(recorded && carriedIn(cascade, recorded)?.yield).toEqual(ratio.of(11n, 25n));
  });

  test("what is told by the piece is borrowed by the piece", () => {
    const cascade = compiled(bookOf([...leeks, item("lemons", "count", { eachWeight: eachWeight("4 oz") }), quote("lemons", "0.50 a each"), cut("good-lemons", { kind: "item", id: "lemons" }, [], { borrowed: borrowed("0.8") })]));
    expect(costExactly(cascade, { kind: "cut", id: "good-lemons" })).toEqual(ratio.of(5n, 8n));
    expect(costOf(cascade, { kind: "cut", id: "good-lemons" })?.per).toBe("each");
  });
});

describe("over random books", () => {
  const REFS = (book: Book): NodeRef[] => NODE_KINDS.flatMap((kind) => [...book.shelves[kind].keys()].map((id): NodeRef => ({ kind, id })));

  test("a node names every borrowed cut that its row rests on, and only cuts that borrow", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const ref of REFS(cascade.book)) {
        const told = borrowedBelow(cascade.book, ref).map(({ id }) => id);
        const below = rowsBelow(cascade, [ref]).flatMap((row) => {
          const one = row.ref.kind === "cut" ? cascade.book.shelves.cut.get(row.ref.id) : undefined;
          return one !== undefined && borrowedInUse(one) !== null ? [one.id] : [];
        });
        expect(told).toEqual(expect.arrayContaining(below));
        for (const id of told) expect(cascade.book.shelves.cut.get(id)?.testIds).toEqual([]);
        expect(costOf(cascade, ref)?.borrowed.map(({ id }) => id)).toEqual(told);
      }
    }), { numRuns: 150 });
  });

  test("taking up, giving back and testing cuts in any order leaves what the book says costs and borrows afresh", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      let cascade = compiled(randomBook(g));
      const ids = [...cascade.book.shelves.cut.keys()];
      for (let step = 0; step < 6; step += 1) {
        const id = ids[g(fc.nat, { max: ids.length - 1 })] ?? "";
        const now = cascade.book.shelves.cut.get(id);
        if (now === undefined) throw new Error("expected the cut to stay");
        const share = exact((g(fc.integer, { min: 1, max: 400 }) / 100).toFixed(2));
        const after = { ...now, borrowed: g(fc.boolean) ? borrowed(share) : null, testIds: g(fc.boolean) ? [] : now.testIds };
        const next = advance(cascade, [{ kind: "cut", id, after }]);
        if (!next.ok) throw new Error("expected the change to fit");
        cascade = next.value.cascade;
      }
      const fresh = compiled(cascade.book);
      for (const ref of REFS(cascade.book)) expect(costOf(cascade, ref)).toEqual(costOf(fresh, ref));
    }), { numRuns: 100 });
  });

  test("the engine agrees with the exact fraction", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const ref of REFS(cascade.book)) {
        const exactly = ratio.toDecimal(costExactly(cascade, ref));
        const gap = (costOf(cascade, ref)?.amount ?? toDecimal(exact("0"))).minus(exactly).abs();
        expect(gap.lte(exactly.abs().plus(1).mul("1e-24"))).toBe(true);
      }
    }), { numRuns: 60 });
  });
});
