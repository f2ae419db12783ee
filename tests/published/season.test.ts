/**
 * A seasonal index worked in a textbook: D. R. Anderson, D. J. Sweeney, T. A. Williams, Statistics for Business and
 * Economics, time series chapter, quarterly television-set sales (thousands). Written down from memory, not read off the
 * page again: the index of the quarters as printed there is .93, .84, 1.09, 1.14.
 */
import { describe, expect, test } from "vitest";
import { seasonalIndex } from "@/lib/buying";
import { exact, ratio } from "@/lib/measure";

const SALES = ["4.8", "4.1", "6.0", "6.5", "5.8", "5.2", "6.8", "7.4", "6.0", "5.6", "7.5", "7.8", "6.3", "5.9", "8.0", "8.4"];

describe("the ratio to the moving average", () => {
  const index = seasonalIndex(SALES.map((sale) => ratio.fromExact(exact(sale))), 4);

  test("gives the printed index of the quarters", () => {
    expect(index?.map((one) => ratio.toDecimal(one.index).toFixed(2))).toEqual(["0.93", "0.84", "1.09", "1.14"]);
  });

  test("through the printed ratios of each quarter", () => {
    expect(index?.map((one) => one.ratios.map((each) => ratio.toDecimal(each).toFixed(2)))).toEqual([
      ["0.97", "0.92", "0.91"], ["0.84", "0.84", "0.83"], ["1.10", "1.08", "1.11"], ["1.13", "1.16", "1.14"],
    ]);
  });
});
