import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Pack, packContent, packOfCans, parsePack, printPack } from "@/lib/book";
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
    ["4/6/12 oz", "case of 4 packs of 6 packs of 12 oz", "288 oz"],
    ["12/1qt", "case of 12 packs of 1 qt", "12 qt"],
    ["2/12 ct", "case of 2 packs of 12 each", "24 each"],
    ["18# 6", "case of 18 lb 6 oz", "18.375 lb"],
    ["6/#10 (102 oz)", "case of 6 #10 cans of 102 oz", "612 oz"],
    ["6/#10 cans of 6 lb 6 oz", "case of 6 #10 cans of 6 lb 6 oz", "38.25 lb"],
    ["6/No. 10 102 oz", "case of 6 #10 cans of 102 oz", "612 oz"],
    ["24/#2 1/2 (29 oz)", "case of 24 #2½ cans of 29 oz", "696 oz"],
    ["2/6/#10 (102 oz)", "case of 2 packs of 6 #10 cans of 102 oz", "1224 oz"],
    ["6/#10 (1 each)", "case of 6 #10 cans of 1 each", "6 each"],
    ["2/13# avg", "case of 2 pieces of about 13 lb, catch weight", "26 lb"],
    ["12-14 lb avg, catch weight", "piece (12 to 14 lb) of about 13 lb, catch weight", "13 lb"],
    ["2/12-14# avg.", "case of 2 pieces (12 to 14 lb) of about 13 lb, catch weight", "26 lb"],
    ["3.5 to 4 kg average", "piece (3.5 to 4 kg) of about 3.75 kg, catch weight", "3.75 kg"],
    ["piece of about 13 1/2 lb, catch weight", "piece of about 13 lb 8 oz, catch weight", "13.5 lb"],
  ])("%j is a %s", (text, printed, content) => {
    const pack = read(text);
    expect(printPack(pack, us)).toBe(printed);
    const { amount, unit } = packContent(pack);
    expect(`${amount} ${unit}`).toBe(content);
  });

  test.each([
    ["", "no-pack"], ["12/5", "no-unit"], ["6/#10", "can-size"], ["1/2 gal", "two-readings"], ["16/20 ct", "two-readings"], ["#40", "can-size"], ["6 #10 cans", "can-size"], ["6/#10 (x)", "not-a-quantity"], ["12-14 lb", "weight-range"], ["6/10", "no-unit"], ["0/5 lb", "not-a-count"], ["4/0 lb", "not-above-zero"], ["-4/5 lb", "not-a-count"],
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
    const level = fc.record({ count: fc.integer({ min: 2, max: 48 }).map((n) => exact(String(n))), container: fc.constantFrom("bag", "box", "bunch", "can", "tray", "#10 can", "#2½ can", "piece (12 to 14 lb)") });
    fc.assert(fc.property(
      fc.record({ levels: fc.array(level, { maxLength: 2 }), amount: fc.integer({ min: 1, max: 60 }).map((n) => exact(String(n))), unit: fc.constantFrom(...units), catchWeight: fc.boolean() }),
      ({ levels, amount, unit, catchWeight }) => {
        const pack: Pack = { levels: [{ count: exact("1"), container: "case" }, ...levels], size: { amount, unit }, catchWeight };
        const again = read(printPack(pack, us));
        expect({ ...again, size: { amount: again.size.amount, unit: again.size.unit } }).toEqual(pack);
      },
    ));
  });

  test("a can size alone is asked about with what is published, and stays readable as so many cans", () => {
    const asked = parsePack("6/#10", us);
    expect(asked.ok ? "" : asked.problems[0]?.sentence).toContain("A No. 10 can usually holds 6 lb to 7 lb 5 oz (Krumm, K-State Research and Extension, 2009).");
    const metric = parsePack("6/#10", swiss);
    expect(metric.ok ? "" : metric.problems[0]?.sentence).toContain("6/#10 (2.9 kg)");
    const cans = packOfCans("6/#10", us);
    expect(cans && printPack(cans, us)).toBe("case of 6 #10 cans of 1 each");
    for (const text of ["6/#10 (102 oz)", "40#", "6/102 oz can", "x".repeat(1_000)]) expect(packOfCans(text, us), text).toBeNull();
  });

  test("nothing that can be typed throws, and what is understood is read back as it is printed", () => {
    const scrap = fc.constantFrom("6", "12", "1/2", "#10", "No. 2 1/2", "#", "/", " x ", "lb", " oz", "ct", " case of ", "4 bags", "(102 oz)", "(", ")", "12-14", " avg", ", catch weight", "about ", "½", "can", ",", ".", "-", "0");
    fc.assert(fc.property(fc.oneof(fc.string({ maxLength: 40 }), fc.array(scrap, { maxLength: 8 }).map((scraps) => scraps.join(""))), fc.constantFrom(us, swiss, french), (text, habits) => {
      packOfCans(text, habits);
      const pack = parsePack(text, habits);
      if (!pack.ok) return;
      const printed = printPack(pack.value, habits);
      const again = parsePack(printed, habits);
      expect(again.ok && printPack(again.value, habits), `${text}: ${printed}`).toBe(printed);
    }), { numRuns: 2_000 });
  });
});
