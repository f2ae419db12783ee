/** A menu read: figures, crossings, the ripple of a change told for people, sales, headroom. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Book, Change, FactOf } from "@/lib/book";
import { type Cascade, compile, tryOut } from "@/lib/cascade";
import { Decimal, exact } from "@/lib/measure";
import {
  averageWeek, crossings, dishFigures, explainDish, headroom, lastWeeks, menuFigures, priceAtTarget, pricesAsked, readRipple, usualWeek, weightedFoodCost,
} from "@/lib/menu";
import { bookOf, dish, item, menuPrice, quote, randomBook, spec, striploin, week } from "./small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map((problem) => problem.sentence).join(" "));
  return cascade.value;
}

function told(cascade: Cascade, changes: readonly Change[]) {
  const tried = tryOut(cascade, changes);
  if (!tried.ok) throw new Error(tried.problems.map((problem) => problem.sentence).join(" "));
  return readRipple(cascade, tried.value.after, tried.value.ripple);
}

const points = (ratio: Decimal | null | undefined): string | undefined => ratio?.mul(100).toFixed(1);
const cents = (amount: Decimal | null | undefined): string | undefined => amount?.toFixed(2);

/** The striploin dish with 2.61 of other things on the plate, at 30.00 net and a target of 30 %; a soup that has none of it. */
const menu: readonly Change[] = [
  ...striploin,
  item("garnish"), quote("garnish", "2.61 a lb"),
  item("barley"), quote("barley", "1.10 a lb"),
  item("saffron"),
  spec("slice-7oz", "strip", "7 oz"),
  dish("steak", ["spec steak-10oz 1 portion", "item garnish 1 lb"]),
  dish("salad", ["spec slice-7oz 1 portion", "item garnish 1 lb"]),
  dish("soup", ["item barley 1 lb"], { section: "Starters" }),
  dish("special", ["item saffron 1 g", "item barley 1 lb"], { section: "Starters" }),
  menuPrice("steak", "30"), menuPrice("salad", "30", { target: exact("0.4") }), menuPrice("soup", "4"),
  week("2026-11-09", { steak: "40", salad: "20" }), week("2026-11-16", { steak: "60", salad: "10", soup: "30" }),
];
const dearer = quote("striploin", "7.60 a lb");

describe("a dish's figures", () => {
  const cascade = compiled(bookOf(menu));

  test("plate cost, net price, food cost against target and what is left", () => {
    const steak = dishFigures(cascade, "steak");
    expect([cents(steak?.plateCost.amount), cents(steak?.net), points(steak?.foodCost), cents(steak?.contribution), steak?.state]).toEqual(["8.81", "30.00", "29.4", "21.19", "near"]);
    expect([steak?.target.toString(), steak?.ownTarget, dishFigures(cascade, "salad")?.ownTarget]).toEqual(["0.3", false, true]);
  });

  test("without a menu price it is unpriced; an unknown leaf leaves it incomplete once priced", () => {
    const special = dishFigures(cascade, "special");
    expect([special?.state, special?.foodCost, special?.contribution]).toEqual(["unpriced", null, null]);
    const priced = compiled(bookOf([...menu, menuPrice("special", "20")]));
    expect(dishFigures(priced, "special")?.state).toBe("incomplete");
    expect(dishFigures(priced, "special")?.plateCost.missing.map((each) => each.name)).toEqual(["saffron"]);
    expect(dishFigures(compiled(bookOf([...menu, menuPrice("special", "3")])), "special")?.state).toBe("over");
  });

  test("a dish without lines is not free: it is incomplete", () => {
    expect(dishFigures(compiled(bookOf([...menu, dish("draft", []), menuPrice("draft", "9")])), "draft")?.state).toBe("incomplete");
  });

  test("precisely at target is not over, whatever the digits: a seventh of a pound at 7.00, of 3.33 1/3 at 30 %", () => {
    const facts = [...menu, item("seventh"), quote("seventh", "7 a lb"), dish("tie", ["item seventh 1/7 lb"])];
    const at = (gross: string) => dishFigures(compiled(bookOf([...facts, menuPrice("tie", gross)])), "tie")?.state;
    expect(at("10/3")).toBe("near");
    expect(at("3.333333333333333333333333333333333333333333")).toBe("over");
    expect(at("3.333333333333333333333333333333333333333334")).toBe("near");
  });

  test("the menu stands by section, then by name", () => {
    expect(menuFigures(cascade).map((each) => each.id)).toEqual(["salad", "steak", "soup", "special"]);
    expect(dishFigures(cascade, "nowhere")).toBeNull();
  });

  test("tax in the menu price is taken out first", () => {
    const taxed = explainDish(compiled(bookOf(menu, { taxRate: exact("0.2") })), "steak");
    expect([cents(taxed?.figures.net), cents(taxed?.tax), points(taxed?.figures.foodCost), taxed?.figures.state]).toEqual(["25.00", "5.00", "35.2", "over"]);
    expect([cents(taxed?.affordable), cents(taxed?.toSpare)]).toEqual(["7.50", "-1.31"]);
    expect(taxed?.explanation.steps.map((each) => each.name)).toEqual(["steak-10oz", "garnish"]);
  });
});

describe("the ripple of a dearer striploin", () => {
  const cascade = compiled(bookOf(menu));
  const report = told(cascade, [dearer]);

  test("crossing dishes first, before and after, and how many stay", () => {
    expect(report.crossings.map((each) => [each.name, each.direction, points(each.before.foodCost), points(each.after.foodCost)])).toEqual([["steak", "over", "29.4", "31.0"]]);
    expect(report.dishes.map((each) => [each.name, each.crossing, cents(each.before?.plateCost.amount), cents(each.after?.plateCost.amount), points(each.points)])).toEqual([
      ["steak", "over", "8.81", "9.30", "1.6"], ["salad", null, "6.95", "7.29", "1.1"],
    ]);
    expect(report.unmoved).toBe(2);
  });

  test("what moved on the way", () => {
    expect(report.stands.items.map((each) => each.name)).toEqual(["striploin"]);
    expect(report.stands.cuts.map((each) => each.name)).toEqual(["strip"]);
    expect(report.stands.specs.map((each) => each.name).sort()).toEqual(["slice-7oz", "steak-10oz"]);
    expect(report.stands.recipes).toEqual([]);
  });

  test("what it comes to in a usual week: 50 steaks and 15 salads", () => {
    const [steak, salad] = report.dishes;
    expect([steak?.soldAWeek?.toString(), salad?.soldAWeek?.toString()]).toEqual(["50", "15"]);
    const byHand = steak?.costChange?.mul(50).plus(salad?.costChange?.mul(15) ?? 0);
    expect(report.moneyAWeek?.toString()).toBe(byHand?.toString());
    expect(cents(report.moneyAWeek)).toBe("29.38");
    expect(report.takingsAWeek?.toString()).toBe("0");
  });

  test("without sales there is no money a week to tell, which is not zero", () => {
    const none = told(compiled(bookOf(menu.filter((fact) => fact.kind !== "sales"))), [dearer]);
    expect([none.moneyAWeek, none.takingsAWeek, none.dishes[0]?.moneyAWeek]).toEqual([null, null, null]);
  });

  test("back again: the dish comes back under and is told so", () => {
    const after = tryOut(cascade, [dearer]);
    if (!after.ok) throw new Error("expected the try-out to hold");
    const back = told(after.value.after, [quote("striploin", "7.10 a lb")]);
    expect(back.crossings.map((each) => [each.name, each.direction])).toEqual([["steak", "back under"]]);
    expect(crossings(cascade, after.value.after).map((each) => each.dishId)).toEqual(["steak"]);
  });

  test("what the dearer plate asks of the price: to keep the percentage, to keep the margin, to meet the target", () => {
    const move = report.dishes[0];
    if (!move?.before || !move.after) throw new Error("expected the steak to move");
    const asked = pricesAsked(move.before, move.after);
    // 8.8105 → 9.2962: 30 × 9.2962/8.8105, 30 + 0.4856, 9.2962/0.30.
    expect([cents(asked?.keepsPercentage?.net), cents(asked?.keepsMargin.net), cents(asked?.meetsTarget?.net)]).toEqual(["31.65", "30.49", "30.99"]);
    expect(cents(priceAtTarget(move.after)?.gross)).toBe("30.99");
    const special = dishFigures(cascade, "special");
    expect(special && priceAtTarget(special)).toBeNull();
    expect(special && pricesAsked(special, special)).toBeNull();
  });

  test("a menu price or a target moves a dish though it moves no cost", () => {
    const raised = told(cascade, [menuPrice("steak", "29")]);
    expect(raised.crossings.map((each) => [each.name, each.direction])).toEqual([["steak", "over"]]);
    expect([cents(raised.moneyAWeek), cents(raised.takingsAWeek)]).toEqual(["0.00", "-50.00"]);
    expect([raised.dishes.length, raised.unmoved, raised.stands.items.length]).toEqual([1, 3, 0]);
    const kitchen = cascade.book.shelves.kitchen.get("kitchen") as FactOf["kitchen"];
    const stricter = told(cascade, [{ kind: "kitchen", id: "kitchen", after: { ...kitchen, target: exact("0.28") } }]);
    // The salad has a target of its own.
    expect(stricter.crossings.map((each) => each.name)).toEqual(["steak"]);
  });

  test("a new dish has no before, a gone one no after, and neither is put in money", () => {
    const added = told(cascade, [dish("chop", ["spec steak-10oz 2 portion"]), menuPrice("chop", "20"), { kind: "dish", id: "soup", after: null }, { kind: "menuPrice", id: "soup", after: null }]);
    expect(added.dishes.map((each) => [each.dishId, each.before === null, each.after === null])).toEqual([["chop", true, false], ["soup", false, true]]);
    expect(added.crossings).toEqual([]);
    expect([...added.notInMoney].sort()).toEqual(["chop", "soup"]);
    expect(added.unmoved).toBe(3);
  });

  test("a leaf that becomes known moves the dish, but two bounds of different things are not compared", () => {
    const known = told(cascade, [quote("saffron", "5 a g")]);
    expect(known.dishes.map((each) => [each.name, each.costChange, each.points])).toEqual([["special", null, null]]);
  });
});

describe("sales", () => {
  const cascade = compiled(bookOf(menu));

  test("the usual week is the average of the last 12 recorded that have begun", () => {
    const weeks = Array.from({ length: 14 }, (_, index) => ({ id: `2026-0${1 + Math.floor(index / 10)}-${String(10 + (index % 10)).padStart(2, "0")}`, sold: [{ dishId: "steak", count: exact(`${index}`) }] }));
    const last = lastWeeks(weeks, "2026-02-12");
    expect(last.map((each) => each.id).at(0)).toBe("2026-01-11");
    expect(last).toHaveLength(12);
    expect(averageWeek(last).sold.get("steak")?.toString()).toBe("6.5");
    expect(averageWeek([])).toEqual({ weeks: 0, from: null, to: null, sold: new Map() });
    expect(usualWeek(cascade)).toMatchObject({ weeks: 2, from: "2026-11-09", to: "2026-11-16" });
  });

  test("weighted food cost: what everything sold cost over what it brought", () => {
    const weighted = weightedFoodCost(cascade, [...cascade.book.shelves.sales.values()]);
    const cost = new Decimal(100).mul(dishFigures(cascade, "steak")?.plateCost.amount ?? 0).plus(new Decimal(30).mul(dishFigures(cascade, "salad")?.plateCost.amount ?? 0)).plus(new Decimal(30).mul("1.10"));
    expect(cents(weighted.cost)).toBe(cents(cost));
    expect(cents(weighted.net)).toBe("4020.00");
    expect(weighted.ratio?.toFixed(20)).toBe(cost.div(4020).toFixed(20));
    // 100 × 30 × 0.30 + 30 × 30 × 0.40 + 30 × 4 × 0.30, over 4020.
    expect(weighted.target?.toFixed(10)).toBe(new Decimal(900 + 360 + 36).div(4020).toFixed(10));
    expect([weighted.atLeast, weighted.uncertain.length]).toEqual([false, 0]);
  });

  test("what has no price has no share, a bound makes the whole a bound, and nothing sold is undefined", () => {
    const sold = [{ id: "2026-11-16", sold: [{ dishId: "special", count: exact("5") }, { dishId: "gone", count: exact("2") }, { dishId: "steak", count: exact("0") }] }];
    const unpriced = weightedFoodCost(cascade, sold);
    expect([unpriced.ratio, unpriced.target, unpriced.atLeast]).toEqual([null, null, false]);
    expect(unpriced.uncertain.map((each) => [each.dishId, each.why])).toEqual([["special", "unpriced"], ["gone", "gone"]]);
    const bound = weightedFoodCost(compiled(bookOf([...menu, menuPrice("special", "20")])), sold);
    expect([points(bound.ratio), bound.atLeast, bound.uncertain[0]?.why]).toEqual(["5.5", true, "incomplete"]);
  });
});

describe("headroom", () => {
  const cascade = compiled(bookOf(menu));

  test("at its break-even price a dish costs exactly what it may", () => {
    const rows = headroom(cascade, "steak");
    expect(rows.map((each) => each.name)).toEqual(["striploin", "garnish"]);
    for (const row of rows) {
      const perPound = row.breakEven.mul("453.59237").toDecimalPlaces(30).toFixed();
      const at = tryOut(cascade, [quote(row.itemId, `${perPound} a lb`)]);
      if (!at.ok) throw new Error("expected the try-out to hold");
      expect(dishFigures(at.value.after, "steak")?.plateCost.amount.toFixed(20)).toBe(new Decimal(9).toFixed(20));
    }
  });

  test("how far the striploin may rise, and what share of the plate moves with it", () => {
    const [striploinRow] = headroom(cascade, "steak");
    // P* = [U·(τp − c_o)/s + V]/W: 8.6875 lb usable, 9.00 to spend, 2.61 on other things, 10 oz, 9.6625 given back, 13.5 lb billed.
    const byHand = new Decimal("8.6875").mul(new Decimal("9").minus("2.61")).div("0.625").plus("9.6625").div("13.5");
    expect(striploinRow?.breakEven.mul("453.59237").toFixed(25)).toBe(byHand.toFixed(25));
    expect(byHand.toFixed(2)).toBe("7.30");
    expect(points(striploinRow?.headroom)).toBe("2.7");
    expect(points(striploinRow?.share)).toBe("78.3");
  });

  test("nothing is claimed of an unpriced or incomplete dish", () => {
    expect(headroom(cascade, "special")).toEqual([]);
    expect(headroom(cascade, "nowhere")).toEqual([]);
    expect(headroom(compiled(bookOf([...menu, menuPrice("special", "20")])), "special")).toEqual([]);
  });
});

test("over random books and prices, a report tells every crossing that a look at both menus finds", () => {
  fc.assert(fc.property(fc.gen(), (g) => {
    const cascade = compiled(randomBook(g));
    const changes: Change[] = [...cascade.book.shelves.quote.values()].slice(0, 2).map((each) => (
      { kind: "quote", id: each.id, after: { ...each, price: { amount: exact((g(fc.integer, { min: 1, max: 9000 }) / 100).toFixed(2)) } } }
    ));
    const tried = tryOut(cascade, changes);
    if (!tried.ok) throw new Error("expected the try-out to hold");
    const report = readRipple(cascade, tried.value.after, tried.value.ripple);
    expect(report.crossings.map((each) => `${each.dishId} ${each.direction}`)).toEqual(crossings(cascade, tried.value.after).map((each) => `${each.dishId} ${each.direction}`));
    const before = new Map(menuFigures(cascade).map((each) => [each.id, each]));
    const moved = menuFigures(tried.value.after).filter((each) => !before.get(each.id)?.plateCost.amount.eq(each.plateCost.amount));
    expect(report.dishes.map((each) => each.dishId).sort()).toEqual(moved.map((each) => each.id).sort());
    expect(report.unmoved + report.dishes.length).toBe(before.size);
  }), { numRuns: 100 });
});
