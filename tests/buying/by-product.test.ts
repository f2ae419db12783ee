/** By-products used again in the house: how much comes off and is used in a usual week, and that credit and charge are one number. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, type Change, lineInBase, withChanges } from "@/lib/book";
import { byProducts, weekOf } from "@/lib/buying";
import { type Cascade, belowNothing, compile, costExactly, costOf, creditsOfCut, explain, tryOut } from "@/lib/cascade";
import { type Exact, type Ratio, BASE_UNIT, Decimal, baseFactor, exact, ratio } from "@/lib/measure";
import { bookOf, butcherTest, byProduct, cut, dish, item, menuPrice, part, q, quote, randomBook, rate, recipe, spec, striploin, week } from "../menu/small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map((problem) => problem.sentence).join(" "));
  return cascade.value;
}

const POUND = ratio.fromExact(baseFactor("lb"));
const pounds = (amount: Ratio | null | undefined): string | null => (amount === null || amount === undefined ? null : ratio.toDecimal(ratio.div(amount, POUND)).toSignificantDigits(10).toString());
const money = (amount: Ratio | null | undefined): string | null => (amount === null || amount === undefined ? null : ratio.toDecimal(amount).toSignificantDigits(10).toString());

/** 40 lb of striploin give 16 lb of steak and 8 lb of trim; the trim goes to the burger, in the place of chuck less 0.60 of grinding. */
const house = (use: { readonly produced: string; readonly used: string } | null, price = "chuck less 0.60 a lb"): readonly Change[] => [
  ...striploin.slice(0, 5),
  butcherTest("t", "striploin", "40 lb", "7.10 a lb", [part("main", "steak", "16 lb"), part("by-product", "trim", "8 lb", { value: { kind: "item", id: "trim" } }), part("by-product", "tail", "2 lb", { value: { kind: "typed", rate: rate("4 a lb") } })]),
  cut("strip", { kind: "item", id: "striploin" }, ["t"]), spec("steak-1lb", "strip", "1 lb"),
  byProduct("trim", price, { destination: "burger grind", use: use === null ? null : { produced: q(use.produced), used: q(use.used), over: "a usual week" } }),
  dish("steak", ["spec steak-1lb 1 portion"]), menuPrice("steak", "60"), recipe("burger-grind", ["10 lb"], ["item trim 5 lb", "item chuck 5 lb"]), dish("burger", ["recipe burger-grind 8 oz"]), menuPrice("burger", "10"),
  week("2026-11-09", { steak: "90", burger: "90" }), week("2026-11-16", { steak: "70", burger: "110" }),
];

describe("a by-product of the house", () => {
  test("costs what it takes the place of, less the work; credit and charge are that same cost", () => {
    const cascade = compiled(bookOf(house(null)));
    expect(costOf(cascade, { kind: "item", id: "trim" })?.amount.mul(ratio.toDecimal(POUND)).toSignificantDigits(20).toString()).toBe("2.6");
    // (40·7.10 − 8·2.60 − 2·4)/16
    expect(costOf(cascade, { kind: "spec", id: "steak-1lb" })?.amount.toSignificantDigits(20).toString()).toBe("15.95");
    expect(costOf(cascade, { kind: "recipe", id: "burger-grind" })?.amount.toSignificantDigits(20).toString()).toBe("29");
  });

  test("is opened to what it takes the place of, the work, and the day it was decided", () => {
    const opened = explain(compiled(bookOf(house(null))), { kind: "item", id: "trim" });
    expect(opened?.steps.map(({ kind, name, amount, ref }) => [kind, name, amount?.toSignificantDigits(12).toString(), ref?.id])).toEqual([["transfer", "chuck", "3.2", "chuck"], ["work", "the work still to be done", "-0.6", undefined]]);
    expect(opened?.divisor).toEqual({ amount: "1", unit: "lb" });
    expect(opened?.about).toMatchObject({ kind: "item", quote: null, transfer: { kind: "transfer", transfer: { on: "2026-11-01" }, inPlaceOf: { name: "chuck" } } });
    const fixed = explain(compiled(bookOf(house(null, "2.10 a lb"))), { kind: "item", id: "trim" });
    expect(fixed?.steps).toMatchObject([{ kind: "transfer", name: "decided by the chef", ref: null }]);
  });

  test("without the price of what it takes the place of, names that", () => {
    const cascade = compiled(withChanges(bookOf(house(null)), [{ kind: "quote", id: "quote-chuck", after: null }]));
    for (const ref of [{ kind: "item", id: "trim" }, { kind: "dish", id: "steak" }] as const) {
      expect(costOf(cascade, ref)?.missing.map(({ what, name }) => `${what} of ${name}`)).toEqual(["price of chuck"]);
    }
    // With the work taken off nothing bounds it.
    expect(costOf(cascade, { kind: "item", id: "trim" })?.amount.isZero()).toBe(true);
  });

  test("held to its use: 40 lb come off and 25 are used, so 62.5 % is credited, and it says so", () => {
    const cascade = compiled(bookOf(house({ produced: "40 lb", used: "25 lb" })));
    expect(costOf(cascade, { kind: "spec", id: "steak-1lb" })?.amount.toSignificantDigits(20).toString()).toBe(new Decimal("284").minus(new Decimal(8).mul("2.6").mul("0.625")).minus(8).div(16).toString());
    const credit = explain(cascade, { kind: "cut", id: "strip" })?.steps.find(({ key }) => key === "trim");
    expect(credit?.detail).toMatchObject({ of: "credit", cap: { use: { produced: q("40 lb"), used: q("25 lb") } } });
    expect(credit?.amount?.toSignificantDigits(12).toString()).toBe("-13");
    const other = tryOut(cascade, [{ kind: "item", id: "trim", after: (house({ produced: "40 lb", used: "60 lb" }).find((one) => one.kind === "item" && one.id === "trim") as Extract<Change, { kind: "item" }>).after }]);
    if (!other.ok) throw new Error("expected it to be tried");
    expect(other.value.ripple.moved.map(({ ref }) => ref.id)).toEqual(["strip", "steak-1lb", "steak"]);
  });

  test("that would be worth less than nothing is told", () => {
    const cascade = compiled(bookOf(house(null)));
    const chuck = quote("chuck", "0.50 a lb");
    const tried = tryOut(cascade, [chuck]);
    if (!tried.ok) throw new Error("expected it to be tried");
    expect(belowNothing(tried.value.ripple).map(({ code }) => code)).toEqual(["transfer-below-nothing"]);
  });

  test("two that take each other's place are refused with the way round", () => {
    const around = compile(bookOf([byProduct("a", "b"), byProduct("b", "a less 1 a lb")]));
    expect(around.ok).toBe(false);
    if (!around.ok) expect(around.problems[0]?.sentence).toMatch(/a → b → a|b → a → b/);
  });
});

describe("a usual week", () => {
  test("produced and used from what was sold: 80 steaks leave 40 lb, 100 burgers take 25 lb", () => {
    const { house: [trim], nowhere, weeks } = byProducts(compiled(bookOf(house(null))));
    expect(weeks).toBe(2);
    expect([pounds(trim?.produced), pounds(trim?.used)]).toEqual(["40", "25"]);
    expect(money(trim?.reckoned)).toBe("0.625");
    expect(trim?.to.map(({ by, perWeek }) => `${by.name} ${pounds(perWeek)}`)).toEqual(["burger-grind 25"]);
    expect(trim?.from.map(({ cuts, perWeek }) => `${cuts[0]?.name} ${pounds(perWeek)}`)).toEqual(["strip 40"]);
    expect(nowhere.map(({ name, perWeek, credited }) => `${name} ${pounds(perWeek)} ${money(credited)}`)).toEqual(["tail 10 40"]);
  });

  test("uncounted, more is credited than charged; counted, they are the same number", () => {
    const [uncounted] = byProducts(compiled(bookOf(house(null)))).house;
    expect(uncounted?.balance).toMatchObject({ says: "uncounted" });
    expect([money(uncounted?.balance?.credited), money(uncounted?.balance?.charged), pounds(uncounted?.balance?.unused)]).toEqual(["104", "65", "15"]);
    const [counted] = byProducts(compiled(bookOf(house({ produced: "40 lb", used: "25 lb" })))).house;
    expect(counted?.balance).toMatchObject({ says: "same", credited: ratio.of(65n), charged: ratio.of(65n), difference: ratio.ZERO });
    const [stale] = byProducts(compiled(bookOf(house({ produced: "40 lb", used: "30 lb" })))).house;
    expect(stale?.balance?.says).toBe("out-of-date");
  });

  test("a credit that a use cannot bear is told: the burger at 10.00 may cost 3.00", () => {
    const [trim] = byProducts(compiled(bookOf(house(null)))).house;
    // 8 oz of grind: 0.25 lb of trim and 0.25 lb of chuck at 3.20; 3.00 less 0.80 over 0.25 lb.
    expect(trim?.bears.map(({ name, most, exceeded }) => [name, money(ratio.mul(most, POUND)), exceeded])).toEqual([["burger", "8.8", false]]);
    const dear = byProducts(compiled(bookOf([...house(null, "9 a lb")]))).house[0];
    expect(dear?.bears[0]?.exceeded).toBe(true);
  });

  test("without sales nothing is made up", () => {
    const [trim] = byProducts(compiled(withChanges(bookOf(house(null)), [{ kind: "sales", id: "2026-11-09", after: null }, { kind: "sales", id: "2026-11-16", after: null }]))).house;
    expect([trim?.produced, trim?.used, trim?.balance]).toEqual([null, null, null]);
  });
});

describe("laws", () => {
  const price = fc.integer({ min: 0, max: 1500 }).map((cents) => exact((cents / 100).toFixed(2)));

  test("the cost of the house does not change with a transfer price while all that comes off is used", () => {
    fc.assert(fc.property(price, price, fc.integer({ min: 1, max: 60 }), (one, other, steaks) => {
      const whole = (at: Exact): Ratio => {
        // 8 lb of trim for each 16 steaks, 4 oz in each burger: 2 burgers a steak use all of it.
        const plates = new Map([["steak", ratio.of(BigInt(steaks))], ["burger", ratio.of(BigInt(2 * steaks))]]);
        const cascade = compiled(bookOf(house(null, `${at} a lb`)));
        return ratio.sum([...plates].map(([id, count]) => ratio.mul(count, costExactly(cascade, { kind: "dish", id }))));
      };
      expect(whole(one)).toEqual(whole(other));
    }), { numRuns: 40 });
  });

  test("credited = charged at any price once the use of the week is recorded, over random numbers of plates", () => {
    fc.assert(fc.property(price, fc.integer({ min: 1, max: 400 }), fc.integer({ min: 0, max: 400 }), (at, steaks, burgers) => {
      const produced = ratio.div(ratio.of(BigInt(steaks)), ratio.of(2n));
      const used = ratio.div(ratio.of(BigInt(burgers)), ratio.of(4n));
      if (ratio.compare(used, produced) > 0) return;
      const use = { produced: `${ratio.toExact(produced)} lb`, used: `${ratio.toExact(used)} lb` };
      const facts = house(use, `${at} a lb`).map((fact) => (fact.kind === "sales" ? week(fact.id, { steak: String(steaks), burger: String(burgers) }) : fact));
      const [trim] = byProducts(compiled(bookOf(facts))).house;
      expect(trim?.balance?.difference).toEqual(ratio.ZERO);
      expect(trim?.balance?.unused).toEqual(ratio.mul(ratio.sub(produced, used), POUND));
    }), { numRuns: 60 });
  });

  test("over random books: a credit is never more than what is linked to costs, and is that times min(1, used/produced)", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const one of cascade.book.shelves.cut.values()) {
        const credits = creditsOfCut(cascade, one);
        for (const { value, credited, worth } of credits?.credits ?? []) {
          if (value === null || value.kind === "typed" || worth === null || credits === null) continue;
          const use = value.kind === "item" ? cascade.book.shelves.item.get(value.id)?.transfer?.use ?? null : null;
          expect(ratio.compare(credited, ratio.ONE) <= 0).toBe(true);
          if (use === null) expect(credited).toEqual(ratio.ONE);
          const told = lineInBase(cascade.book, { key: "", of: value, quantity: { amount: exact("1"), unit: BASE_UNIT[credits.measure] }, note: "" });
          if (told.ok) expect(worth).toEqual(ratio.mul(ratio.mul(told.amount, costExactly(cascade, value)), credited));
        }
      }
    }), { numRuns: 100 });
  });

  test("over random books: what plates take is what their costs are made of, where nothing is credited or put on top", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const one of cascade.book.shelves.dish.values()) {
        const taken = weekOf(cascade, new Map([[one.id, ratio.of(3n)]]));
        for (const [key, amount] of taken.amounts) expect(ratio.sign(amount) >= 0, key).toBe(true);
        const lines = one.lines.flatMap((line) => (line.of.kind === "item" ? [lineInBase(cascade.book, line)] : []));
        if (one.lines.every((line) => line.of.kind === "item") && lines.every((line) => line.ok)) {
          const sum = ratio.sum(lines.map((line) => (line.ok ? ratio.mul(line.amount, ratio.of(3n)) : ratio.ZERO)));
          const items = [...taken.amounts].filter(([key]) => key.startsWith("item:")).map(([, amount]) => amount);
          expect(ratio.sum(items)).toEqual(sum);
        }
      }
    }), { numRuns: 60 });
  });
});

test("an item that is bought has none of this", () => {
  expect(byProducts(compiled(bookOf([item("butter"), quote("butter", "4 a lb")]))).house).toEqual([]);
});
