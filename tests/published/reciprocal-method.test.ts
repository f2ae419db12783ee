/**
 * The reciprocal method against the worked example of a widely used cost accounting text (Horngren, Datar, Rajan: Cost
 * Accounting, chapter on support-department costs, "Castleford Engineering"). Figures and source from memory, not seen
 * again: plant maintenance 600,000 and information systems 116,000 serve each other (10 % and 20 %), machining and
 * assembly; printed are 624,082 and 240,816, of which machining is charged 379,877 and assembly 336,123 (from rounded shares; 379,878 and 336,122 without).
 */
import { describe, expect, test } from "vitest";
import { solveTogether } from "@/lib/buying";
import { ratio } from "@/lib/measure";

describe("support departments that serve each other", () => {
  const percent = (n: bigint) => ratio.of(n, 100n);
  const solved = solveTogether([[ratio.ZERO, percent(10n)], [percent(20n), ratio.ZERO]], [ratio.of(600_000n), ratio.of(116_000n)]);

  test("plant maintenance 624,082, information systems 240,816", () => {
    if (!solved.ok) throw new Error("expected a solution");
    expect(solved.x.map((value) => ratio.toDecimal(value).toFixed(0))).toEqual(["624082", "240816"]);
  });

  test("what is charged to machining and assembly is all that was spent", () => {
    if (!solved.ok) throw new Error("expected a solution");
    const [maintenance = ratio.ZERO, systems = ratio.ZERO] = solved.x;
    const machining = ratio.add(ratio.mul(percent(30n), maintenance), ratio.mul(percent(80n), systems));
    const assembly = ratio.add(ratio.mul(percent(50n), maintenance), ratio.mul(percent(10n), systems));
    expect([machining, assembly].map((value) => ratio.toDecimal(value).toFixed(0))).toEqual(["379878", "336122"]);
    expect(ratio.add(machining, assembly)).toEqual(ratio.of(716_000n));
  });
});
