/**
 * Bad input that a kitchen really produces at the block, case by case: what is said, and which slip is
 * proposed. Rows about reading a figure stand in tests/measure/scale-reading.test.ts, about prices and days in
 * tests/book/price-questions.test.ts.
 */
import { describe, expect, test } from "vitest";
import { parseQuantity, readAtScale } from "@/lib/measure";
import {
  type KnownAtTheBlock, type Sheet, type Slip, butcherTest, closingFirst, cookingLossTest, drainedTest, hydrationTest, impsNumberIn, likeliestSlips, shortWeight, trimTest, USUAL_PARTS,
  usualFrom, usualPartsFor, wholePortions,
} from "@/lib/yield";
import { US, byProduct, codes, discard, figure, main, purge, quantity, rate, sentences, sheet, won } from "./sheets";

const told = (sheetToAsk: Sheet, known: KnownAtTheBlock = {}): readonly Slip[] => likeliestSlips(sheetToAsk, known);
const kinds = (slips: readonly Slip[]): readonly string[] => slips.map((slip) => slip.kind);
const first = (slips: readonly Slip[]): Slip => {
  const [slip] = slips;
  if (slip === undefined) throw new Error("expected a slip to be proposed");
  return slip;
};
const noted = (sheetToAsk: Sheet): readonly string[] => won(butcherTest(sheetToAsk)).notes.map((note) => `${note.code}: ${note.sentence}`);

/** A strip loin of 12 lb as it was truly weighed: 2 oz lost. */
const loin = (change: { readonly steaks?: string; readonly trim?: string; readonly fat?: string; readonly more?: Sheet["parts"] } = {}): Sheet =>
  sheet("butcher", "12 lb", "8", [
    main("Steaks", change.steaks ?? "7 lb 4 oz"), byProduct("Trim", change.trim ?? "2 lb 12 oz", "3"), discard("Fat", change.fat ?? "1 lb 14 oz"), ...(change.more ?? []),
  ], { step: "1 oz" });

describe("bad input at the block", () => {
  test("a sheet that balances proposes nothing", () => expect(told(loin(), { tares: [quantity("10 oz")] })).toEqual([]));

  test("Parts exceed the whole: the excess, and the likeliest cause by name", () => {
    const heavy = butcherTest(sheet("butcher", "12 lb", "8", [main("Steaks", "8 lb"), discard("Fat", "4 lb 9 oz")]));
    expect(codes(heavy)).toEqual(["parts-exceed-whole"]);
    expect(sentences(heavy)).toContain("Parts add to 12 lb 9 oz but the piece weighed 12 lb: 9 oz too much.");
    const over = sheet("butcher", "12 lb", "8", [main("Steaks", "7 lb 12 oz"), byProduct("Trim", "1 lb 14 oz", "3"), discard("Fat", "2.8 lb")], { step: "1 oz" });
    expect(sentences(butcherTest(over))).toBe(
      "Parts add to 12 lb 6.8 oz but the piece weighed 12 lb: 6.8 oz too much. Were ounces typed behind the point in Fat? With 2 lb 8 oz and not 2.8 lb, the parts would be 2 oz over, which the scale's steps explain.",
    );
    // Nothing in the sheet tells more: the two usual causes.
    expect(sentences(butcherTest(sheet("butcher", "12 lb", "8", [main("Steaks", "8 lb 1 oz"), discard("Fat", "4 lb")])))).toContain("Most likely a tub was not tared, or ounces were typed as decimals");
  });

  test("`2.12` in a lb field: offer first the reading that closes the weight balance, never switch silently", () => {
    const asked = readAtScale("2.12", null, US);
    if (asked.ok) throw new Error("expected 2.12 to be asked about");
    expect(closingFirst(asked.choices, loin({ trim: "2.12" }), "parts.1.weight").map((choice) => choice.text)).toEqual(["2 lb 12 oz", "2.12 lb"]);
    const decimal = sheet("butcher", "12 lb", "8", [main("Steaks", "7 lb 14 oz"), byProduct("Trim", "2.12", "3"), discard("Fat", "1 lb 14 oz")]);
    expect(closingFirst(asked.choices, decimal, "parts.1.weight").map((choice) => choice.text)).toEqual(["2.12 lb", "2 lb 12 oz"]);
    const slip = first(told(loin({ trim: "2.12" })));
    expect([slip.kind, slip.at[0]?.path, slip.at[0]?.wouldBe?.amount]).toEqual(["ounces-as-decimals", "parts.1.weight", "2.75"]);
    expect(slip.sentence).toBe("Were ounces typed behind the point in Trim? With 2 lb 12 oz and not 2.12 lb, 2 oz (1 %) would be left.");
  });

  test("`2.5` in a lb field: ask only if the other reading (2 lb 5 oz) closes a balance that is otherwise open", () => {
    const open = sheet("butcher", "12 lb", "8", [main("Steaks", "8 lb 1 oz"), byProduct("Trim", "2.5", "3"), discard("Fat", "1 lb 9 oz")], { step: "1/4 oz" });
    expect(first(told(open)).sentence).toBe("Were ounces typed behind the point in Trim? With 2 lb 5 oz and not 2.5 lb, 1 oz (0.5 %) would be left.");
    expect(told(sheet("butcher", "12 lb", "8", [main("Steaks", "7 lb 14 oz"), byProduct("Trim", "2.5", "3"), discard("Fat", "1 lb 9 oz")], { step: "1/4 oz" }))).toEqual([]);
  });

  test("Missing tare, gross typed as net: a known tub that would close the balance", () => {
    const slip = first(told(loin({ fat: "2 lb 8 oz" }), { tares: [quantity("10 oz"), quantity("3 lb")], untared: new Set(["trim", "fat"]) }));
    expect([slip.kind, slip.at.map((at) => at.path)]).toEqual(["tub-not-tared", ["parts.1.weight", "parts.2.weight"]]);
    expect(slip.sentence).toBe("Was the 10 oz tub not tared under Trim or Fat? Without it, 2 oz (1 %) would be left.");
    const all = loin({ steaks: "7 lb 14 oz", trim: "3 lb 6 oz", fat: "2 lb 8 oz" });
    expect(first(told(all, { tares: [quantity("10 oz")] })).sentence).toBe("Was no tub tared? If each of the 3 parts was weighed in a tub of 10 oz, 2 oz (1 %) would be left.");
  });

  test("Missing tare: the same constant excess in every tub suggests that tare", () => {
    const all = loin({ steaks: "7 lb 14 oz", trim: "3 lb 6 oz", fat: "2 lb 8 oz" });
    const slip = first(told(all, { usual: usualFrom([loin(), loin(), loin()]) }));
    expect(slip.kind).toBe("no-tub-tared");
    expect(slip.at).toHaveLength(3);
    expect(slip.sentence).toMatch(/^Was no tub tared\? If each of the 3 parts was weighed in a tub of 10(?:\.\d+)? oz, /);
  });

  test("lb and kg mixed: one part × 2.2046 would close the balance", () => {
    const mixed = sheet("butcher", "12 lb", "8", [main("Steaks", "7 lb 4 oz"), byProduct("Trim", "1.25", "3"), discard("Fat", "1 lb 14 oz")], { step: "1 oz" });
    expect(first(told(mixed)).sentence).toBe("If Trim was read in kilos but entered as pounds, the sheet would close: with 1.25 kg and not 1.25 lb, 1.91 oz (1 %) would be left.");
    expect(sentences(butcherTest(sheet("butcher", "12 lb", "6.65", [main("meat", "6 kg"), discard("fat", "5 lb 12 oz")])))).toContain("If meat was read in pounds but entered as kilos, the sheet would close");
  });

  test("grams against ounces, and against kilos: a factor of 28.35, or of 1000", () => {
    const grams = sheet("butcher", "5 kg", "8", [main("Steaks", "3 kg"), byProduct("Trim", "43 g", "3"), discard("Fat", "740 g")]);
    expect(first(told(grams, { scale: "oz" })).at[0]).toMatchObject({ path: "parts.1.weight", wouldBe: { amount: "43", unit: "oz" } });
    const kilos = sheet("butcher", "5 kg", "8", [main("Steaks", "3 kg"), byProduct("Trim", "1220 kg", "3"), discard("Fat", "740 g")]);
    expect(first(told(kilos)).sentence).toBe("If Trim was read in grams but entered as kilos, the sheet would close: with 1220 g and not 1220 kg, 0.04 kg (0.8 %) would be left.");
  });

  test("two figures changed over, the point in the wrong place, a part weighed twice", () => {
    const swapped = told(loin({ steaks: "4 lb 7 oz" })).find((slip) => slip.kind === "digits-swapped");
    expect(swapped?.sentence).toBe("Are two figures changed over in Steaks? With 7 lb 4 oz and not 4 lb 7 oz, 2 oz (1 %) would be left.");
    const point = sheet("butcher", "12 kg", "8", [main("Steaks", "7.2 kg"), byProduct("Trim", "27.5 kg", "3"), discard("Fat", "1.9 kg")]);
    expect(first(told(point)).sentence).toBe("Is the point in its place in Trim? With 2.75 kg and not 27.5 kg, 0.15 kg (1.3 %) would be left.");
    expect(first(told(loin({ more: [discard("Fat again", "1 lb 14 oz")] }))).sentence).toBe("Was Fat again (1 lb 14 oz) weighed twice, once with another part? Without its row, 2 oz (1 %) would be left.");
  });

  test("Loss in cutting over the limit: “1 lb 2 oz (9 %) is unaccounted for. Purge? A part not weighed?”", () => {
    const lost = sheet("butcher", "12 lb 8 oz", "8", [main("Steaks", "7 lb 12 oz"), discard("Fat", "3 lb 10 oz")], { step: "1 oz" });
    expect(noted(lost)).toEqual(["loss-high: 1 lb 2 oz (9 %) is unaccounted for. Purge? A part not weighed?"]);
    expect(told(lost).find((slip) => slip.kind === "not-weighed")?.sentence).toBe("1 lb 2 oz (9 %) is unaccounted for. Purge? A part not weighed?");
    const { parts, ...rest } = loin();
    const forgotten = told({ ...rest, parts: parts.slice(0, 2) }, { usual: usualFrom([loin(), loin()]) });
    expect(first(forgotten).sentence).toBe("2 lb (16.7 %) is unaccounted for. Fat is not on this sheet, and earlier tests have it: was it weighed?");
    // While parts are still being weighed, what is left is no loss yet.
    expect(told({ ...rest, parts: parts.slice(0, 2) }, { finished: false })).toEqual([]);
  });

  test("Loss exactly 0: “No loss at all is rare: was one part worked out instead of weighed?”", () => {
    expect(noted(loin({ fat: "2 lb" }))).toEqual(["loss-none: No loss at all is rare: was one part worked out instead of weighed?"]);
  });

  test("an excess that the readings and the step of the scale explain is no slip", () => {
    // Whole and three parts: four readings in steps of an ounce are off by at most 2 oz.
    expect(told(loin({ fat: "2 lb 2 oz" }))).toEqual([]);
    expect(told(loin({ fat: "2 lb 3 oz" }), { weighings: new Map([["fat", 3]]) })).toEqual([]);
    expect(kinds(told(loin({ fat: "2 lb 12 oz" }), { tares: [quantity("14 oz")] }))).toContain("tub-not-tared");
  });

  test("Yield > 100 % on trim or dry heat: impossible; the stage is named", () => {
    expect(sentences(trimTest(sheet("trim", "5 kg", "5.50", [main("flesh", "5.1 kg")])))).toContain("Trimming cannot add weight");
    expect(sentences(drainedTest(sheet("drained", "102 oz", null, [main("olives", "103 oz")])))).toContain("Draining cannot add weight");
    const roast = sheet("cooking", "10 lb", "8", [main("Carved", "6 lb")], { trimmed: "9 lb", cooked: "7 lb" });
    expect(told(roast)).toEqual([]);
    // A yield over 100 % that one unit explains is told with it.
    expect(first(told(sheet("trim", "5 kg", "5.50", [main("flesh", "8.4 kg"), discard("skin", "1.1 kg")]))).sentence).toMatch(/^If flesh was read in pounds but entered as kilos/);
  });

  test("Yield > 100 % on hydration: fine", () => {
    const rice = sheet("hydration", "1 kg", "2.91 / kg", [main("cooked rice", "2.91 kg")]);
    expect(won(hydrationTest(rice)).notes).toEqual([]);
    expect(told(rice)).toEqual([]);
    const pounds = sheet("hydration", "1 lb", null, [main("cooked rice", "1.32 lb")]);
    expect(first(told(pounds)).at[0]?.wouldBe).toMatchObject({ unit: "kg" });
  });

  test("Cooked > trimmed: ask whether injected, basted, or swapped weights", () => {
    const basted = sheet("cooking", "10 lb", "8", [main("Carved", "6 lb")], { trimmed: "7 lb", cooked: "9 lb" });
    expect(sentences(cookingLossTest(basted))).toContain("Was it injected or basted (then cost the brine as its own stage), or are the weights swapped?");
  });

  test("By-product value ≥ price of the whole: asked about", () => {
    expect(won(butcherTest(sheet("butcher", "20 lb", "4.60", [main("loin", "15 lb"), byProduct("Bone", "4 lb 12 oz", "5.00")]))).notes[0]?.sentence).toBe("Bone at 5.00 per lb is not cheaper than the piece at 4.60: is that right?");
  });
  test("Credits exceed cost: usable cost negative, no factor", () => {
    expect(codes(butcherTest(sheet("butcher", "10 lb", "1", [main("loin", "5 lb"), byProduct("bone", "4 lb 14 oz", "9")])))).toEqual(["credits-exceed-cost"]);
  });
  test("Zero or negative weight: refuse; and no slip is guessed at", () => {
    const nothing = loin({ fat: "0 lb" });
    expect(codes(butcherTest(nothing))).toEqual(["not-above-zero"]);
    expect(told(nothing)).toEqual([]);
    expect(parseQuantity("-3 lb", US, { kinds: ["mass"] })).toMatchObject({ problems: [{ code: "negative" }] });
  });

  test("Billed 20 lb, received 18 lb 6 oz: short-weight claim, not yield", () => {
    const claim = shortWeight(quantity("20 lb"), quantity("18 lb 6 oz"), rate("9.50"), quantity("1 oz"));
    expect(claim?.problem).toEqual({ path: "received", code: "short-weight", sentence: "Billed 20 lb, received 18 lb 6 oz: 1 lb 10 oz short. That is a claim on the dealer of 15.44, not yield: the test counts what was billed." });
    expect([claim?.short, claim?.claim]).toEqual([{ amount: "1.625", unit: "lb" }, figure("15.4375")]);
    expect(shortWeight(quantity("20 lb"), quantity("19 lb 15.5 oz"), null, quantity("1 oz"))).toBeNull();
    expect(shortWeight(quantity("20 lb"), quantity("20 lb 1 oz"), null, null)).toBeNull();
  });

  test("Portion larger than the piece: “A 24 oz portion cannot come from a 20 oz piece”", () => {
    expect(sentences(wholePortions([figure("566.99046250")], figure("680.388555"), "oz"))).toMatch(/^A 24 oz portion cannot come from a 20 oz piece/);
  });
});

describe("usual parts of a cut", () => {
  test.each([
    [{ name: "Striploin, choice" }, "strip-loin"], [{ name: "Loin, as bought", specification: "IMPS 180, choice, 12–14 lb" }, "strip-loin"], [{ name: "8 oz steaks", specification: "IMPS 1189A" }, "tenderloin"],
    [{ name: "Pork tenderloin" }, "pork-tenderloin"], [{ name: "Ribeye, lip-on" }, "ribeye-roll"], [{ name: "Lamb rack" }, "lamb-rack"], [{ name: "Atlantic salmon, whole" }, "whole-salmon"], [{ name: "Whole chickens" }, "whole-chicken"],
    [{ name: "Carrots, jumbo" }, "root-vegetables"], [{ name: "Potatoes" }, "root-vegetables"], [{ name: "Cream" }, undefined], [{ name: "Codeine" }, undefined],
  ])("%j starts with the card %s", (what, key) => expect(usualPartsFor(what)?.key).toBe(key));

  test("every card has a main part, no part twice, and meat in a bag a row for its purge", () => {
    expect(new Set(USUAL_PARTS.map((card) => card.key)).size).toBe(USUAL_PARTS.length);
    for (const card of USUAL_PARTS) {
      expect(card.parts.some((part) => part.role === "main")).toBe(true);
      expect(new Set(card.parts.map((part) => part.name)).size).toBe(card.parts.length);
      if (card.kind === "butcher") expect(card.parts.filter((part) => part.role === "purge")).toHaveLength(1);
    }
    expect(impsNumberIn("IMPS/NAMP 189A, select")).toBe("189A");
    expect(impsNumberIn("180 lb")).toBeNull();
  });

  test("an item number belongs to one card", () => {
    const all = USUAL_PARTS.flatMap((card) => card.imps);
    expect(new Set(all).size).toBe(all.length);
  });
  test("a purge row of its own widens what is usual for the loss to 5 %", () => {
    const dripped = sheet("butcher", "12 lb", "8", [main("Steaks", "7 lb 4 oz"), byProduct("Trim", "2 lb 8 oz", "3"), discard("Fat", "1 lb 10 oz"), purge("3 oz")]);
    expect(told(dripped)).toEqual([]);
  });
});
