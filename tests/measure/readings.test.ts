/** Several goes on the scale, each in its tub. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Quantity, type Reading, exact, inBaseExactly, netWeight, parseQuantity, parseReadings, ratio, weighingsOf } from "@/lib/measure";
import { us } from "./habits";

const lb = (amount: string): Quantity => ({ amount: exact(amount), unit: "lb" });
const oz = (amount: string): Quantity => ({ amount: exact(amount), unit: "oz" });

function net(text: string): string {
  const read = parseReadings(text, "lb and oz", us);
  if (!read.ok) return `${read.problems[0]?.path ?? ""} ${read.problems[0]?.code ?? ""}`;
  const weight = netWeight(read.value, us);
  return weight.ok ? `${weight.value.amount} ${weight.value.unit}` : `${weight.problems[0]?.path ?? ""} ${weight.problems[0]?.code ?? ""}`;
}

describe("several goes on the scale", () => {
  test.each([
    ["1 lb 2 oz + 3 lb", "4.125 lb"], ["1-2 + 3", "4.125 lb"], ["4 lb 2 oz less 10 oz", "3.5 lb"], ["4 lb 2 oz less 10 oz + 3 lb", "6.5 lb"], ["18 6 + 2 lb", "20.375 lb"],
    ["10 oz less 1 lb", "readings.0.tare tare-exceeds-gross"], ["3 lb + 1 lb less 1 lb", "readings.1.gross nothing-in-the-tub"], ["3 lb + 2.12", "readings.1.gross two-readings"], ["", "readings no-readings"], ["3 lb + x", "readings.1.gross not-a-quantity"],
  ])("%s: %s", (text, expected) => expect(net(text)).toBe(expected));

  test("a tub heavier than what was read with it is refused in a sentence", () => {
    expect(netWeight([{ gross: oz("10"), tare: lb("1") }], us)).toMatchObject({
      problems: [{ path: "readings.0.tare", code: "tare-exceeds-gross", sentence: "The tub weighs 1 lb, more than the 10 oz read with it on the scale: was the scale tared already, or is this another tub?" }],
    });
  });
  test("a tub that is weighed is a reading of its own", () => expect(weighingsOf([{ gross: lb("3"), tare: null }, { gross: lb("4"), tare: oz("10") }])).toBe(3));

  test("a sum in a weight field needs its units, since 18 lb + 6 could be ounces or pounds", () => {
    const read = (text: string) => parseQuantity(text, us, { kinds: ["mass"], bare: "lb" });
    expect(read("1 lb 2 oz + 3 lb")).toMatchObject({ value: { amount: "4.125", unit: "lb", typed: "1 lb 2 oz + 3 lb" } });
    expect(read("18 lb + 6 oz")).toMatchObject({ value: { amount: "18.375" } });
    expect(read("18 lb + 6")).toMatchObject({ problems: [{ code: "unit-missing" }] });
    expect(read("2 lb + 1 qt")).toMatchObject({ ok: false });
    expect(read("10 oz less 1 lb")).toMatchObject({ problems: [{ code: "tare-exceeds-gross" }] });
  });

  test("the net is Σ (gross − tare), and what is kept of it is read back to the same weight", () => {
    const weight = (min: number, max: number) => fc.tuple(fc.integer({ min, max }), fc.constantFrom<"lb" | "oz">("lb", "oz")).map(([n, unit]): Quantity => ({ amount: exact(String(n)), unit }));
    const reading = fc.record({ gross: weight(17, 90), tare: fc.option(fc.integer({ min: 1, max: 15 }).map((n) => oz(String(n))), { nil: null }) });
    fc.assert(fc.property(fc.array(reading, { minLength: 1, maxLength: 5 }), (readings: Reading[]) => {
      const summed = netWeight(readings, us);
      if (!summed.ok) throw new Error(summed.problems[0]?.sentence);
      const base = (quantity: Quantity) => ratio.fromExact(inBaseExactly(quantity));
      const expected = ratio.sum(readings.map(({ gross, tare }) => ratio.sub(base(gross), tare === null ? ratio.ZERO : base(tare))));
      expect(base(summed.value)).toEqual(expected);
      const again = parseQuantity(summed.value.typed ?? `${summed.value.amount} ${summed.value.unit}`, us, { kinds: ["mass"] });
      expect(again.ok && base(again.value)).toEqual(expected);
    }));
  });
});
