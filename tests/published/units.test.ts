/**
 * Published unit factors and conversions. Sources stand in the fixture: NIST Handbook 44, appendix C (definitions of
 * 1959, exact); the armed forces' table of ounces as decimals of a pound, sixteen half-up roundings of which four are
 * exact halves. Factors that were not seen in a source are marked from memory.
 */
import { describe, expect, test } from "vitest";
import { Decimal, type Quantity, type Unit, amountIn, baseFactor, exact, kindOf, roundHalfUp, toDecimal } from "@/lib/measure";
import fixture from "./fixtures/units.json";

const of = (amount: string, unit: string): Quantity => ({ amount: exact(amount), unit: unit as Unit });

describe(`${fixture.source.title} (${fixture.source.author})`, () => {
  test.each(fixture.units.map((unit) => [unit.name, unit.exact, unit.base, unit.confidence === "from memory" ? " (value from memory)" : "", unit] as const))(
    "1 %s is %s %s%s", (_name, _exact, _base, _mark, unit) => {
      expect(baseFactor(unit.unit as Unit)).toBe(unit.exact);
      expect(kindOf(unit.unit as Unit)).toBe(unit.kind);
    });

  const IMPERIAL: Readonly<Record<string, string>> = { "imperial fl oz": "imp fl oz", "imperial pt": "imp pt", "imperial pint": "imp pt" };
  const unitNamed = (name: string): string => IMPERIAL[name] ?? name.replace(" (US)", "").replace(/^cups$/, "cup");
  test.each(fixture.relations)("%s", (relation) => {
    const match = /^(\d+) (.+) = 1 (.+)$/.exec(relation);
    if (!match) throw new Error(`expected a relation, got ${relation}`);
    const [, many = "", small = "", large = ""] = match;
    expect(amountIn(of(many, unitNamed(small)), unitNamed(large) as Unit).toString()).toBe("1");
  });
});

describe(`${fixture.ounces.source.title}: ${fixture.ounces.source.location}`, () => {
  const { exact: exactly, published } = fixture.ounces.expected;
  test.each(Object.entries(published))("%s is %s lb", (key, printed) => {
    const pounds = amountIn(of(key.replace("oz_", ""), "oz"), "lb");
    expect(pounds.toString()).toBe((exactly as Record<string, string>)[key]);
    expect(roundHalfUp(pounds, 2).toFixed(2)).toBe(printed);
  });
});

describe("an ounce of weight and a fluid ounce are different things (common practice, no source)", () => {
  test("they do not convert", () => expect(() => amountIn(of("1", "oz"), "fl oz")).toThrow(/mass/));
  test("the imperial fluid ounce is the smaller one, the imperial pint the larger", () => {
    const [us, imperial] = [toDecimal(baseFactor("fl oz")), toDecimal(baseFactor("imp fl oz"))];
    expect(imperial.lt(us)).toBe(true);
    expect(new Decimal(baseFactor("imp pt")).gt(baseFactor("pt"))).toBe(true);
  });
});
