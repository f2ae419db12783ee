/** Make or buy: at each break-even both sides are equal to the last digit; where there is none, it says why. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Basis, type BreakEvenOf, type Made, type MakeAsked, boughtPortion, goodsCost, madeHere, makeOrBuy, portionsAWeek, typedPortion } from "@/lib/buying";
import { type Book, type PortionSpec, kitchenOf } from "@/lib/book";
import { type Cascade, compile, costExactly, costOf } from "@/lib/cascade";
import { type Ratio, exact, ratio } from "@/lib/measure";
import { bookOf, butcherTest, cut, dealer, dish, item, part, q, quote, randomBook, rate, spec, typed, week } from "../menu/small-books";
import { codes, figure, show, won } from "../yield/sheets";

const compiled = (book: Book): Cascade => { const made = compile(book); if (!made.ok) throw new Error("expected the book to compile"); return made.value; };
const R = (text: string): Ratio => figure(text);

/** Strip loin of 12 lb at 8.00 gives 16 steaks of 8 oz, with 2 lb of trim at 3.00: a steak takes 3/4 lb, 1/8 lb of trim. Told per pound. */
const STRIP: Made = {
  asPurchased: R("3/4"), rest: ratio.ZERO, price: R("8"), credits: [{ name: "trim", amount: R("1/8"), worth: R("3"), counted: null }], endCredit: ratio.ZERO, perPiece: R("16"), yield: R("2/3"), gains: false,
};
/** Half an hour a loin at 12 an hour, as the trade's own example has it; wrap 0.10. */
const ASKED: MakeAsked = { bought: R("6.50"), minutes: R("30"), hourly: R("12"), hoursCanBeCut: false, wrap: R("0.10"), fixed: ratio.ZERO, fixedAvoidable: false, volume: R("100"), used: ratio.ONE };

describe("a portion in the house and bought", () => {
  test("line by line: goods 6.00, trim −0.375, labour 0.375, wrap 0.10; hours that cannot be cut are no cash", () => {
    const { cost } = won(makeOrBuy(STRIP, ASKED));
    expect([cost.full.goods, cost.full.byProducts, cost.full.labour, cost.full.total, cost.full.saves].map((one) => show(one))).toEqual(["6", "-0.375", "0.375", "6.1", "0.4"]);
    expect([cost.cash.labour, cost.cash.total, cost.cash.savesAWeek ?? ratio.ZERO].map((one) => show(one))).toEqual(["0", "5.725", "77.5"]);
    const cut = won(makeOrBuy(STRIP, { ...ASKED, hoursCanBeCut: true }));
    expect(show(cut.cost.cash.total)).toBe("6.1");
  });

  test("only what is used of the trim counts; a counted use stands before the asked share", () => {
    expect(show(won(makeOrBuy(STRIP, { ...ASKED, used: ratio.ZERO })).cost.full.total)).toBe("6.475");
    const counted = { ...STRIP, credits: [{ name: "trim", amount: R("1/8"), worth: R("3"), counted: R("0.625") }] };
    expect(show(won(makeOrBuy(counted, { ...ASKED, used: ratio.ZERO })).cost.full.byProducts)).toBe("-0.234375");
  });

  test("break-evens of the example", () => {
    const { breakEvens: { full, cash } } = won(makeOrBuy(STRIP, ASKED));
    const value = (one: (typeof full)[BreakEvenOf]): string => (one.kind === "at" ? show(one.value, 6) : one.why);
    expect([value(full.bought), value(full.price), value(full.hourly), value(full.minutes)]).toEqual(["6.1", "8.533333", "24.8", "62"]);
    expect(value(full.yield)).toBe("0.625");
    expect([value(cash.hourly), value(full.volume), value(full.used)]).toEqual(["Hours are not counted here: they cannot be cut.", "No week’s fixed cost is told, so the number of portions makes no difference.", "Cut in the house is cheaper even if none of them is used."]);
    const machine = won(makeOrBuy(STRIP, { ...ASKED, fixed: R("60") })).breakEvens;
    expect([value(machine.full.volume), value(machine.cash.volume)]).toEqual(["150", "The week’s fixed cost is not counted here: it is paid either way."]);
  });

  test("what cannot be reckoned is refused with where", () => {
    expect(codes(makeOrBuy(STRIP, { ...ASKED, bought: ratio.ZERO }))).toEqual(["not-above-zero"]);
    expect(codes(makeOrBuy(STRIP, { ...ASKED, minutes: R("-1") }))).toEqual(["negative"]);
    expect(codes(makeOrBuy(STRIP, { ...ASKED, used: R("1.01") }))).toEqual(["share-out-of-range"]);
    expect(codes(makeOrBuy(STRIP, { ...ASKED, fixed: R("60"), volume: null }))).toEqual(["volume-missing"]);
    expect(codes(makeOrBuy({ ...STRIP, perPiece: ratio.ZERO }, ASKED))).toEqual(["not-above-zero"]);
  });
});

const cents = (min: number, max: number): fc.Arbitrary<Ratio> => fc.integer({ min, max }).map((n) => ratio.of(BigInt(n), 100n));
const someMade: fc.Arbitrary<Made> = fc.record({
  asPurchased: cents(1, 400), rest: cents(0, 200), price: cents(50, 4000), perPiece: fc.record({ n: fc.integer({ min: 1, max: 60 }), d: fc.integer({ min: 1, max: 4 }) }).map(({ n, d }) => ratio.of(BigInt(n), BigInt(d))),
  credits: fc.array(fc.record({ name: fc.constant("trim"), amount: cents(0, 80), worth: cents(0, 900), counted: fc.option(cents(0, 100)) }), { maxLength: 3 }), endCredit: cents(0, 60), yield: cents(20, 100), gains: fc.boolean(),
});
const someAsked: fc.Arbitrary<MakeAsked> = fc.record({
  bought: cents(1, 9000), minutes: cents(0, 9000), hourly: cents(0, 4000), hoursCanBeCut: fc.boolean(), wrap: cents(0, 100), fixed: cents(0, 20_000), fixedAvoidable: fc.boolean(), volume: cents(1, 90_000), used: cents(0, 100),
});

describe("laws", () => {
  /** The same with one figure put at its break-even. */
  function withFigure(made: Made, asked: MakeAsked, of: BreakEvenOf, value: Ratio): readonly [Made, MakeAsked] {
    switch (of) {
      case "bought": return [made, { ...asked, bought: value }];
      case "price": return [{ ...made, price: value }, asked];
      case "hourly": return [made, { ...asked, hourly: value }];
      case "minutes": return [made, { ...asked, minutes: value }];
      case "volume": return [made, { ...asked, volume: value }];
      case "used": return [made, { ...asked, used: value }];
      case "yield": {
        // So many more portions out of the same piece.
        const times = ratio.div(made.yield, value);
        const fewer = (one: Ratio): Ratio => ratio.mul(one, times);
        return [{ ...made, asPurchased: fewer(made.asPurchased), rest: fewer(made.rest), credits: made.credits.map((credit) => ({ ...credit, amount: fewer(credit.amount) })), endCredit: fewer(made.endCredit), perPiece: ratio.div(made.perPiece, times), yield: value }, asked];
      }
    }
  }

  test("at every break-even both sides are equal exactly", () => {
    fc.assert(fc.property(someMade, someAsked, (made, asked) => {
      const { breakEvens } = won(makeOrBuy(made, asked));
      for (const basis of ["cash", "full"] as const) {
        for (const of of ["bought", "price", "hourly", "minutes", "yield", "volume", "used"] as const) {
          const found = breakEvens[basis][of];
          if (found.kind !== "at") continue;
          const [otherMade, otherAsked] = withFigure(made, asked, of, found.value);
          const again = makeOrBuy(otherMade, otherAsked);
          // A break-even at nothing (no minutes, no rate) is a figure as any other; a volume of nothing is none.
          if (!again.ok) throw new Error(`${of}: ${JSON.stringify(again.problems)}`);
          expect(again.value.cost[basis].saves).toEqual(ratio.ZERO);
        }
      }
    }), { numRuns: 400 });
  });

  test("where none is told, no figure in its range makes them equal", () => {
    fc.assert(fc.property(someMade, someAsked, fc.constantFrom<Basis>("cash", "full"), cents(1, 100), (made, asked, basis, share) => {
      const { breakEvens, cost } = won(makeOrBuy(made, asked));
      const side = ratio.sign(cost[basis].saves);
      for (const [of, most] of [["price", "100"], ["hourly", "200"], ["minutes", "600"], ["used", "1"]] as const) {
        if (breakEvens[basis][of].kind === "at" || (of === "used" && side === 0)) continue;
        const [otherMade, otherAsked] = withFigure(made, asked, of, ratio.mul(share, R(most)));
        expect(ratio.sign(won(makeOrBuy(otherMade, otherAsked)).cost[basis].saves)).toBe(side);
      }
    }), { numRuns: 200 });
  });

  test("cash is never more than full cost", () => {
    fc.assert(fc.property(someMade, someAsked, (made, asked) => {
      const { cost } = won(makeOrBuy(made, asked));
      expect(ratio.compare(cost.cash.total, cost.full.total)).not.toBe(1);
    }));
  });

  test("goods less by-products are what the book says a portion costs", () => {
    let told = 0;
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const one of cascade.book.shelves.spec.values()) {
        const here = madeHere(cascade, one);
        if (!here.ok || (costOf(cascade, { kind: "spec", id: one.id })?.missing.length ?? 1) > 0) continue;
        told += 1;
        expect(goodsCost(here.made, ratio.ONE)).toEqual(costExactly(cascade, { kind: "spec", id: one.id }));
      }
    }), { numRuns: 100 });
    expect(told).toBeGreaterThan(5);
  });
});

describe("from the book", () => {
  const facts = [
    dealer, item("loin"), quote("loin", "8 a lb"), item("cut-steak"), quote("cut-steak", "13 a lb"), item("each-steak", "count"), quote("each-steak", "6.40 a each"), item("cream", "volume"), quote("cream", "4 a qt"),
    item("own-trim", "mass", { transfer: { price: { kind: "fixed", rate: rate("4 a lb"), source: "the house" }, on: "2026-11-01", destination: "grind", use: { produced: q("40 lb"), used: q("25 lb"), over: "October" } } }),
    butcherTest("t1", "loin", "12 lb", "8 a lb", [part("main", "steak", "8 lb", { pieces: [q("8 lb")] }), part("by-product", "trim", "2 lb", { value: { kind: "item", id: "own-trim" } }), part("by-product", "bone", "1 lb", { value: typed("0.50 a lb") })]),
    cut("trimmed", { kind: "item", id: "loin" }, ["t1"]), spec("steak-8", "trimmed", "8 oz"), spec("counted-10", "trimmed", "10 oz", { costing: "whole", endValue: rate("2 a lb") }), cut("untested", { kind: "item", id: "loin" }, []), spec("unknown", "untested", "8 oz"),
    dish("frites", ["spec steak-8 2 portion"]), week("2026-11-16", { frites: "30" }), week("2026-11-09", { frites: "20" }),
  ];
  const cascade = compiled(bookOf(facts));
  const specOf = (id: string): PortionSpec => { const found = cascade.book.shelves.spec.get(id); if (found === undefined) throw new Error(`expected ${id}`); return found; };

  test("by-products of the house are told whole, with what share is used", () => {
    const here = madeHere(cascade, specOf("steak-8"));
    if (!here.ok) throw new Error("expected it to be known");
    expect(show(here.made.perPiece)).toBe("16");
    expect(here.made.credits.map(({ name, worth, counted }) => [name, show(ratio.mul(worth, figure("453.59237"))), counted === null ? null : show(counted)])).toEqual([["trim", "4", "0.625"], ["bone", "0.5", null]]);
    const counted = madeHere(cascade, specOf("counted-10"));
    expect(counted.ok && show(counted.made.perPiece)).toBe("12");
  });

  test("a bought portion by weight, by count, typed, with trim still on it, or in a measure that it is not", () => {
    const steak = specOf("steak-8");
    const money = (found: ReturnType<typeof boughtPortion>): string => (found.ok ? show(found.perPortion) : found.why);
    expect([money(boughtPortion(cascade, "cut-steak", steak, ratio.ZERO)), money(boughtPortion(cascade, "each-steak", steak, ratio.ZERO)), money(boughtPortion(cascade, "cream", steak, ratio.ZERO)), money(boughtPortion(cascade, "own", steak, ratio.ZERO))]).toEqual(["6.5", "6.4", "kind", "price"]);
    expect([money(typedPortion({ amount: exact("6.25"), per: "portion" }, steak, ratio.ZERO)), money(typedPortion(rate("13 a lb"), steak, R("0.02")))]).toEqual(["6.25", show(figure("650/98"))]);
  });

  test("without a test of one’s own nothing tells how many portions a piece gives; a usual week tells how many are cut", () => {
    const here = madeHere(cascade, specOf("unknown"));
    expect(here.ok ? "" : here.why).toBe("no-test");
    expect([portionsAWeek(cascade, "steak-8"), portionsAWeek(cascade, "counted-10")].map((one) => (one === null ? null : show(one)))).toEqual(["50", null]);
    expect(kitchenOf(cascade.book).currency).toBe("USD");
  });
});
