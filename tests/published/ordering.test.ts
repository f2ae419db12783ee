/**
 * Published as-purchased quantities once more, through a whole order: dish, portion, cut, yield, packs. And two grades at the
 * price at which neither is cheaper, through the comparison of dealers. The figures are those of ap-quantity.test.ts and
 * supplier-comparison.json, their sources beside them there.
 */
import { describe, expect, test } from "vitest";
import { type Order, EMPTY_PLAN, compareDealers, orderOf } from "@/lib/buying";
import type { Book, Change, Cut } from "@/lib/book";
import { type Cascade, compile } from "@/lib/cascade";
import { type Ratio, type Unit, baseFactor, exact, ratio } from "@/lib/measure";
import { bookOf, butcherTest, cut, dealer, dish, item, part, quote, spec } from "../menu/small-books";
import { figure, fixed, show } from "../yield/sheets";
import fixtures from "./fixtures/ap-quantity.json";
import suppliers from "./fixtures/supplier-comparison.json";
import { type PublishedCase, caseNamed, given, titleOf } from "./yield-cases";

const cases = fixtures as unknown as readonly PublishedCase[];
const compiled = (book: Book): Cascade => { const made = compile(book); if (!made.ok) throw new Error("expected the book to compile"); return made.value; };
const borrowed = (share: string): Partial<Cut> => ({ borrowed: { share: exact(share), what: "as printed", source: "the case", on: "2026-11-01" } });

/** An order of so many portions of an item in packs of one pound (or kilo), at a printed yield. */
function ordered(portions: string, size: string, share: string, unit: Unit = "lb"): Order {
  const facts: readonly Change[] = [
    dealer, item("meat"), quote("meat", `1 a ${unit}`, { pack: { levels: [{ count: exact("1"), container: "pack" }], size: { amount: exact("1"), unit }, catchWeight: false }, per: "pack" }),
    cut("made", { kind: "item", id: "meat" }, [], borrowed(share)), spec("portion", "made", size), dish("plate", ["spec portion 1 portion"]),
  ];
  return orderOf(compiled(bookOf(facts)), { ...EMPTY_PLAN, dishes: [{ key: "d", dishId: "plate", covers: exact(portions) }] });
}
const needed = (order: Order, unit: Unit = "lb"): Ratio => ratio.div(order.needs.items[0]?.needed ?? ratio.ZERO, ratio.fromExact(exact(String(baseFactor(unit)))));
const packs = (order: Order): bigint => { const found = order.dealers[0]?.lines[0]?.packs; return found === undefined || typeof found === "string" ? -1n : found.packs; };

describe("as-purchased quantities through an order", () => {
  const lamb = caseNamed(cases, "ap-dk-roast-lamb");
  test(titleOf(lamb), () => {
    const Y = given(lamb, "yield_factor");
    expect(show(needed(ordered("48", "4 oz", Y)), 12)).toBe(lamb.expected.exact["lb_48x4"]);
    expect(show(needed(ordered("55", "5 oz", Y)), 12)).toBe(lamb.expected.exact["lb_55x5"]);
    // The pound factor, 2.1387, buys too little: 12 lb × 2.1387 give 10.9 lb of the 12.
    expect(ratio.compare(ratio.mul(ratio.mul(figure("12"), figure(given(lamb, "pound_cost_factor"))), figure(Y)), figure("12"))).toBe(-1);
  });

  const pork = caseNamed(cases, "ap-midterm-pork-loin-250");
  test(`${titleOf(pork)}: prints 147, in ounces; the order is of pounds, and of 148 whole ones`, () => {
    const order = ordered(given(pork, "guests"), `${given(pork, "portion_oz")} oz`, "0.85");
    expect(show(needed(order), 12)).toBe(pork.expected.exact["lb_needed"]);
    expect(fixed(needed(order), 0)).toBe(pork.expected.published["lb_needed"]);
    expect(String(packs(order))).toBe(pork.expected.exact["lb_needed_rounded_up"]);
  });

  const tomatoes = caseNamed(cases, "ap-cm-tomatoes-wrong-way");
  test(`${titleOf(tomatoes)}: multiplies by the yield and buys 10; the order divides, and buys 11`, () => {
    const order = ordered("10", "1 lb", "0.95");
    expect(show(needed(order), 12)).toBe(tomatoes.expected.exact["ap_lb_needed"]);
    expect(String(packs(order))).toBe(tomatoes.expected.exact["ap_lb_rounded_up"]);
    expect([tomatoes.expected.published["ap_lb_needed"], tomatoes.expected.published["ap_lb_rounded_up"]]).toEqual(["9.5", "10"]);
  });

  const wall = caseNamed(cases, "ap-wall-raw-weight");
  test(titleOf(wall), () => {
    expect(show(needed(ordered(given(wall, "portions"), `${given(wall, "portion_g")} g`, "0.75", "kg"), "kg"), 12)).toBe(wall.expected.exact["raw_kg"]);
  });
});

describe("two grades", () => {
  const [grades] = suppliers as unknown as readonly PublishedCase[];
  if (grades === undefined) throw new Error("expected the comparison of two grades");
  test(`${titleOf(grades)}: at the break-even price neither is cheaper as used, a cent above it the other is`, () => {
    const told = (option: string): { readonly yield_pct: string; readonly grade: string } => grades.inputs[option] as { readonly yield_pct: string; readonly grade: string };
    const at = (priceOfA: string) => {
      const tested = (id: string, from: string, pounds: string): Change => butcherTest(id, "round", "100 lb", null, [part("main", "steak", `${pounds} lb`)], { dealerId: from });
      const facts: readonly Change[] = [
        item("round"), { kind: "dealer", id: "choice", after: { id: "choice", name: told("option_A").grade, note: "", minimumOrder: null, ordering: "" } }, { kind: "dealer", id: "select", after: { id: "select", name: told("option_B").grade, note: "", minimumOrder: null, ordering: "" } },
        quote("round", `${priceOfA} a lb`, { dealerId: "choice" }), { ...quote("round", "5.00 a lb", { dealerId: "select", id: "other" }), id: "other" } as Change,
        tested("a", "choice", told("option_A").yield_pct), tested("b", "select", told("option_B").yield_pct), cut("steaks", { kind: "item", id: "round" }, ["a"]),
      ];
      return compareDealers(compiled(bookOf(facts)), { itemId: "round", cutId: "steaks", specId: null, dishId: null });
    };
    const level = at(grades.expected.exact_fraction["break_even_price_A_if_B_is_5_00"] ?? "");
    expect(level.dealers.map(({ cost }) => cost)).toEqual([level.dealers[0]?.cost, level.dealers[0]?.cost]);
    // Cheaper as asked, dearer as used.
    const above = at("4.60");
    expect([above.cheapestAsked, above.cheapestUsable]).toEqual(["choice", "select"]);
    const other = above.dealers.find(({ dealerId }) => dealerId === "choice");
    expect(show(ratio.mul(other?.levelAt ?? ratio.ZERO, figure("453.59237")), 12)).toBe(grades.expected.exact["break_even_price_A_if_B_is_5_00"]);
  });
});
