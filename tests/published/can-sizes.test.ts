/**
 * Nominal contents of named can sizes: S. Krumm, “Can sizes call for translation”, K-State Research and Extension, in the
 * Lawrence Journal-World, 26 August 2009 (www2.ljworld.com/news/2009/aug/26/can-sizes-call-translation). The column
 * "average net weight" as printed there; 8 oz cans are named by what they hold and need no table.
 */
import { describe, expect, test } from "vitest";
import { CAN_SIZES, canSizeOf } from "@/lib/book";
import { quantityInBase } from "@/lib/yield";
import { ratio } from "@/lib/measure";

/** Ounces as printed, pounds × 16. */
const PRINTED = [
  ["#1 can", "10 1/2 to 12 oz", 10.5, 12],
  ["#300 can", "14 to 16 oz", 14, 16],
  ["#303 can", "16 to 17 oz", 16, 17],
  ["#2 can", "20 oz", 20, 20],
  ["#2½ can", "26 to 30 oz", 26, 30],
  ["#3 can", "51 oz", 51, 51],
  ["#5 can", "4 to 4 1/2 lb", 64, 72],
  ["#10 can", "6 lb to 7 lb 5 oz", 96, 117],
] as const;

/** Grams in an ounce. */
const OUNCE = 28.349523125;

describe("what cans usually hold", () => {
  test.each(PRINTED)("%s: %s", (container, _printed, from, to) => {
    const size = canSizeOf(container);
    const ounces = [size?.from, size?.to].map((end) => end === undefined ? null : ratio.toDecimal(quantityInBase(end)).div(OUNCE).toDecimalPlaces(6).toNumber());
    expect(ounces).toEqual([from, to]);
  });

  test("and no other", () => {
    expect(CAN_SIZES.map(({ container }) => container).sort()).toEqual(PRINTED.map(([container]) => container).sort());
  });
});
