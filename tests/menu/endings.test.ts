/** House endings: up to the next one allowed, never further, never below what was asked; and what the pricing methods need. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Decimal, type Exact, exact } from "@/lib/measure";
import { endedPrice } from "@/lib/menu";

const ended = (gross: string, endings: readonly string[], places = 2): string => endedPrice(new Decimal(gross), endings.map((ending) => exact(ending)), places).toFixed(places);

describe("a house ending", () => {
  test("is the next one allowed", () => {
    expect(ended("31.20", ["0", "0.5"])).toBe("31.50");
    expect(ended("31.51", ["0", "0.5"])).toBe("32.00");
    expect(ended("31.96", ["0.95"])).toBe("32.95");
    expect(ended("31.95", ["0.95"])).toBe("31.95");
  });

  test("without a list is the minor unit, and none where the currency has none", () => {
    expect(ended("31.201", [])).toBe("31.21");
    expect(ended("31.2", [])).toBe("31.20");
    expect(ended("1480.2", [], 0)).toBe("1481");
    expect(ended("3.0011", [], 3)).toBe("3.002");
  });

  test("a price that arithmetic left a hair above stays where it is", () => {
    expect(endedPrice(new Decimal("9").div(3).mul("10.5").plus("1e-30"), [exact("0.5")], 2).toFixed(2)).toBe("31.50");
  });

  test("never asks less, ends as the house wishes, and there is none allowed between", () => {
    const list = fc.uniqueArray(fc.integer({ min: 0, max: 99 }), { minLength: 1, maxLength: 6 });
    fc.assert(fc.property(fc.integer({ min: 1, max: 1_000_000 }), list, (tenths, cents) => {
      const gross = new Decimal(tenths).div(1000);
      const endings = cents.map((cent): Exact => exact((cent / 100).toFixed(2)));
      const price = endedPrice(gross, endings, 2);
      expect(price.gte(gross)).toBe(true);
      expect(cents).toContain(price.mul(100).mod(100).toNumber());
      for (let below = price.minus("0.01"); below.gte(gross); below = below.minus("0.01")) expect(cents).not.toContain(below.mul(100).mod(100).toNumber());
    }), { numRuns: 200 });
  });
});
