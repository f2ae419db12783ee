import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Decimal, ratio } from "@/lib/measure";
import { type TestGroup, compareGroups, compareTwo, confoundings, holm, sayComparison, sayConfounding } from "@/lib/yield";
import { US, codes, show, won } from "./sheets";
import { singlePieces, someTests, told } from "./yields";

const group = (name: string, ...yields: readonly string[]): TestGroup => ({ name, tests: told(yields, name) });
const harbour = group("Harbour Meats", "0.70", "0.71", "0.72", "0.705", "0.715");
const northside = group("Northside", "0.66", "0.67", "0.675", "0.665", "0.68");
const bridge = group("Bridge Street", "0.69", "0.70", "0.73", "0.68", "0.70");

describe("comparing two dealers", () => {
  test("one yields more, by how much, and within what", () => {
    const compared = won(compareTwo(harbour, northside));
    expect(compared.verdict).toMatchObject({ kind: "more", more: "Harbour Meats", less: "Northside" });
    expect(sayComparison(compared, US)).toBe("Harbour Meats yields more than Northside, by 4.0 points: between 2.8 and 5.2 (95 % sure).");
    expect(show(compared.difference?.by ?? ratio.ZERO)).toBe("0.04");
    expect(sayComparison(won(compareTwo(northside, harbour)), US)).toBe("Harbour Meats yields more than Northside, by 4.0 points: between 2.8 and 5.2 (95 % sure).");
  });

  test("a difference these tests cannot tell is not told as none", () => {
    const compared = won(compareTwo(harbour, bridge));
    expect(compared.verdict).toEqual({ kind: "cannot-tell" });
    expect(sayComparison(compared, US)).toBe(
      "No difference between Harbour Meats and Bridge Street that these tests can tell: Harbour Meats may yield up to 3.3 points more, or Bridge Street up to 1.3.",
    );
  });

  test("too few tests are told apart from no difference", () => {
    const compared = won(compareTwo(harbour, group("Northside", "0.66", "0.67")));
    expect(compared.verdict).toEqual({ kind: "too-few", needed: 3, groups: [{ name: "Northside", tests: 2 }] });
    expect(compared.difference).toBeNull();
    expect(sayComparison(compared, US)).toBe("Not enough tests to tell Harbour Meats from Northside: Northside has 2, and each side needs at least 3.");
    expect(sayComparison(won(compareTwo(group("A"), group("B", "0.7"))), US)).toBe("Not enough tests to tell A from B: A has none and B has 1, and each side needs at least 3.");
  });

  test("tests that repeat to the last digit judge nothing", () => {
    const compared = won(compareTwo(group("A", "0.7", "0.7", "0.7"), group("B", "0.6", "0.6", "0.6")));
    expect(compared.verdict).toEqual({ kind: "no-spread" });
    expect(sayComparison(compared, US)).toContain("check that these were weighed");
    // One side that repeats is judged by the other's spread.
    expect(won(compareTwo(group("A", "0.7", "0.7", "0.7"), group("B", "0.6", "0.61", "0.6"))).verdict.kind).toBe("more");
  });

  test("what cannot be compared", () => {
    expect(codes(compareGroups([harbour]))).toEqual(["one-group"]);
    expect(codes(compareGroups([harbour, { ...northside, name: "Harbour Meats" }]))).toEqual(["group-twice"]);
    expect(codes(compareGroups([harbour, { name: "since June", tests: harbour.tests.slice(3) }]))).toEqual(["test-in-both", "test-in-both"]);
    expect(codes(compareGroups([harbour, northside], ratio.ONE))).toEqual(["level-out-of-range"]);
  });
});

describe("comparing several", () => {
  test("every pair, judged together by Holm's steps", () => {
    const compared = won(compareGroups([harbour, northside, bridge]));
    expect(compared.map(({ a, b, verdict }) => [a, b, verdict.kind])).toEqual([
      ["Harbour Meats", "Northside", "more"], ["Harbour Meats", "Bridge Street", "cannot-tell"], ["Northside", "Bridge Street", "more"],
    ]);
    // Alone: 0.0000437, 0.3177, 0.0192 (an independent library); times 3, 1 and 2.
    expect(compared.map(({ difference }) => difference?.correctedChance.toFixed(6))).toEqual(["0.000131", "0.317679", "0.038356"]);
    expect(compared.map(({ difference }) => show(difference?.level ?? ratio.ZERO, 6))).toEqual(["0.983333", "0.95", "0.975"]);
  });

  test("a group with too few tests takes no part in the correction", () => {
    const compared = won(compareGroups([harbour, northside, group("New dealer", "0.7")]));
    expect(compared.map(({ verdict }) => verdict.kind)).toEqual(["more", "too-few", "too-few"]);
    expect(compared[0]?.difference).toEqual(won(compareTwo(harbour, northside)).difference);
  });

  test("laws: turned about, the verdict is the same and the figures change their sign; the verdict is what the corrected chance says", () => {
    fc.assert(
      fc.property(someTests(3, 6), someTests(3, 6), someTests(3, 6), (one, two, three) => {
        const named = (name: string, tests: typeof one): TestGroup => ({ name, tests: tests.map((each) => ({ ...each, id: `${name} ${each.id}` })) });
        const groups = [named("A", one), named("B", two), named("C", three)];
        const compared = won(compareGroups(groups));
        const turned = won(compareGroups([...groups].reverse()));
        for (const pair of compared) {
          const back = turned.find((each) => each.a === pair.b && each.b === pair.a);
          expect(back?.verdict).toEqual(pair.verdict);
          if (pair.difference === null) continue;
          expect(back?.difference?.by).toEqual(ratio.neg(pair.difference.by));
          expect(back?.difference?.low.toString()).toBe(pair.difference.high.neg().toString());
          expect(pair.verdict.kind === "more").toBe(pair.difference.correctedChance.lt("0.05"));
          expect(pair.difference.correctedChance.gte(pair.difference.chance)).toBe(true);
        }
      }),
      { numRuns: 15 },
    );
  });

  test("law: adding the same to every yield changes no difference", () => {
    fc.assert(
      fc.property(singlePieces(3, 6), singlePieces(3, 6), (one, two) => {
        const shifted = (tests: typeof one): typeof one => tests.map((each) => ({ ...each, yield: ratio.add(each.yield, ratio.of(1n, 3n)) }));
        const other = two.map((each) => ({ ...each, id: `b ${each.id}` }));
        const before = won(compareTwo({ name: "A", tests: one }, { name: "B", tests: other }));
        expect(won(compareTwo({ name: "A", tests: shifted(one) }, { name: "B", tests: shifted(other) }))).toEqual(before);
      }),
      { numRuns: 15 },
    );
  });

  test("Holm's corrected chances never fall below one before them and never pass 1", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 10_000 }), { maxLength: 8 }), (tenThousandths) => {
        const chances = tenThousandths.map((each) => new Decimal(each).div(10_000));
        const corrected = holm(chances);
        chances.forEach((chance, at) => {
          expect(corrected[at]?.gte(chance)).toBe(true);
          expect(corrected[at]?.lte(1)).toBe(true);
          chances.forEach((other, there) => {
            if (chance.lt(other)) expect(corrected[at]?.lte(corrected[there] ?? 0)).toBe(true);
          });
        });
      }),
    );
  });
});

describe("what else differs", () => {
  const known = (cutters: Readonly<Record<string, string>>): ReadonlyMap<string, Readonly<Record<string, string>>> =>
    new Map([harbour, northside].flatMap(({ name, tests }) => tests.map((each) => [each.id, { dealer: name, ...(cutters[name] === undefined ? {} : { cutter: cutters[name] }) }])));

  test("a new cutter on a new dealer's meat is said beside the verdict", () => {
    const found = confoundings([harbour, northside], known({ "Harbour Meats": "Ana", Northside: "Ben" }), "dealer");
    expect(found).toEqual([{ a: "Harbour Meats", b: "Northside", what: "cutter" }]);
    expect(found.map((each) => sayConfounding(each, "dealer"))).toEqual([
      "Dealer and cutter differ together between Harbour Meats and Northside: these tests cannot say which of the two made a difference.",
    ]);
  });

  test("one cutter for both, or a cutter not known for every test, is not told", () => {
    expect(confoundings([harbour, northside], known({ "Harbour Meats": "Ana", Northside: "Ana" }), "dealer")).toEqual([]);
    expect(confoundings([harbour, northside], known({ Northside: "Ben" }), "dealer")).toEqual([]);
    expect(confoundings([harbour, { name: "none", tests: [] }], known({ "Harbour Meats": "Ana" }), "dealer")).toEqual([]);
  });
});
