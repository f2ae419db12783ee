/**
 * One test as statistics see it: which test, when, what was billed and what came out usable. Everything about several
 * tests (spread, intervals, chart, comparison) starts from these; none looks at money. The yield is that of one main part,
 * the cut, or of all main parts together.
 */
import { type Checked, type Problem, type Ratio, bad, good, ratio } from "@/lib/measure";
import { lossesOf, usableWeight } from "./losses";
import { type WeighedSheet, readWeights } from "./sheet";

export interface TestYield {
  /** Which test. */
  readonly id: string;
  /** Day of the test, "2026-11-21"; null when not said. */
  readonly on: string | null;
  /** How many pieces were worked together; above zero. */
  readonly pieces: Ratio;
  /** W, base units. */
  readonly billed: Ratio;
  /** U, base units: of the part, or of all main parts. */
  readonly usable: Ratio;
  /** U/W. */
  readonly yield: Ratio;
  /** Weight can be taken up, so a yield above 1 is possible. */
  readonly gains: boolean;
}

/**
 * The yield of a test: of the main part named by `partKey`, or of all main parts where it is null. Problems: those of
 * reading and of balance; part-missing when the part was not a main one.
 */
export function testYield(id: string, sheet: WeighedSheet, partKey: string | null = null): Checked<TestYield> {
  const read = readWeights(sheet);
  if (!read.ok) return read;
  const base = read.value;
  const balanced = lossesOf(base);
  if (!balanced.ok) return balanced;
  const part = base.parts.find((each) => each.key === partKey && each.role === "main");
  if (partKey !== null && part === undefined) {
    return bad("partKey", "part-missing", "This test was not worked for that part: choose a main part of the test.");
  }
  const usable = part?.weight ?? usableWeight(base);
  return good({
    id,
    on: sheet.on ?? null,
    pieces: base.pieces,
    billed: base.billed,
    usable,
    yield: ratio.div(usable, base.billed),
    gains: base.kind === "hydration",
  });
}

/** The yields of several tests, oldest first. Problems: each test's own, with paths "tests.<n>.…". */
export function testYields(tests: readonly { readonly id: string; readonly sheet: WeighedSheet }[], partKey: string | null = null): Checked<readonly TestYield[]> {
  const problems: Problem[] = [];
  const yields = tests.flatMap(({ id, sheet }, index) => {
    const found = testYield(id, sheet, partKey);
    if (found.ok) return [found.value];
    problems.push(...found.problems.map((problem) => ({ ...problem, path: `tests.${index}.${problem.path}` })));
    return [];
  });
  return problems.length > 0 ? { ok: false, problems } : good(byDay(yields));
}

/** Oldest first; those of one day, or without a day, in the order given. */
export function byDay(yields: readonly TestYield[]): readonly TestYield[] {
  return [...yields].sort((a, b) => ((a.on ?? "") < (b.on ?? "") ? -1 : (a.on ?? "") > (b.on ?? "") ? 1 : 0));
}
