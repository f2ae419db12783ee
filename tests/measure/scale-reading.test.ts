/** Weights as they are read off the scale: what each scale's figure means, and what is asked about. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Habits, SCALE_READINGS, type ScaleReading, inBaseExactly, parseQuantity, readAtScale, weightEcho } from "@/lib/measure";
import { KITCHENS, french, german, us } from "./habits";

function echoOf(text: string, scale: ScaleReading | null, habits: Habits = us): string {
  const read = readAtScale(text, scale, habits);
  return read.ok ? read.echo : `${read.problems[0]?.code ?? ""}: ${read.choices.map((choice) => choice.text).join(" or ")}`;
}

describe("what was understood is echoed at once", () => {
  test.each(["18 lb 6 oz", "18-6", "18# 6", "18 lb 6", "18 6", "18#6"])("%s on a scale of pounds and ounces: accept, echo “18 lb 6 oz = 18.375 lb”", (text) =>
    expect(echoOf(text, "lb and oz")).toBe("18 lb 6 oz = 18.375 lb"));
  test.each([["18 3/8", "18 lb 6 oz = 18.375 lb"], ["3⅜", "3 lb 6 oz = 3.375 lb"], ["3 3/8 lb", "3 lb 6 oz = 3.375 lb"], [".75", "0.75 lb = 12 oz"], ["18", "18 lb"]])("%s on a scale of pounds and ounces: %s", (text, echo) =>
    expect(echoOf(text, "lb and oz")).toBe(echo));
  test.each<[string, ScaleReading, string]>([
    ["18.6", "decimal lb", "18.6 lb = 18 lb 9.6 oz"], ["1.234", "decimal lb", "1.234 lb ≈ 1 lb 3.74 oz"], ["34", "oz", "34 oz = 2 lb 2 oz"], ["8.5", "oz", "8.5 oz"], ["3 3/8", "oz", "3.375 oz"], ["6.9", "kg", "6.9 kg"],
    ["1850", "g", "1,850 g = 1.85 kg"], ["2 kg 300", "kg", "2.3 kg"], ["18 lb 6 oz", "kg", "18 lb 6 oz = 18.375 lb"],
  ])("%s on a scale of %s: %s", (text, scale, echo) => expect(echoOf(text, scale)).toBe(echo));
  test("in a kitchen of commas", () => {
    expect(echoOf("6,9", "kg", german)).toBe("6,9 kg");
    expect(echoOf("1850", "g", french)).toBe("1\u202f850 g = 1,85 kg");
    expect(weightEcho({ amount: "18.375" as never, unit: "lb" }, german)).toBe("18,375 lb = 18 lb 6 oz");
  });
});

describe("what has two readings is asked about, never guessed", () => {
  test("`2.12` in a lb field: “2.12 lb, or 2 lb 12 oz?”, until it is known how the scale reads", () => {
    const asked = readAtScale("2.12", null, us);
    expect(asked).toMatchObject({ ok: false, problems: [{ code: "two-readings", sentence: "“2.12” has two readings, since what follows the mark could be ounces or a part of a pound: 2.12 lb, or 2 lb 12 oz?" }] });
    expect(asked.ok ? [] : asked.choices.map((choice) => choice.quantity.amount)).toEqual(["2.12", "2.75"]);
    expect(echoOf("2.12", "lb and oz")).toBe("two-readings: 2 lb 12 oz or 2.12 lb");
    expect(echoOf("2.12", "decimal lb")).toBe("2.12 lb = 2 lb 1.92 oz");
    expect(echoOf("0.06", "lb and oz")).toBe("two-readings: 6 oz or 0.06 lb");
  });
  test("`2.5` in a lb field: one digit is a decimal; on a scale of pounds and ounces it is asked about", () => {
    expect(echoOf("2.5", null)).toBe("2.5 lb = 2 lb 8 oz");
    expect(echoOf("2.5", "lb and oz")).toBe("two-readings: 2 lb 5 oz or 2.5 lb");
    expect(echoOf("18.6", "lb and oz")).toBe("two-readings: 18 lb 6 oz or 18.6 lb");
  });
  test.each(["2.16", "2.50", "2.99"])("`%s` (2.16–2.99) cannot be ounces: taken as a decimal, no question", (text) => {
    for (const scale of ["lb and oz", "decimal lb", null] as const) expect(readAtScale(text, scale, us)).toMatchObject({ ok: true, value: { amount: text, unit: "lb" } });
  });
  test("18-6 where the scale shows no ounces", () => {
    expect(echoOf("18-6", "decimal lb")).toBe("two-readings: 18.6 lb or 18 lb 6 oz");
    expect(echoOf("18 6", "kg")).toBe("two-readings: 18.6 kg or 18 lb 6 oz");
    expect(echoOf("18 17", "kg")).toBe("unclear: 18.17 kg");
    expect(echoOf("18 6", null)).toBe("two-readings: 18 lb 6 oz or 18.6 lb");
  });
  test("17 oz in an lb-oz pair: “17 oz is 1 lb 1 oz: did you mean …?”", () => {
    for (const text of ["18 lb 17 oz", "18-17", "18 17"]) {
      expect(readAtScale(text, "lb and oz", us)).toMatchObject({ ok: false, problems: [{ code: "over-one-unit", sentence: "17 oz is 1 lb 1 oz: did you mean 19 lb 1 oz?" }] });
    }
  });
  test("`1,234` vs `1.234`: by the kitchen's marks; where both readings are possible, both are shown", () => {
    expect(echoOf("1.234", "kg", us)).toBe("1.234 kg");
    expect(echoOf("1,234", "kg", us)).toBe("two-readings: 1.234 kg or 1234 kg");
    expect(echoOf("1.234", "kg", german)).toBe("two-readings: 1,234 kg or 1234 kg");
    expect(echoOf("1.234 kg", "kg", german)).toBe("two-readings: 1,234 kg or 1234 kg");
    expect(echoOf("1,234", "kg", german)).toBe("1,234 kg");
    // A scale of grams shows no thousandths of one.
    expect(echoOf("1.234", "g", german)).toBe("1.234 g = 1,234 kg");
    expect(echoOf("1.234", "g", us)).toBe("two-readings: 1234 g or 1.234 g");
  });
  test("Unit missing (`12/5`): asked, never guessed", () => {
    for (const scale of [...SCALE_READINGS, null]) expect(echoOf("12/5", scale)).toBe("two-readings: ");
    expect(parseQuantity("12/5", us, { kinds: ["mass"], bare: "lb" })).toMatchObject({ ok: false, problems: [{ code: "two-readings" }] });
    expect(parseQuantity("5", us, { kinds: ["mass"] })).toMatchObject({ ok: false, problems: [{ code: "unit-missing" }] });
  });
});

describe("laws of reading off a scale", () => {
  const scale = fc.constantFrom<ScaleReading | null>(...SCALE_READINGS, null);
  const figure = fc.oneof(fc.stringMatching(/^\d{1,4}([.,]\d{1,3})?$/), fc.stringMatching(/^\d{1,2}[- ]\d{1,2}$/), fc.stringMatching(/^[0-9 .,#\-/lbozkg½⅜]{1,14}$/), fc.string({ maxLength: 30 }));
  test("a choice, once it stands in the field, is read as it is and asked about no more", () => {
    fc.assert(fc.property(figure, scale, fc.constantFrom(...KITCHENS), (text, of, habits) => {
      const read = readAtScale(text, of, habits);
      if (read.ok) return;
      expect(read.problems[0]?.sentence.length).toBeGreaterThan(10);
      for (const choice of read.choices) {
        const again = readAtScale(choice.text, of, habits);
        expect([choice.text, again.ok && inBaseExactly(again.value)]).toEqual([choice.text, inBaseExactly(choice.quantity)]);
      }
    }), { numRuns: 1500 });
  });
  test("what is kept of a reading is read the same where nobody knows the scale", () => {
    fc.assert(fc.property(figure, scale, fc.constantFrom(...KITCHENS), (text, of, habits) => {
      const read = readAtScale(text, of, habits);
      if (!read.ok) return;
      const again = parseQuantity(read.value.typed ?? `${read.value.amount} ${read.value.unit}`, read.value.typed === undefined ? us : habits, { kinds: ["mass"], bare: "lb" });
      expect([text, again.ok && inBaseExactly(again.value)]).toEqual([text, inBaseExactly(read.value)]);
    }), { numRuns: 1500 });
  });
});
