/** By-products worth what they earn, where that rests on their own cost: found, cut, and solved exactly. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, type Change, checkChanges, withChanges } from "@/lib/book";
import { loopOf, cutLoop, lastWorths, settles, solveLoop, solveTogether } from "@/lib/buying";
import { type Cascade, compile, costAsRate } from "@/lib/cascade";
import { type Ratio, ratio } from "@/lib/measure";
import { bookOf, butcherTest, byProduct, cut, dealer, dish, item, part, quote, recipe, spec, striploin } from "../menu/small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map((problem) => problem.sentence).join(" "));
  return cascade.value;
}

/** The grind takes chuck and some of the trimmed strip; the strip's lean trim is worth what the grind costs. */
const looped: readonly Change[] = [...striploin, recipe("burger-grind", ["10 lb"], ["item chuck 8 lb", "cut strip 2 lb"]), dish("burger", ["recipe burger-grind 6 oz"]), dish("steak", ["spec steak-10oz 1 portion"])];
const starts = [{ kind: "recipe", id: "burger-grind" }] as const;

describe("a loop", () => {
  const book = bookOf(looped);

  test("is what the book refuses, and is told by the names people gave", () => {
    expect(checkChanges(bookOf(striploin), [looped.at(-3) as Change]).map(({ code }) => code)).toContain("cycle");
    const loop = loopOf(book, starts);
    expect(loop?.way).toEqual(["burger-grind", "strip", "burger-grind"]);
    expect(loop?.worths).toMatchObject([{ of: { kind: "recipe", id: "burger-grind" }, name: "lean-trim", unit: "lb", parts: [{ testId: "test-1", key: "lean-trim" }] }]);
  });

  test("is none where nothing comes back, and none that can be cut where recipes alone go round", () => {
    expect(loopOf(bookOf(striploin), starts)).toBeNull();
    const recipes = bookOf([item("bones"), quote("bones", "1.20 a lb"), recipe("stock", ["4 qt"], ["recipe glaze 1 qt"]), recipe("glaze", ["1 qt"], ["recipe stock 4 qt"])]);
    expect(loopOf(recipes, [{ kind: "recipe", id: "stock" }])).toBeNull();
  });

  test("solved by hand: x = (8·3.20 + 2·(13.5·7.10 − 0.875·5.10 − 1.625·x)/8.6875)/10", () => {
    const loop = loopOf(book, starts);
    const solved = loop && solveLoop(book, loop);
    if (!solved?.ok) throw new Error("expected a solution");
    const [a] = solved.A[0] ?? [];
    // −2·1.625/(10·8.6875)
    expect(a).toEqual(ratio.neg(ratio.div(ratio.of(13n, 4n), ratio.of(695n, 8n))));
    const b = ratio.div(ratio.add(ratio.of(256n, 10n), ratio.div(ratio.mul(ratio.of(2n), ratio.sub(ratio.of(9585n, 100n), ratio.of(44625n, 10000n))), ratio.of(139n, 16n))), ratio.of(10n));
    expect(solved.b).toEqual([b]);
    expect(solved.x).toEqual([ratio.div(b, ratio.sub(ratio.ONE, a ?? ratio.ZERO))]);
  });

  test("cut at the solution, the by-product is worth exactly what it earns, and the house costs the same at any price", () => {
    const loop = loopOf(book, starts);
    const solved = loop && solveLoop(book, loop);
    if (!loop || !solved?.ok) throw new Error("expected a solution");
    const fixed = compiled(withChanges(book, cutLoop(book, loop, (_, at) => ({ kind: "fixed", rate: { amount: ratio.toExact(solved.x[at] ?? ratio.ZERO), per: "lb" }, source: "solved together" }))));
    expect(costAsRate(fixed, { kind: "recipe", id: "burger-grind" }, "lb")?.amount).toBe(ratio.toExact(solved.x[0] ?? ratio.ZERO));
    expect(checkChanges(bookOf(striploin), [...looped.slice(-3), ...cutLoop(book, loop, () => ({ kind: "fixed", rate: { amount: ratio.toExact(ratio.ONE), per: "lb" }, source: "typed" }))])).toEqual([]);
    expect(lastWorths(compiled(bookOf(striploin)), loop).map((rate) => rate?.amount)).toEqual(["3.2"]);
  });

  test("says what keeps it from being solved: nothing that settles, nothing above zero, a missing price", () => {
    // All of the grind is strip, of which as much trim comes off as steak: the trim's worth would swing the other way by as much.
    const wild = bookOf([
      dealer, item("loin"), quote("loin", "5 a lb"), recipe("grind", ["1 lb"], ["cut strip 1 lb"]),
      butcherTest("t", "loin", "10 lb", "5 a lb", [part("main", "steak", "4 lb"), part("by-product", "trim", "4 lb", { value: { kind: "recipe", id: "grind" } })]),
      cut("strip", { kind: "item", id: "loin" }, ["t"]),
    ]);
    const loop = loopOf(wild, [{ kind: "cut", id: "strip" }]);
    expect(loop && solveLoop(wild, loop)).toEqual({ ok: false, why: "does-not-settle" });
    const unpriced = withChanges(book, [{ kind: "quote", id: "quote-chuck", after: null }]);
    const same = loopOf(unpriced, starts);
    expect(same && solveLoop(unpriced, same)).toMatchObject({ ok: false, why: "missing", missing: [{ what: "price", of: { kind: "item", id: "chuck" } }] });
    const nets = bookOf([...looped, byProduct("scrap", "chuck less 90 a lb"), recipe("burger-grind", ["10 lb"], ["item scrap 8 lb", "cut strip 2 lb"])]);
    const below = loopOf(nets, starts);
    expect(below && solveLoop(nets, below)).toEqual({ ok: false, why: "below-nothing" });
  });

  test("with several worths: two cuts that go into each other's grind, solved as one", () => {
    const two = bookOf([
      ...striploin, item("rib"), quote("rib", "9.40 a lb"),
      butcherTest("test-2", "rib", "18 lb", "9.40 a lb", [part("main", "steak", "10 lb"), part("by-product", "cap", "3 lb", { value: { kind: "recipe", id: "cap-grind" } })]),
      cut("ribeye", { kind: "item", id: "rib" }, ["test-2"]),
      recipe("burger-grind", ["10 lb"], ["item chuck 8 lb", "cut ribeye 2 lb"]), recipe("cap-grind", ["5 lb"], ["item chuck 3 lb", "cut strip 2 lb"]),
      spec("ribeye-8oz", "ribeye", "8 oz"),
    ]);
    const loop = loopOf(two, [{ kind: "cut", id: "ribeye" }]);
    const solved = loop && solveLoop(two, loop);
    if (!loop || !solved?.ok) throw new Error("expected a solution");
    expect(loop.worths.length).toBe(2);
    const fixed = compiled(withChanges(two, cutLoop(two, loop, (_, at) => ({ kind: "fixed", rate: { amount: ratio.toExact(solved.x[at] ?? ratio.ZERO), per: "lb" }, source: "solved together" }))));
    loop.worths.forEach(({ of }, at) => expect(costAsRate(fixed, of, "lb")?.amount).toBe(ratio.toExact(solved.x[at] ?? ratio.ZERO)));
  });
});

describe("x = A·x + b", () => {
  const entry = fc.tuple(fc.bigInt(-40n, 40n), fc.bigInt(1n, 60n)).map(([n, d]) => ratio.of(n, d));
  const system = fc.integer({ min: 1, max: 4 }).chain((n) => fc.tuple(fc.array(fc.array(entry, { minLength: n, maxLength: n }), { minLength: n, maxLength: n }), fc.array(entry, { minLength: n, maxLength: n })));
  const apply = (A: readonly (readonly Ratio[])[], x: readonly Ratio[]): Ratio[] => A.map((row) => ratio.sum(row.map((a, j) => ratio.mul(a, x[j] ?? ratio.ZERO))));
  const size = (a: Ratio): Ratio => (ratio.sign(a) < 0 ? ratio.neg(a) : a);

  test("the solution satisfies it exactly, and taking the values in turn comes ever nearer to it", () => {
    fc.assert(fc.property(system, ([A, b]) => {
      const solved = solveTogether(A, b);
      if (!solved.ok) return;
      expect(apply(A, solved.x).map((value, i) => ratio.add(value, b[i] ?? ratio.ZERO))).toEqual(solved.x);
      let x: Ratio[] = b.map(() => ratio.ZERO);
      const off = (): number => Math.max(...x.map((value, i) => Number(ratio.toDecimal(size(ratio.sub(value, solved.x[i] ?? ratio.ZERO))))));
      const before = off();
      // Powers of a matrix by squaring: x after 2^k turns, told as far as a double tells it.
      const rounded = (value: Ratio): Ratio => ratio.of(BigInt(ratio.toDecimal(value).mul("1e30").toFixed(0)), 10n ** 30n);
      let P = A.map((row) => row.map(rounded));
      let c = b.map(rounded);
      for (let k = 0; k < 14; k += 1) {
        c = apply(P, c).map((value, i) => rounded(ratio.add(value, c[i] ?? ratio.ZERO)));
        P = P.map((row) => P.map((_, j) => rounded(ratio.sum(row.map((a, l) => ratio.mul(a, P[l]?.[j] ?? ratio.ZERO))))));
      }
      x = c;
      expect(off() <= before + 1e-9).toBe(true);
    }), { numRuns: 150 });
  });

  test("rows that each come to less than 1 settle, and those that each come to 1 or more do not", () => {
    fc.assert(fc.property(system, ([A]) => {
      const sums = A.map((row) => ratio.sum(row.map(size)));
      if (sums.every((sum) => ratio.compare(sum, ratio.ONE) < 0)) expect(settles(A)).toBe(true);
      if (sums.every((sum) => ratio.compare(sum, ratio.ONE) >= 0)) expect(settles(A)).toBe(false);
    }), { numRuns: 300 });
  });

  test("two that are each worth what the other is are held by nothing", () => {
    expect(solveTogether([[ratio.ZERO, ratio.ONE], [ratio.ONE, ratio.ZERO]], [ratio.ZERO, ratio.ZERO])).toEqual({ ok: false, why: "does-not-settle" });
    expect(() => solveTogether([[ratio.ZERO]], [])).toThrow("square");
  });
});
