/**
 * A sheet of the block read as the test it becomes, with the money beside it: the dealer's price of the day and what each
 * by-product is worth to the house, as the last test had it or as the form says. A by-product whose worth nobody has
 * said yet is weighed as a discard, and the note says so, so that nothing the cook did is held up for it.
 */
import { type BlockSheet, type YieldTest, blockSheet, readFact, testDayQuestions, testFromBlock } from "@/lib/book";
import { type Checked, type Problem, bad, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeInput } from "../../(kitchen)/change-flow/run-change";
import { kindIn, moneyOfTheHouse, originIn, withAdoption } from "../../(kitchen)/tests/read-test";

/** The test and, where the form says so, the cut it is adopted for. */
export async function readSheetAsTest(input: ChangeInput, id: string): Promise<Checked<readonly DatedChange[]>> {
  const answer = await input.open.store.readSheet(input.open.kitchenId, id);
  if (answer === null) return bad("", "no-such-sheet", "There is no such sheet at the block of this kitchen.");
  if (answer.recordedChange !== null) return bad("", "recorded", "This sheet has been recorded already. What was weighed since can be put right by correcting the test.");
  const worth = new Map(Object.entries(input.form.values).flatMap(([name, text]) => (name.startsWith("worth.") && input.seesMoney ? [[name.slice("worth.".length), text.trim()] as const] : [])));
  const test = testOf(input, id, blockSheet(answer.entries), worth);
  if (!test.ok) return test;
  const days = testDayQuestions(test.value.on, input.today, null, input.habits);
  if (days.length > 0) return { ok: false, problems: days.map((problem) => ({ ...problem, path: "" })) };
  return withAdoption(input, test.value, { change: { kind: "test", id, after: test.value }, validFrom: test.value.on });
}

/** The test that a sheet makes; `worth` is what somebody said of a by-product just now, by its key. */
export function testOf({ live, habits }: Pick<ChangeInput, "live" | "habits">, id: string, sheet: BlockSheet, worth: ReadonlyMap<string, string> = new Map()): Checked<YieldTest> {
  const from = testFromBlock(sheet, habits);
  if (!from.ok) return from;
  const { parts, ...rest } = from.value;
  const house = moneyOfTheHouse(live.book, habits, { id, of: originIn(rest.of), kind: kindIn(rest.kind) }, parts);
  const unsaid: string[] = [];
  const valued = house.parts.map((part): Record<string, unknown> => {
    const said = worth.get(String(part["key"])) ?? "";
    if (said !== "") return { ...part, value: { kind: "typed", rate: said } };
    if (part["role"] !== "by-product" || part["value"] !== null) return part;
    unsaid.push(String(part["name"]));
    return { ...part, role: "discard" };
  });
  const note = unsaid.length === 0 ? rest.note : [rest.note, `Weighed as a discard until somebody says what it is worth: ${unsaid.join(", ")}.`].filter((line) => line !== "").join("\n");
  const read = readFact("test", { ...rest, ...house, id, note, parts: valued, followsTestId: null }, habits);
  return read.ok ? good(read.value) : { ok: false, problems: read.problems.map((problem) => atPart(problem, valued)) };
}

/** A problem of what a part is worth belongs to the field on this page; any other is told with the part's name. */
function atPart(problem: Problem, parts: readonly Record<string, unknown>[]): Problem {
  const [, place, field] = /^parts\.(\d+)\.(\w+)/.exec(problem.path) ?? [];
  const part = place === undefined ? undefined : parts[Number(place)];
  if (part === undefined) return { ...problem, path: "" };
  return field === "value" ? { ...problem, path: `worth.${String(part["key"])}` } : { ...problem, path: "", sentence: `${String(part["name"])}: ${problem.sentence}` };
}
