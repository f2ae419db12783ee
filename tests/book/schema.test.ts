/** What a kitchen types, read into facts; what it should not have typed, told in a sentence at its field. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FACT_KINDS, readFact } from "@/lib/book";
import type { Habits } from "@/lib/measure";

const us: Habits = { locale: "en-US", measures: "us", currency: "USD" };

const test0 = {
  id: "t", kind: "butcher", of: "item:loin", dealerId: "", on: "2026-11-21", cutter: "block cook", pieces: "1", billed: "13 lb 8 oz", price: "7.10",
  parts: [
    { name: "Steak, trimmed", role: "main", weight: "8 lb 11 oz" },
    { name: "Lean trim", role: "by-product", weight: "1 lb 10 oz", value: { kind: "typed", rate: "3.20" } },
    { name: "Fat", role: "discard", weight: "2 lb 2 oz", value: null },
  ],
  scaleStep: "1/4 oz", note: "",
};

function problems(kind: (typeof FACT_KINDS)[number], input: unknown): readonly string[] {
  const read = readFact(kind, input, us);
  return read.ok ? [] : read.problems.map((problem) => `${problem.path}: ${problem.sentence}`);
}

describe("a butcher test as it is typed", () => {
  test("becomes exact facts with what was typed beside them", () => {
    const read = readFact("test", test0, us);
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.value.billed).toEqual({ amount: "13.5", unit: "lb", typed: "13 lb 8 oz" });
    expect(read.value.price).toMatchObject({ amount: "7.10", per: "lb" });
    expect(read.value.of).toEqual({ kind: "item", id: "loin" });
    expect(read.value.parts.map((part) => part.key)).toEqual(["steak-trimmed", "lean-trim", "fat"]);
    expect([read.value.dealerId, read.value.cooking, read.value.followsTestId]).toEqual([null, null, null]);
  });

  test("read again from its own output, it is the same fact", () => {
    const read = readFact("test", test0, us);
    if (!read.ok) throw new Error("expected a good test");
    expect(readFact("test", read.value, us)).toEqual(read);
  });

  test.each([
    ["a weight of zero", { billed: "0 lb" }, "billed: The billed weight must be above zero."],
    ["a negative weight", { billed: "-3 lb" }, "billed: “-3 lb” is below zero: a quantity here is above it."],
    ["a price of zero", { price: "0" }, "price: The price must be above zero."],
    ["a day that does not exist", { on: "2026-02-29" }, "on: The day of the test is a calendar day, such as 2026-11-24."],
    ["half a piece", { pieces: "1.5" }, "pieces: How many pieces were worked is a whole number."],
    ["a note of 100,000 characters", { note: "x".repeat(100_000) }, "note: The note is 100,000 characters long; at most 2,000 fit. Shorten it."],
    ["no parts", { parts: [] }, "parts: Weigh at least one part: what it was worked for."],
    ["no item", { of: "" }, "of: Choose the item or the cut it is made from."],
  ])("%s", (_, change, told) => expect(problems("test", { ...test0, ...change })).toContain(told));

  test("what is counted or measured by volume is priced so too, and a bare number is in the kind of what was billed", () => {
    const heads = { ...test0, kind: "trim", billed: "24 each", price: "1.20", parts: [{ name: "Heads", role: "main", weight: "22" }], scaleStep: "" };
    const counted = readFact("test", heads, us);
    expect(counted.ok && [counted.value.price?.per, counted.value.parts[0]?.weight.unit]).toEqual(["each", "each"]);
    const poured = readFact("test", { ...heads, kind: "drained", billed: "3 qt", price: "$4 / gal", parts: [{ name: "Beans", role: "main", weight: "2" }] }, us);
    expect(poured.ok && [poured.value.price?.per, poured.value.parts[0]?.weight.unit]).toEqual(["gal", "qt"]);
  });

  test("a by-product of no stated worth is asked about at its field", () => {
    const parts = [test0.parts[0], { name: "Bones", role: "by-product", weight: "1 lb" }];
    expect(problems("test", { ...test0, parts })).toEqual(["parts.1.value: Say what Bones is worth to this house, or call it a discard: it is still weighed, and worth nothing."]);
  });

  test("a cooking-loss test needs both of its weights", () => {
    expect(problems("test", { ...test0, kind: "cooking" })[0]).toMatch(/^cooking\.cooked: A cooking-loss test needs/);
  });

  test("what is made from a cut carries no dealer's price", () => {
    const read = readFact("test", { ...test0, of: { kind: "cut", id: "c" }, dealerId: "d" }, us);
    expect(read.ok && [read.value.price, read.value.dealerId]).toEqual([null, null]);
  });
});

describe("prices, portions, dishes", () => {
  const quote = { id: "q", itemId: "i", dealerId: "d", pack: "4/5 lb", price: "$48.60", per: "pack", currency: null, basis: "quoted", code: "", until: null, gtin: "", landed: [] };
  test("a quote of a nested pack", () => {
    const read = readFact("quote", quote, us);
    expect(read.ok && [read.value.price.amount, read.value.pack.levels.map((level) => level.count)]).toEqual(["48.60", ["1", "4"]]);
  });
  test.each([
    ["zero", { price: "0" }, "price: The price must be above zero."],
    ["catch weight for a pack", { pack: "13 lb, catch weight" }, "per: Catch weight is billed by what it weighs: give the price for one pound or kilo, not for the pack."],
    ["a unit of another kind", { per: "qt" }, "per: The pack is told in lb, so the price cannot be per qt: give both in the same kind of unit."],
    ["a pack without a unit", { pack: "4/5" }, "pack: “5” has no unit: say whether it is lb, oz, kg, L or each; write it as 40 lb, 4/5 lb, 6/102 oz can, 80 ct or case of 4 bags of 5 lb."],
  ])("a price of %s", (_, change, told) => expect(problems("quote", { ...quote, ...change })).toContain(told));

  test("a target of 320 % is refused", () => {
    expect(problems("menuPrice", { id: "d", gross: "31", target: "320 %" })).toEqual(["target: “320 %” is more than the whole: write a number from 0 to 100, such as 32."]);
    expect(problems("menuPrice", { id: "d", gross: "-4", target: "" })[0]).toMatch(/^gross:/);
  });

  test("a recipe line without a unit is asked for one; portions are counted", () => {
    const recipe = { id: "r", name: "Stock", section: "", yields: ["4 qt"], method: "" };
    expect(problems("recipe", { ...recipe, lines: [{ of: "item:bones", quantity: "5" }] })[0]).toMatch(/^lines\.0\.quantity: “5” has no unit/);
    const read = readFact("recipe", { ...recipe, lines: [{ of: "spec:s", quantity: "2" }] }, us);
    expect(read.ok && read.value.lines[0]?.quantity).toMatchObject({ amount: "2", unit: "portion" });
    expect(problems("recipe", { ...recipe, yields: ["0 qt"], lines: [] })).toEqual(["yields.0: The batch yield must be above zero."]);
    expect(problems("recipe", { ...recipe, yields: ["4 qt", "1 gal"], lines: [] })[0]).toMatch(/^yields\.1: The batch is measured twice/);
  });

  test("a week is named by its Monday", () => {
    expect(problems("sales", { id: "2026-11-16", sold: [] })).toEqual([]);
    expect(problems("sales", { id: "2026-11-17", sold: [] })).toEqual(["id: A week is named by its Monday."]);
  });
});

describe("marks that are no text", () => {
  test("are taken out of names and notes, and refused in ids", () => {
    const read = readFact("dealer", { id: "d", name: " Harbour\u0000 \u202eProvisioners\ud800 ", note: "rings\u0007 at six\nby the back door" }, us);
    expect(read.ok && [read.value.name, read.value.note]).toEqual(["Harbour Provisioners", "rings at six\nby the back door"]);
    expect(problems("dealer", { id: "d\u0000", name: "Harbour", note: "" })).toEqual(["id: An id is letters, digits and hyphens."]);
  });
});

describe("values of another shape, as only a program sends them", () => {
  test.each<[string, (typeof FACT_KINDS)[number], unknown, string]>([
    ["a number for a dealer", "dealer", 7, ": This is not told field by field, as it has to be."],
    ["text for a list of lines", "recipe", { id: "r", name: "Stock", yields: ["4 qt"], lines: "bones" }, "lines: A list is needed here."],
    ["a pack nested five deep", "quote", { id: "q", itemId: "i", dealerId: "d", price: "1", per: "lb", pack: { levels: Array(5).fill({ count: "2", container: "bag" }), size: "1 lb", catchWeight: false } }, "pack.levels: This is more than is kept here: at most 4."],
    ["a number as an exact amount", "menuPrice", { id: "d", gross: { amount: 31 } }, "gross.amount: Text is needed here."],
    ["an amount with an exponent", "menuPrice", { id: "d", gross: { amount: "1e5" } }, "gross.amount: An amount is a number written out, such as 18.375, or a fraction, such as 1/3."],
  ])("%s is refused in a sentence all the same", (_, kind, input, told) => expect(problems(kind, input)).toContain(told));
});

describe("anything at all", () => {
  const hostile = fc.oneof(fc.anything(), fc.record({
    id: fc.anything(), name: fc.anything(), kind: fc.anything(), of: fc.anything(), parts: fc.anything(), lines: fc.array(fc.anything()), yields: fc.array(fc.anything()),
    price: fc.anything(), pack: fc.anything(), billed: fc.anything(), sold: fc.anything(), gross: fc.anything(), size: fc.anything(), note: fc.string(),
  }));
  test("is read or refused with sentences, never thrown", () => {
    fc.assert(fc.property(fc.constantFrom(...FACT_KINDS), hostile, (kind, input) => {
      const read = readFact(kind, input, us);
      if (!read.ok) {
        expect(read.problems.length).toBeGreaterThan(0);
        for (const problem of read.problems) expect(problem.sentence.length).toBeGreaterThan(0);
      }
    }), { numRuns: 2000 });
  });
});
