import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { againstEarlier, intervalOfNext, sayAgainstEarlier } from "@/lib/yield";
import { US, codes, won } from "./sheets";
import { someTests, strip, told } from "./yields";

const ten = told(["0.70", "0.71", "0.72", "0.705", "0.715", "0.70", "0.72", "0.71", "0.708", "0.712"]);

const says = (billed: string, usable: string, earlier: typeof ten): string => sayAgainstEarlier(won(againstEarlier(strip("2026-06-10", billed, usable), earlier)), US);

describe("the one line at the block", () => {
  test("usual, below and above", () => {
    expect(says("10 lb", "7.11 lb", ten)).toBe("71.1 % usable: within the usual 69.3 to 72.7 %.");
    expect(says("10 lb", "7 lb", ten)).toBe("70.0 % usable: within the usual 69.3 to 72.7 %, lower than 8 of the last 10.");
    expect(says("10 lb", "6.6 lb", ten)).toBe("66.0 % usable: below the usual 69.3 to 72.7 %, lower than all of the last 10.");
    expect(says("10 lb", "7.5 lb", ten)).toBe("75.0 % usable: above the usual 69.3 to 72.7 %, higher than all of the last 10.");
  });

  test("few tests claim no usual range", () => {
    expect(says("10 lb", "7 lb", [])).toBe("70.0 % usable. The first test of this: nothing to hold it against yet.");
    expect(says("10 lb", "7 lb", ten.slice(0, 1))).toBe("70.0 % usable. The only test before gave 70.0 %: too few to call a range usual.");
    expect(says("10 lb", "7 lb", ten.slice(0, 4))).toBe("70.0 % usable. The 4 tests before gave 70.0 to 72.0 %: too few to call a range usual.");
    expect(says("10 lb", "7 lb", ten.slice(0, 5))).toContain("within the usual 68.6 to 73.4 %");
  });

  test("the last ten are the newest ten; the test itself is not held against itself", () => {
    const [newest, ...before] = [...ten].reverse();
    if (newest === undefined) throw new Error("expected tests");
    expect(won(againstEarlier(newest, ten))).toEqual(won(againstEarlier(newest, before)));
    const old = told(["0.5", "0.5"]).map((each) => ({ ...each, id: `old ${each.id}`, on: "2020-01-01" }));
    const result = won(againstEarlier(strip("2026-06-10", "10 lb", "6 lb"), [...ten, ...old]));
    expect(result).toMatchObject({ rank: { among: 10, lowerThan: 10, higherThan: 0 } });
    expect(codes(againstEarlier(newest, ten, ratio.ONE))).toEqual(["level-out-of-range"]);
  });

  test("laws: within exactly when inside the next piece's interval; lower, higher and level with make the last tests", () => {
    fc.assert(
      fc.property(someTests(6, 14), (tests) => {
        const [latest, ...earlier] = tests;
        if (latest === undefined) return;
        const result = won(againstEarlier(latest, earlier));
        if (result.kind === "first" || result.kind === "few") throw new Error("expected a usual range from five tests");
        const usual = won(intervalOfNext(earlier, ratio.of(19n, 20n), latest.pieces));
        const own = ratio.toDecimal(latest.yield);
        expect(result.kind === "within").toBe(own.gte(usual.low) && own.lte(usual.high));
        expect(result.rank.among).toBe(Math.min(10, earlier.length));
        expect(result.rank.lowerThan + result.rank.higherThan).toBeLessThanOrEqual(result.rank.among);
      }),
      { numRuns: 30 },
    );
  });
});
