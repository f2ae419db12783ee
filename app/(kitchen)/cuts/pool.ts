/**
 * Which tests a cut stands on, as a form with PoolFields says it. A test that stood behind the cut and is unticked needs a
 * reason before it is recorded; to see what it would do, it needs none. What was decided about tests that the form did
 * not show stays as it was.
 */
import { type Cut, leftOutAndGone, matchingTests } from "@/lib/book";
import { type Checked, type Problem, good } from "@/lib/measure";
import { leaveOut } from "@/lib/yield";
import type { ChangeInput } from "../change-flow/run-change";
import { adoptedEarly } from "../tests/read-test";

export function readPool(input: ChangeInput, cut: Cut): Checked<Pick<Cut, "testIds" | "leftOut">> {
  const { form, live, recording } = input;
  const matching = matchingTests(live.book, cut);
  const shown = matching.filter(({ test }) => form.text(`keep.${test.id}`) !== "");
  const ticked = (id: string): boolean => form.text(`keep.${id}`) === "yes";
  const undecided = (id: string): boolean => matching.find(({ test }) => test.id === id)?.standing.kind === "undecided";

  const out = shown.filter(({ test }) => !ticked(test.id)).map(({ test }) => ({ testId: test.id, reason: form.text(`reason.${test.id}`) }));
  // Who only looks what would move need not say why yet; nor need anybody decide about a test that was never decided about.
  const said = out.filter(({ testId, reason }) => reason !== "" || (recording && !undecided(testId)));
  const kept = leaveOut(shown.map(({ test }) => test), said);
  const problems: Problem[] = kept.ok ? [] : kept.problems.map((problem) => onForm(problem, said));
  if (shown.length > 0 && out.length === shown.length && cut.testIds.length > 0 && problems.every(({ code }) => code !== "nothing-left")) {
    problems.push({ path: "", code: "nothing-left", sentence: "No test would stand behind the cut, and its yield be unknown: keep at least one." });
  }
  for (const { test, standing } of shown) {
    const early = standing.kind !== "behind" && ticked(test.id) ? adoptedEarly(input, test) : null;
    if (early !== null) problems.push(early);
  }
  if (problems.length > 0) return { ok: false, problems };

  const hidden = matching.filter((one) => !shown.includes(one));
  const unchanged = new Set([...hidden.map(({ test }) => test.id), ...leftOutAndGone(live.book, cut).map(({ testId }) => testId)]);
  const added = shown.filter(({ test }) => ticked(test.id) && !cut.testIds.includes(test.id)).map(({ test }) => test).sort((a, b) => (a.on < b.on ? -1 : 1));
  return good({
    testIds: [...cut.testIds.filter((id) => form.text(`keep.${id}`) !== "no"), ...added.map(({ id }) => id)],
    leftOut: [...cut.leftOut.filter(({ testId }) => unchanged.has(testId)), ...said.map(({ testId, reason }) => ({ testId, reason: reason.trim() }))],
  });
}

/** A problem of the n-th test left out belongs to the field of its reason. */
function onForm(problem: Problem, said: readonly { readonly testId: string }[]): Problem {
  const at = /^leftOut\.(\d+)/.exec(problem.path)?.[1];
  const of = at === undefined ? undefined : said[Number(at)];
  return { ...problem, path: of === undefined ? "" : `reason.${of.testId}` };
}
