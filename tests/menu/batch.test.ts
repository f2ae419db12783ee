/** A recipe at another size. */
import { describe, expect, test } from "vitest";
import { type Quantity, type Unit, exact } from "@/lib/measure";
import { conversionFactor, scaled, totalYield } from "@/lib/menu";

const of = (amount: string, unit: Unit): Quantity => ({ amount: exact(amount), unit });

describe("conversion factor", () => {
  test("yields in different units of one kind meet: 1 gal from 3 qt is 4/3", () => {
    expect(conversionFactor(of("3", "qt"), of("1", "gal"))).toBe("4/3");
  });
  test("a weight and a volume do not", () => {
    expect(conversionFactor(of("3", "qt"), of("6", "lb"))).toBeNull();
  });
  test("nothing cannot be made more of", () => {
    expect(conversionFactor(of("0", "qt"), of("1", "qt"))).toBeNull();
  });
  test("there and back again is the very quantity", () => {
    const there = conversionFactor(of("7", "portion"), of("3", "portion"));
    const back = conversionFactor(of("3", "portion"), of("7", "portion"));
    if (!there || !back) throw new Error("expected factors");
    expect(scaled(scaled(of("1.25", "lb"), there), back)).toEqual(of("1.25", "lb"));
  });
  test("total yield keeps the unit of the size", () => {
    expect(totalYield(exact("75"), of("5", "oz"))).toEqual(of("375", "oz"));
  });
});
