/**
 * The yields offered for borrowing are those of the published tables, figure for figure: USDA National Nutrient Database for
 * Standard Reference, Release 28 (refuse); US Armed Forces Recipe Service, TM 10-412 (factors); USDA Table of Cooking
 * Yields for Meat and Poultry, Release 2 (2014).
 */
import { describe, expect, test } from "vitest";
import { type Ratio, exact, ratio } from "@/lib/measure";
import { type PublishedYield, publishedYields, sayPublished, saySource } from "@/lib/yield";
import tables from "./fixtures/published-yields.json";

type Row = Readonly<Record<string, string | boolean | null>>;
const rowsOf = (name: string): readonly Row[] => (tables as readonly { readonly table: string; readonly rows: readonly Row[] }[]).find(({ table }) => table === name)?.rows ?? [];
const of = (key: PublishedYield["table"]["key"]): readonly PublishedYield[] => publishedYields().filter(({ table }) => table.key === key);
const text = (row: Row | undefined, field: string): string => {
  const value = row?.[field];
  return typeof value === "string" ? value : "";
};
const share = (row: PublishedYield | undefined): Ratio => ratio.fromExact(row?.share ?? exact("0"));
const number = (figure: string): Ratio => ratio.fromExact(exact(figure));

describe("the tables to borrow from", () => {
  test("every row has a key of its own, a share that a cut may borrow, and says what it is and where it is from", () => {
    const all = publishedYields();
    expect(all).toHaveLength(121 + 51 + 90);
    expect(new Set(all.map(({ key }) => key)).size).toBe(all.length);
    for (const row of all) {
      expect(ratio.sign(share(row))).toBe(1);
      expect(ratio.compare(share(row), ratio.ONE)).toBeLessThanOrEqual(0);
      expect(sayPublished(row).length).toBeLessThanOrEqual(300);
      expect(saySource(row).length).toBeLessThanOrEqual(400);
    }
  });

  test("refuse of raw foods (USDA National Nutrient Database, Release 28): yield is 1 less refuse", () => {
    const published = rowsOf("sr28_refuse");
    expect(of("raw").map(({ key, food, preparation }) => [key, food, preparation])).toEqual(published.map((row) => [`raw ${text(row, "ndb")}`, text(row, "item"), text(row, "refuse_parts")]));
    published.forEach((row, at) => {
      expect(share(of("raw")[at])).toEqual(number(text(row, "ep_per_ap")));
      expect(ratio.add(share(of("raw")[at]), ratio.div(number(text(row, "refuse_pct")), ratio.of(100n)))).toEqual(ratio.ONE);
    });
  });

  test("quantities to buy (US Armed Forces Recipe Service, TM 10-412): yield is 1 over the factor", () => {
    const published = rowsOf("armed_forces_EP_to_AP_factors");
    expect(of("factor").map(({ food }) => food)).toEqual(published.map((row) => text(row, "item")));
    published.forEach((row, at) => expect(ratio.mul(share(of("factor")[at]), number(text(row, "factor_EP_to_AP")))).toEqual(ratio.ONE));
  });

  test("cooking yields (USDA Table of Cooking Yields for Meat and Poultry, Release 2): cooked over raw, with its pieces", () => {
    const published = rowsOf("usda_cooking_yields");
    expect(of("cooked").map(({ food, preparation }) => [food, preparation])).toEqual(published.map((row) => [text(row, "item"), text(row, "method")]));
    published.forEach((row, at) => {
      const offered = of("cooked")[at];
      expect(ratio.mul(share(offered), ratio.of(100n))).toEqual(number(text(row, "cooking_yield_pct")));
      if (row["n"] !== null) expect(offered?.certainty).toContain(`n = ${text(row, "n")}`);
      else expect(offered?.certainty).toBe("without a number of pieces");
      expect(offered?.firstIn !== null).toBe(row["ah102_1975"]);
    });
  });

  test("a row says in words how surely it is known", () => {
    const triTip = of("cooked")[0];
    expect(triTip && saySource(triTip)).toBe("USDA Table of Cooking Yields for Meat and Poultry, Release 2 (2014); mean of n = 20, from 77 to 89 %, SD 3.1");
    const leeks = of("raw").find(({ key }) => key === "raw 11246");
    expect(leeks && sayPublished(leeks)).toBe("Leeks, (bulb and lower leaf-portion), raw; without tops, root end and skin");
  });
});
