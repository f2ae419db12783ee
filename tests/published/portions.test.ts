/**
 * Whole portions and the tolerance of portions, against what is printed or known. The tenderloin is the one of Dittmer &
 * Keefe, Principles of Food, Beverage, and Labor Cost Controls, ch. 6: 4 lb 4 oz (68 oz) usable. How many portions it
 * gives, and how much dearer they are when the end is thrown, is DERIVED, not printed there: floor(68/s), 68/(n·s) − 1.
 * The tolerances are FROM MEMORY: USDA AMS, Institutional Meat Purchase Specifications, section 3.5.1, whose table was not
 * before us. They are held against the guideline of the National Restaurant Association, as commonly quoted, that a 10 oz
 * steak weighs at least 9 1/2 oz before cooking.
 */
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { limitsOf, quantityInBase, sizesTried, usualTolerance, wholePortionLine } from "@/lib/yield";
import { discard, fixed, main, quantity, sheet, won } from "../yield/sheets";

const tenderloin = sheet("butcher", "9 lb", "6.11", [main("filet", "4 lb 4 oz", { pieces: ["68 oz"] }), discard("fat", "1 lb")]);

describe("tenderloin of 68 oz usable, the end thrown (derived from Dittmer & Keefe, ch. 6)", () => {
  test.each([["6 oz", 11n, "3.0"], ["8 oz", 8n, "6.3"], ["10 oz", 6n, "13.3"]])("%s: %d portions, %s %% over by weight", (size, portions, over) => {
    const s = quantity(size);
    const line = won(wholePortionLine([tenderloin], "filet", s));
    expect(line.counted.portions).toBe(portions);
    const extra = ratio.sub(ratio.div(line.usablePerPortion, quantityInBase(s)), ratio.ONE);
    expect(fixed(ratio.mul(extra, ratio.of(100n)), 1)).toBe(over);
    const [tried] = won(sizesTried([tenderloin], "filet", s)).filter((row) => row.asked);
    expect(tried?.extra).toEqual(extra);
  });
});

test("a 10 oz steak weighs at least 9 1/2 oz before cooking (restaurant-association guideline), as the tolerance from memory has it", () => {
  const ten = quantity("10 oz");
  const tolerance = usualTolerance(ten, "us");
  if (tolerance === null) throw new Error("expected a tolerance");
  expect(limitsOf(ten, tolerance).least).toEqual(quantityInBase(quantity("9 1/2 oz")));
});
