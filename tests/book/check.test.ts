/** Checks across facts: what a change may not do to the book, told in words, at its field. */
import { describe, expect, test } from "vitest";
import { type Change, checkBook, checkChanges } from "@/lib/book";
import { exact } from "@/lib/measure";
import { bookOf, butcherTest, cut, dealer, dish, item, menuPrice, part, quote, recipe, spec, striploin, typed } from "../menu/small-books";

const told = (facts: readonly Change[], changes: readonly Change[]): readonly string[] =>
  checkChanges(bookOf(facts), changes).map((problem) => `${problem.of.kind} ${problem.of.id} ${problem.path}: ${problem.sentence}`);

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
  test("a price told in another kind than the item is costed in", () => {
    expect(told(facts, [quote("loin", "3 a qt")])[0]).toContain("loin is costed by weight, but this price is told in qt");
  });
  test("a good book has no problems", () => {
    expect(checkBook(bookOf(facts))).toEqual([]);
    expect(checkBook(bookOf(striploin))).toEqual([]);
    expect(exact("1")).toBe("1");
  });
});
