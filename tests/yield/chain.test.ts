import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { exact, ratio } from "@/lib/measure";
import { type Stage, STAGE_RANGES, chain, chainedYield, costPer } from "@/lib/yield";
import { codes, figure, fixed, quantity, rate, sentences, won } from "./sheets";

const stage = (kind: Stage["kind"], input: string, output: string, more: Partial<Stage> = {}): Stage => ({
  kind, name: kind, input: quantity(input), output: quantity(output), credits: [], added: null, ...more,
});

describe("a chain of stages", () => {
  test("the yield is the product of the stages', each on its own input", () => {
    const figures = won(chain([stage("thaw", "10 lb", "9.5 lb"), stage("trim", "9.5 lb", "7.6 lb"), stage("cook", "4 lb", "3 lb")], rate("5")));
    expect(figures.stages.map((each) => ratio.toExact(each.yield))).toEqual(["0.95", "0.8", "0.75"]);
    expect(ratio.toExact(figures.yield)).toBe("0.57");
    expect(figures.costPerUnit).not.toBeNull();
    expect(fixed(costPer(figures.costPerUnit ?? ratio.ZERO, "lb"), 6)).toBe("8.771930");
    expect(figures.yield).toEqual(chainedYield(figures.stages.map((each) => each.yield)));
    expect(figures.notes).toEqual([]);
  });

  test("a part is credited at the stage where it leaves", () => {
    const trim = stage("trim", "10 lb", "8 lb", { credits: [{ name: "trim", weight: quantity("1 lb"), value: rate("2") }] });
    const figures = won(chain([trim, stage("cook", "4 lb", "3 lb")], rate("5")));
    // (10·5 − 2)/8 = 6.00, then 4·6/3 = 8.00.
    expect(figures.stages.map((each) => fixed(costPer(each.costPerUnit ?? ratio.ZERO, "lb"), 2))).toEqual(["6.00", "8.00"]);
  });

  test("what is added is priced where it is added, and gain is allowed where water is taken up", () => {
    const figures = won(chain([stage("brine", "10 lb", "11 lb", { added: { amount: exact("5") } }), stage("cook", "11 lb", "8.25 lb")], rate("4")));
    expect(figures.stages.map((each) => fixed(costPer(each.costPerUnit ?? ratio.ZERO, "lb"), 4))).toEqual(["4.0909", "5.4545"]);
    expect(ratio.toExact(figures.yield)).toBe("0.825");
  });

  test("a gain where weight cannot be added names the stage", () => {
    const gained = chain([stage("thaw", "10 lb", "9.5 lb"), stage("trim", "9 lb", "9.5 lb", { name: "Boning" })], rate("5"));
    expect(gained.ok ? [] : gained.problems.map((problem) => [problem.path, problem.code])).toEqual([["stages.1.output", "yield-over-one"]]);
    expect(sentences(gained)).toContain("Boning: trimming cannot add weight");
  });

  test("a yield outside the range of its stage is a note; a kitchen may move the range", () => {
    const stages = [stage("hydrate", "1 kg", "4.5 kg")];
    expect(won(chain(stages, null)).notes.map((note) => [note.path, note.code])).toEqual([["stages.0.output", "yield-unusual"]]);
    const wider = { ...STAGE_RANGES, hydrate: { ...STAGE_RANGES.hydrate, high: figure("5") } };
    expect(won(chain(stages, null, null, wider)).notes).toEqual([]);
  });

  test("what cannot be", () => {
    expect(codes(chain([], rate("5")))).toEqual(["no-stages"]);
    expect(codes(chain([stage("trim", "10 lb", "2 L")], rate("5")))).toEqual(["wrong-kind"]);
    expect(codes(chain([stage("trim", "10 lb", "0 lb")], rate("5")))).toEqual(["not-above-zero"]);
    const trim = { name: "trim", weight: quantity("3 lb"), value: rate("20") };
    expect(codes(chain([stage("trim", "10 lb", "8 lb", { credits: [trim] })], rate("5")))).toEqual(["parts-exceed-whole"]);
    expect(codes(chain([stage("trim", "10 lb", "7 lb", { credits: [trim] })], rate("5")))).toEqual(["credits-exceed-cost"]);
  });

  test("without a price there are yields and no costs", () => {
    const figures = won(chain([stage("deglaze", "10 kg", "9 kg")], null));
    expect(figures.costPerUnit).toBeNull();
    expect(ratio.toExact(figures.yield)).toBe("0.9");
  });

  test("without credits the cost is the price over the chained yield, whatever the stages", () => {
    const grams = fc.integer({ min: 1, max: 100_000 });
    fc.assert(
      fc.property(fc.array(fc.tuple(grams, grams), { minLength: 1, maxLength: 6 }), fc.integer({ min: 1, max: 99_999 }), (weights, cents) => {
        const stages = weights.map(([a, b]) => stage("trim", `${Math.max(a, b)} g`, `${Math.min(a, b)} g`));
        const figures = won(chain(stages, { amount: exact(String(cents)), per: "g" }));
        expect(figures.costPerUnit).toEqual(ratio.div(ratio.of(BigInt(cents)), figures.yield));
      }),
      { numRuns: 60 },
    );
  });
});
