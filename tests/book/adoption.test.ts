/** Which tests stand behind a cut: since when, what was before, and what counts as a reason to doubt them. */
import { describe, expect, test } from "vitest";
import { type Change, type Cut, type CutState, adoptionOn, alsoPutBack, changedSince, checkChanges, matchingTests, readFact, sameTests, takenBack } from "@/lib/book";
import { bookOf, butcherTest, cut, item, kitchen, part, quote, striploin } from "../menu/small-books";

const loin = { kind: "item", id: "striploin" } as const;
const strip = (testIds: readonly string[], more: Partial<Cut> = {}): Cut => {
  const change = cut("strip", loin, testIds, more);
  if (change.kind !== "cut" || change.after === null) throw new Error("expected a cut");
  return change.after;
};
const state = (revision: number, validFrom: string, fact: Cut | null, replacedBy: number | null = null): CutState => ({ revision, validFrom, replacedBy, fact });

describe("the adoption in force", () => {
  const first = state(1, "2026-01-05", strip(["january"]));
  const second = state(2, "2026-06-01", strip(["january", "june"], { joint: "sales-value" }));
  const reworded = state(3, "2026-07-01", strip(["june", "january"], { joint: "sales-value", specification: "tail off" }));

  test("begins with the first state that names these tests, in whatever order", () => {
    const adoption = adoptionOn([reworded, first, second], "2026-11-25");
    expect([adoption?.since.revision, adoption?.before?.revision, adoption?.later.map(({ revision }) => revision)]).toEqual([2, 1, [3]]);
  });
  test("is that of the day asked for", () => {
    expect(adoptionOn([first, second, reworded], "2026-05-31")?.since.revision).toBe(1);
    expect(adoptionOn([first, second, reworded], "2026-01-04")).toBeNull();
  });
  test("passes over a state that was corrected", () => {
    const wrong = state(2, "2026-06-01", strip(["another"]), 4);
    expect(adoptionOn([first, wrong, state(4, "2026-06-01", strip(["january", "june"]))], "2026-11-25")).toMatchObject({ since: { revision: 4 }, before: { revision: 1 } });
  });
  test("is none while the cut is off the book", () => {
    expect(adoptionOn([first, state(2, "2026-06-01", null)], "2026-11-25")).toBeNull();
  });

  test("taken back, the cut stands on what it stood on before, and keeps its name and specification", () => {
    const adoption = adoptionOn([first, second, reworded], "2026-11-25");
    const back = adoption && takenBack(adoption);
    expect(back?.ok && back.value).toEqual(strip(["january"], { joint: "weight", specification: "tail off" }));
    expect(adoption && alsoPutBack(adoption)).toEqual([]);
  });
  test("tells what was decided since and goes back with it", () => {
    const later = state(4, "2026-08-01", strip(["january", "june"], { joint: "sales-value", repricing: "by-factor" }));
    const adoption = adoptionOn([first, second, later], "2026-11-25");
    expect(adoption && alsoPutBack(adoption)).toEqual(["how a new price reaches it"]);
  });
  test("taken back twice is back again", () => {
    const adoption = adoptionOn([first, second], "2026-11-25");
    const back = adoption && takenBack(adoption);
    if (!back?.ok) throw new Error("expected it to go back");
    const again = adoptionOn([first, second, state(3, "2026-11-25", back.value)], "2026-11-25");
    const forth = again && takenBack(again);
    expect(forth?.ok && sameTests(forth.value, second.fact)).toBe(true);
  });
  test("has nothing before it when it was the first, or the cut had been off the book", () => {
    for (const states of [[first], [state(0, "2025-12-01", null), first]]) {
      const adoption = adoptionOn(states, "2026-11-25");
      const back = adoption && takenBack(adoption);
      expect(back?.ok === false && back.problems[0]?.code).toBe("nothing-before");
    }
  });
});

describe("said otherwise than on the day of the test", () => {
  const said = (fact: { readonly words: string }): string => fact.words;
  const at = (revision: number, validFrom: string, words: string | null) => ({ revision, validFrom, replacedBy: null, fact: words === null ? null : { words } });
  test("since the day it is said as now", () => {
    expect(changedSince([at(1, "2026-01-01", "tail 1 in"), at(2, "2026-03-01", "tail off"), at(3, "2026-04-01", "tail off")], said, "2026-02-01", "2026-11-25"))
      .toEqual({ on: "2026-03-01", before: "tail 1 in", after: "tail off" });
  });
  test("not when it was said so already, was changed back, or waits for its day", () => {
    expect(changedSince([at(1, "2026-01-01", "a"), at(2, "2026-03-01", "b")], said, "2026-03-01", "2026-11-25")).toBeNull();
    expect(changedSince([at(1, "2026-01-01", "a"), at(2, "2026-03-01", "b"), at(3, "2026-04-01", "a")], said, "2026-02-01", "2026-11-25")).toBeNull();
    expect(changedSince([at(1, "2026-01-01", "a"), at(2, "2026-12-01", "b")], said, "2026-02-01", "2026-11-25")).toBeNull();
  });
  test("not while it was or is not on the book", () => {
    expect(changedSince([at(1, "2026-03-01", "a")], said, "2026-02-01", "2026-11-25")).toBeNull();
    expect(changedSince([at(1, "2026-01-01", "a"), at(2, "2026-03-01", null)], said, "2026-02-01", "2026-11-25")).toBeNull();
  });
});

describe("tests that could stand behind a cut", () => {
  const steak = (id: string, on: string, more: Parameters<typeof butcherTest>[5] = {}): Change =>
    butcherTest(id, "striploin", "13 lb", "7 a lb", [part("main", "steak", "8.5 lb"), part("discard", "fat", "4.25 lb")], { on, ...more });
  const facts = [
    ...striploin, steak("spring", "2026-04-01"), steak("summer", "2026-07-01"), steak("peeled", "2026-08-01", { kind: "trim" }),
    butcherTest("roast", "striploin", "13 lb", "7 a lb", [part("main", "whole-roast", "10 lb")]),
    item("ham"), quote("ham", "2 a lb"), butcherTest("ham-test", "ham", "10 lb", "2 a lb", [part("main", "steak", "8 lb")]),
  ];
  const leaving = (leftOut: Cut["leftOut"], testIds = ["test-1"]): Change => cut("strip", loin, testIds, { leftOut });

  test("are of the same thing, kind and part, newest first, each with where it stands", () => {
    const book = bookOf([...facts, leaving([{ testId: "spring", reason: "tub not tared" }])]);
    const found = book.shelves.cut.get("strip");
    expect(found && matchingTests(book, found).map(({ test: one, standing }) => [one.id, standing.kind])).toEqual([["test-1", "behind"], ["summer", "undecided"], ["spring", "left-out"]]);
  });

  const told = (change: Change): readonly string[] => checkChanges(bookOf(facts), [change]).map(({ path, sentence }) => `${path}: ${sentence}`);
  test("are left out once, not while they stand behind it, and only of the same thing", () => {
    expect(told(leaving([{ testId: "spring", reason: "tub not tared" }]))).toEqual([]);
    expect(told(leaving([{ testId: "spring", reason: "a" }, { testId: "spring", reason: "b" }]))).toEqual(["leftOut.1.testId: That test is left out already: keep one of the two reasons."]);
    expect(told(leaving([{ testId: "test-1", reason: "a" }]))[0]).toContain("cannot stand behind strip and be left out of it: choose one.");
    expect(told(leaving([{ testId: "ham-test", reason: "a" }]))[0]).toContain("That test is of ham, but strip is made from striploin");
  });
  test("stay left out when they have gone from the book", () => {
    expect(told(leaving([{ testId: "long-gone", reason: "tub not tared" }]))).toEqual([]);
  });
  test("need a reason in words", () => {
    for (const reason of ["", "  ", "…", "--", undefined]) {
      const read = readFact("cut", { ...strip(["test-1"]), leftOut: [{ testId: "spring", reason }] }, kitchen);
      expect(read.ok === false && read.problems[0]).toMatchObject({ path: "leftOut.0.reason", code: "reason-missing" });
    }
    const long = readFact("cut", { ...strip(["test-1"]), leftOut: [{ testId: "spring", reason: "x".repeat(301) }] }, kitchen);
    expect(long.ok === false && long.problems[0]?.sentence).toBe("Why a test is left out is 301 characters long; at most 300 fit. Shorten it.");
  });
});
