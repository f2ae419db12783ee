/**
 * Several tests as a kitchen has them: `strip("2026-05-04", "12 lb 4 oz", "8 lb 9 oz")` is one working of a strip loin. `told(["0.71", …])`
 * are yields alone, a test a week from 5 January 2026, for figures that a source prints without weights.
 */
import fc from "fast-check";
import { type Ratio, ratio } from "@/lib/measure";
import { type TestYield, testYield } from "@/lib/yield";
import { discard, figure, main, sheet, won } from "./sheets";

let made = 0;

export function strip(on: string, billed: string, usable: string, more: { readonly id?: string; readonly pieces?: string } = {}): TestYield {
  made += 1;
  const loin = sheet("butcher", billed, null, [main("strip", usable), discard("fat", "1 oz")], { on, ...(more.pieces === undefined ? {} : { pieces: more.pieces }) });
  return won(testYield(more.id ?? `strip-${made}`, loin, "strip"));
}

/** Days a week apart: 0 is 5 January 2026. */
export function week(number: number): string {
  return new Date(Date.UTC(2026, 0, 5 + 7 * number)).toISOString().slice(0, 10);
}

/** Yields alone. They may be any figure, as those of a published series are. */
export function told(yields: readonly string[], name = "test"): readonly TestYield[] {
  return exactly(yields.map(figure), name);
}

export function exactly(yields: readonly Ratio[], name = "test"): readonly TestYield[] {
  return yields.map((each, at) => ({ id: `${name}-${at + 1}`, on: week(at), pieces: ratio.ONE, billed: ratio.ONE, usable: each, yield: each, gains: true }));
}

/** Tests that a kitchen could have made: 5 to 60 lb billed, 40 to 95 % usable, one to four pieces. */
export const someTests = (fewest: number, most: number): fc.Arbitrary<readonly TestYield[]> =>
  fc
    .array(fc.record({ billed: fc.integer({ min: 500, max: 6000 }), share: fc.integer({ min: 400, max: 950 }), pieces: fc.integer({ min: 1, max: 4 }), week: fc.integer({ min: 0, max: 40 }) }), { minLength: fewest, maxLength: most })
    .map((tests) =>
      tests.map(({ billed, share, pieces, week: number }, at): TestYield => {
        const W = ratio.of(BigInt(billed), 100n);
        const U = ratio.of(BigInt(Math.floor((billed * share) / 1000)), 100n);
        return { id: `test-${at}`, on: week(number), pieces: ratio.of(BigInt(pieces)), billed: W, usable: U, yield: ratio.div(U, W), gains: false };
      }),
    );

/** As `someTests`, one piece a test. */
export const singlePieces = (fewest: number, most: number): fc.Arbitrary<readonly TestYield[]> =>
  someTests(fewest, most).map((tests) => tests.map((test) => ({ ...test, pieces: ratio.ONE })));
