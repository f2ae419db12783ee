import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Pack, packContent, parsePack, printPack } from "@/lib/book";
import { type Habits, type Unit, exact } from "@/lib/measure";

const us: Habits = { locale: "en-US", measures: "us", currency: "USD" };
const swiss: Habits = { locale: "de-CH", measures: "metric", currency: "CHF" };
const french: Habits = { locale: "fr-FR", measures: "metric", currency: "EUR" };

function read(text: string): Pack {
  const pack = parsePack(text, us);
  if (!pack.ok) throw new Error(`${text}: ${pack.problems.map((problem) => problem.sentence).join(" ")}`);
  return pack.value;
}

describe("packs as the trade writes them", () => {
  test.each([
    ["40 lb", "case of 40 lb", "40 lb"],
    ["40#", "case of 40 lb", "40 lb"],
    ["4/5 lb", "case of 4 packs of 5 lb", "20 lb"],
    ["4/5#", "case of 4 packs of 5 lb", "20 lb"],
    ["6/102 oz can", "case of 6 cans of 102 oz", "612 oz"],
    ["12/1 qt", "case of 12 packs of 1 qt", "12 qt"],
    ["12 x 1 qt", "case of 12 packs of 1 qt", "12 qt"],
    ["80 ct", "case of 80 each", "80 each"],
    ["15 dozen", "case of 15 dozen", "15 dozen"],
    ["case of 4 bags of 5 lb", "case of 4 bags of 5 lb", "20 lb"],
    ["box of 6 bunches of 8 oz", "box of 6 bunches of 8 oz", "48 oz"],
    ["2/6/500 g", "case of 2 packs of 6 packs of 500 g", "6000 g"],
    ["piece of about 13 1/2 lb, catch weight", "piece of about 13 lb 8 oz, catch weight", "13.5 lb"],
  ])("%j is a %s", (text, printed, content) => {
    const pack = read(text);
    expect(printPack(pack, us)).toBe(printed);
    const { amount, unit } = packContent(pack);
    expect(`${amount} ${unit}`).toBe(content);
  });

  test.each([
    ["", "no-pack"], ["12/5", "no-unit"], ["6/#10", "can-size"], ["1/2 gal", "two-readings"], ["0/5 lb", "not-a-count"], ["4/0 lb", "not-above-zero"], ["-4/5 lb", "not-a-count"],
    ["2/2/2/2/5 lb", "too-deep"], ["x".repeat(100_000), "too-long"], ["case of bags", "not-a-quantity"],
  ])("%j is asked about: %s", (text, code) => {
    const pack = parsePack(text, us);
    expect(pack.ok ? "understood" : pack.problems[0]?.code).toBe(code);
  });

  test.each([["7'000/7 g", swiss], ["7 000/7 g", french], ["7,000/7 g", us]])("thousands of sachets (%s) are read again as they are printed", (text, habits) => {
    const pack = parsePack(text, habits);
    if (!pack.ok) throw new Error(pack.problems[0]?.sentence);
    const again = parsePack(printPack(pack.value, habits), habits);
    expect(again.ok && packContent(again.value)).toMatchObject({ amount: "49000", unit: "g" });
  });

  test("what is printed is read back as the same pack", () => {
    const units: readonly Unit[] = ["lb", "oz", "kg", "g", "qt", "gal", "L", "each", "dozen"];
    const level = fc.record({ count: fc.integer({ min: 2, max: 48 }).map((n) => exact(String(n))), container: fc.constantFrom("bag", "box", "bunch", "can", "tray") });
    fc.assert(fc.property(
      fc.record({ levels: fc.array(level, { maxLength: 2 }), amount: fc.integer({ min: 1, max: 60 }).map((n) => exact(String(n))), unit: fc.constantFrom(...units), catchWeight: fc.boolean() }),
      ({ levels, amount, unit, catchWeight }) => {
        const pack: Pack = { levels: [{ count: exact("1"), container: "case" }, ...levels], size: { amount, unit }, catchWeight };
        const again = read(printPack(pack, us));
        expect({ ...again, size: { amount: again.size.amount, unit: again.size.unit } }).toEqual(pack);
      },
    ));
  });
});
