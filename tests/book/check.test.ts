/** Checks across facts: what a change may not do to the book, told in words, at its field. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Change, checkBook, checkChanges, usersOf } from "@/lib/book";
import { exact } from "@/lib/measure";
import { bookOf, butcherTest, cut, dealer, dish, item, menuPrice, part, quote, recipe, spec, striploin, typed, week } from "../menu/small-books";

const told = (facts: readonly Change[], changes: readonly Change[]): readonly string[] =>
  checkChanges(bookOf(facts), changes).map((problem) => `${problem.of.kind} ${problem.of.id} ${problem.path}: ${problem.sentence}`);

describe("the kitchen's own settings", () => {
  const settings = bookOf([]).shelves.kitchen.get("kitchen") ?? null;
  test("may change, not go", () => {
    expect(checkChanges(bookOf(striploin), [{ kind: "kitchen", id: "kitchen", after: settings }])).toEqual([]);
    expect(told([...striploin, dish("d", ["spec steak-10oz 1 portion"]), menuPrice("d", "30")], [{ kind: "kitchen", id: "kitchen", after: null }, spec("steak-10oz", "strip", "10 lb")])).toEqual([
      "kitchen kitchen : The kitchen's own settings cannot be taken off its book: change them instead, from a day on which they already apply.",
    ]);
  });
  test("stand alone: another kitchen's do not join them", () => {
    const other = settings && { ...settings, id: "other" };
    expect(told(striploin, [{ kind: "kitchen", id: "other", after: other }])).toEqual(["kitchen other : This book is of one kitchen, and these are another one's settings: change them in that kitchen."]);
  });
});

describe("nothing is made of itself", () => {
  const facts = [item("bones"), quote("bones", "1.20 a lb"), dealer, recipe("stock", ["4 qt"], ["item bones 8 lb"]), recipe("demi-glace", ["1 qt"], ["recipe stock 4 qt"])];
  test("stock → demi-glace → stock", () => {
    expect(told(facts, [recipe("stock", ["4 qt"], ["item bones 8 lb", "recipe demi-glace 1 cup"])])).toEqual([
      "recipe stock lines.1.of: stock would be made of itself: stock → demi-glace → stock. Take one of these lines out, or put a bought item in its place.",
    ]);
  });
  test("itself in one step", () => expect(told(facts, [recipe("stock", ["4 qt"], ["recipe stock 1 qt"])])[0]).toContain("stock → stock"));
  test("through the worth of a by-product", () => {
    const around = [...facts, butcherTest("t", "bones", "10 lb", "1.20 a lb", [part("main", "meat", "6 lb"), part("by-product", "rest", "2 lb", { value: { kind: "recipe", id: "stew" } })]),
      cut("meat", { kind: "item", id: "bones" }, ["t"], { partKey: "meat" })];
    expect(told(around, [recipe("stew", ["4 qt"], ["cut meat 4 lb"])])[0]).toContain("stew → meat → stew");
  });
  test("20,000 deep is no trouble", () => {
    const deep = Array.from({ length: 20_000 }, (_, at) => recipe(`r${at}`, ["1 qt"], [at === 0 ? "item bones 1 lb" : `recipe r${at - 1} 1 qt`]));
    expect(told([...facts, ...deep], [recipe("r0", ["1 qt"], ["recipe r19999 1 qt"])])[0]).toContain("r0 → r19999");
  });
  test("a whole book 20,000 deep is walked through once, and a long way round is told shortly", () => {
    const deep = Array.from({ length: 20_000 }, (_, at) => recipe(`r${at}`, ["1 qt"], [at === 0 ? "item bones 1 lb" : `recipe r${at - 1} 1 qt`]));
    expect(checkChanges(bookOf(facts), deep)).toEqual([]);
    expect(checkBook(bookOf([...facts, ...deep]))).toEqual([]);
    const [problem = ""] = told([...facts, ...deep], [recipe("r0", ["1 qt"], ["recipe r19999 1 qt"])]);
    expect(problem).toContain("r0 → r19999 → r19998 → r19997 → r19996 → r19995 → r19994 → … (19991 more) … → r2 → r1 → r0.");
    expect(problem.length).toBeLessThan(400);
  });
  test("two ways round that a change makes are both told, each once", () => {
    const made = checkChanges(bookOf(facts), [
      recipe("a", ["1 qt"], ["recipe b 1 cup"]), recipe("b", ["1 qt"], ["recipe a 1 cup"]), recipe("stock", ["4 qt"], ["recipe demi-glace 1 cup"]), recipe("c", ["1 qt"], ["recipe a 1 cup", "recipe stock 1 cup"]),
    ]);
    expect(made.map((problem) => [problem.code, problem.of.id])).toEqual([["cycle", "a"], ["cycle", "stock"]]);
  });
  test("a way round is found exactly where a recipe can be reached from itself", () => {
    const graph = fc.array(fc.array(fc.integer({ min: 0, max: 7 }), { maxLength: 3 }), { minLength: 8, maxLength: 8 });
    fc.assert(fc.property(graph, (uses) => {
      const changes = uses.map((of, at) => recipe(`r${at}`, ["1 qt"], of.map((other) => `recipe r${other} 1 cup`)));
      const reaches = uses.map((of) => new Set(of));
      for (let turn = 0; turn < 8; turn += 1) for (const set of reaches) for (const other of [...set]) for (const further of reaches[other] ?? []) set.add(further);
      const looped = reaches.some((set, at) => set.has(at));
      const problems = checkChanges(bookOf([]), changes);
      expect(problems.some((problem) => problem.code === "cycle")).toBe(looped);
      for (const problem of problems) expect(reaches[Number(problem.of.id.slice(1))]?.has(Number(problem.of.id.slice(1)))).toBe(true);
      const last = changes.at(-1);
      if (!last || uses.slice(0, -1).some((of, at) => of.includes(at))) return;
      // One change at a time says the same of that change.
      const before = bookOf(changes.slice(0, -1).map((change) => change));
      if (checkBook(before).some((problem) => problem.code === "cycle")) return;
      expect(checkChanges(before, [last]).some((problem) => problem.code === "cycle")).toBe(reaches[7]?.has(7) ?? false);
    }));
  });
});

describe("the sheet of a test", () => {
  const loin = [item("loin"), quote("loin", "7.10 a lb"), dealer];
  const sheet = (parts: Parameters<typeof butcherTest>[4], more = {}) => told(loin, [butcherTest("t", "loin", "12 lb", "7.10 a lb", parts, more)]);
  test("parts heavier than the whole", () => {
    const [problem] = sheet([part("main", "steak", "9 lb"), part("discard", "fat", "3.5625 lb")]);
    expect(problem).toContain("12 lb 9 oz");
    expect(problem).toContain("12 lb");
  });
  test("credits above cost", () => {
    expect(sheet([part("main", "steak", "6 lb"), part("by-product", "bone", "5 lb", { value: typed("20 a lb") })])[0]).toMatch(/test t .*(credit|worth|by-products)/i);
  });
  test("credits above cost through a linked item", () => {
    const linked = [...loin, item("gold"), quote("gold", "900 a lb")];
    const problems = told(linked, [butcherTest("t", "loin", "12 lb", "7.10 a lb", [part("main", "steak", "6 lb"), part("by-product", "bone", "5 lb", { value: { kind: "item", id: "gold" } })])]);
    expect(problems).toHaveLength(1);
  });
  test("an old sheet is not wrong because a linked price has moved since", () => {
    const part1 = [part("main", "steak", "6 lb"), part("by-product", "bone", "5 lb", { value: { kind: "item", id: "bones" } })];
    const book = [...loin, item("bones"), quote("bones", "1 a lb"), butcherTest("t", "loin", "12 lb", "7.10 a lb", part1)];
    const dear = [...book, quote("bones", "900 a lb")];
    expect(told(dear, [item("loin", "mass", { name: "Loin, boneless" })])).toEqual([]);
    expect(told(dear, [butcherTest("t", "loin", "12 lb", "7.10 a lb", part1)])).toHaveLength(1);
  });
  test("a test that goes on from itself", () => {
    const sheetOf = (id: string, follows: string) => butcherTest(id, "loin", "12 lb", "7.10 a lb", [part("main", "steak", "9 lb")], { followsTestId: follows });
    expect(told(loin, [sheetOf("t", "t")])[0]).toContain("test t followsTestId: A test cannot go on from itself");
    expect(told(loin, [sheetOf("t", "u"), sheetOf("u", "t")])).toHaveLength(2);
  });
  test("a count of something told by weight", () => {
    const problems = told(loin, [butcherTest("t", "loin", "12 each", null, [part("main", "steak", "6 each")], { scaleStep: null })]);
    expect(problems[0]).toContain("loin is told by weight");
  });
});

describe("cuts and portions", () => {
  test("a portion larger than the piece", () => {
    const [problem] = told(striploin, [spec("huge", "strip", "24 lb")]);
    expect(problem).toMatch(/spec huge size: A 24 lb portion cannot come from a .* piece of strip/);
  });
  test("a portion scooped from many small pieces may be larger than one of them", () => {
    const onions = [item("onions"), quote("onions", "0.60 a lb"), dealer,
      butcherTest("o", "onions", "50 lb", "0.60 a lb", [part("main", "diced", "44 lb"), part("discard", "skins", "5 lb")], { kind: "trim", pieces: exact("160") }),
      cut("diced", { kind: "item", id: "onions" }, ["o"], { partKey: "diced" })];
    expect(told(onions, [spec("scoop", "diced", "8 oz")])).toEqual([]);
    expect(told(onions, [spec("sack", "diced", "45 lb")])[0]).toContain("A 45 lb portion cannot come from a 44 lb piece of diced");
    expect(told(onions, [spec("ring", "diced", "8 oz", { costing: "whole" })])[0]).toContain("portion cannot come from");
  });
  test("a portion, when what its cut is measured in changes under it", () => {
    const eggs = [item("eggs", "count"), dealer, cut("shelled", { kind: "item", id: "eggs" }, [])];
    expect(told([...eggs, spec("egg", "shelled", "1 each")], [item("eggs", "mass")])[0]).toContain("spec egg size: shelled is told by weight");
  });
  test("a test of something else", () => {
    const other = [...striploin, item("ham"), quote("ham", "2 a lb"), butcherTest("ham-test", "ham", "10 lb", "2 a lb", [part("main", "steak", "8 lb")])];
    expect(told(other, [cut("strip", { kind: "item", id: "striploin" }, ["ham-test"], { partKey: "steak" })])[0]).toContain("That test is of ham, but strip is made from striploin");
  });
  test("a part that the test does not have", () => {
    expect(told(striploin, [cut("strip", { kind: "item", id: "striploin" }, ["strip-test"].filter((id) => bookOf(striploin).shelves.test.has(id)).concat([...bookOf(striploin).shelves.test.keys()]), { partKey: "tail" })])[0]).toContain("has no main part for strip");
  });
  test("a volume of a portion that is weighed", () => {
    expect(told([...striploin, spec("steak", "strip", "10 oz")], [dish("plate", ["spec steak 1 cup"])])[0]).toContain("steak is counted in portions");
  });
});

describe("what refers to what", () => {
  const facts = [item("loin"), quote("loin", "7.10 a lb"), dealer, recipe("jus", ["1 qt"], ["item loin 2 lb"]), dish("plate", ["recipe jus 1 cup"]), menuPrice("plate", "31")];
  test("something that is not in the book", () => {
    expect(told(facts, [dish("other", ["recipe ghost 1 cup"])])).toEqual(["dish other lines.0.of: There is no such recipe in the book any more: choose another."]);
  });
  test("taken off while it is used: told by what", () => {
    expect(told(facts, [{ kind: "recipe", id: "jus", after: null }])[0]).toMatch(/recipe jus : jus cannot be taken off the book while it is used by: dish plate\./);
    expect(told(facts, [{ kind: "dish", id: "plate", after: null }, { kind: "menuPrice", id: "plate", after: null }])).toEqual([]);
  });
  test("a dish that has been sold may leave the menu: its weeks of sales stay as they were told", () => {
    const sold = [...facts, week("2026-11-16", { plate: "40" })];
    const off: readonly Change[] = [{ kind: "dish", id: "plate", after: null }, { kind: "menuPrice", id: "plate", after: null }];
    expect(told(sold, off)).toEqual([]);
    expect(told(sold, off.slice(0, 1))).toEqual([expect.stringContaining("plate cannot be taken off the book while it is used by: menu price plate.")]);
    // A dish that is not there cannot be sold from now on.
    expect(told(facts, [week("2026-11-23", { ghost: "3" })])[0]).toContain("There is no such dish in the book any more");
  });
  test("taken off together with what used it, or once nothing uses it", () => {
    const book = bookOf(facts);
    expect(usersOf(book, "recipe", "jus")).toEqual([{ kind: "dish", id: "plate" }]);
    expect(checkChanges(book, [{ kind: "recipe", id: "jus", after: null }, dish("plate", ["item loin 8 oz"])])).toEqual([]);
    const still = checkChanges(book, [{ kind: "recipe", id: "jus", after: null }, dish("plate", ["recipe jus 2 oz"])]);
    expect(still.map((problem) => `${problem.of.kind} ${problem.path}: ${problem.code}`)).toEqual(["dish lines.0.of: not-in-the-book", "recipe : still-used"]);
  });
  test("a price told in another kind than the item is costed in", () => {
    expect(told(facts, [quote("loin", "3 a qt")])[0]).toContain("loin is costed by weight, but this price is told in qt");
  });
  test("a good book has no problems", () => {
    expect(checkBook(bookOf(facts))).toEqual([]);
    expect(checkBook(bookOf(striploin))).toEqual([]);
  });
});
