/** What moved the menu's food cost between two days, split by cause: the parts are the whole, and each is what it should be. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, type Change, withChanges } from "@/lib/book";
import { type Cascade, compile } from "@/lib/cascade";
import { Decimal } from "@/lib/measure";
import { type MenuThen, changesBetween, factsSince, lastWeeks, since } from "@/lib/menu";
import { bookOf, dish, item, menuPrice, quote, recipe, spec, striploin, week } from "./small-books";

const menu: readonly Change[] = [
  ...striploin, item("butter"), quote("butter", "4 a lb"), recipe("sauce", ["1 qt"], ["item butter 2 lb"]),
  dish("steak", ["spec steak-10oz 1 portion", "recipe sauce 0.05 qt"]), menuPrice("steak", "38"),
  dish("toast", ["item butter 1 oz"]), menuPrice("toast", "6"),
  week("2026-11-16", { steak: "100", toast: "50" }),
];

function menuOf(book: Book): MenuThen {
  const made = compile(book);
  if (!made.ok) throw new Error(made.problems.map((problem) => problem.sentence).join(" "));
  const cascade: Cascade = made.value;
  return { cascade, weeks: lastWeeks(cascade.book.shelves.sales.values(), cascade.book.on) };
}

const then = bookOf(menu);
function told(changes: readonly Change[]): { readonly points: Decimal; readonly parts: Readonly<Record<string, string>> } {
  const split = since(menuOf(then), menuOf(withChanges(then, changes)));
  if (!split.ok || split.value.points === null) throw new Error("expected a split");
  return { points: split.value.points, parts: Object.fromEntries(split.value.parts.map(({ cause, points }) => [cause, points.toFixed(10)])) };
}
const sum = (parts: Readonly<Record<string, string>>): string => Object.values(parts).reduce((total, points) => total.plus(points), new Decimal(0)).toFixed(8);

const dearer = quote("striploin", "7.90 a lb");
const smaller = spec("steak-10oz", "strip", "9 oz");
const richer = recipe("sauce", ["1 qt"], ["item butter 3 lb"]);
const priced = menuPrice("steak", "39");
const sold = week("2026-11-23", { steak: "20", toast: "300" });

describe("since a day", () => {
  test("nothing changed, nothing moved", () => {
    expect(told([])).toMatchObject({ parts: {} });
    expect(told([]).points.isZero()).toBe(true);
  });

  test("one cause alone moved all of it", () => {
    for (const [change, cause] of [[dearer, "price"], [smaller, "portion"], [richer, "recipe"], [priced, "menu price"], [sold, "mix"]] as const) {
      const { points, parts } = told([change]);
      expect(points.isZero()).toBe(false);
      expect(parts).toEqual({ [cause]: points.toFixed(10) });
    }
  });

  test("the parts of several causes add up to the whole move, whichever they are", () => {
    fc.assert(fc.property(fc.subarray([dearer, smaller, richer, priced, sold], { minLength: 1 }), (changes) => {
      const { points, parts } = told(changes);
      expect(sum(parts)).toBe(points.toFixed(8));
    }), { numRuns: 31 });
  });

  test("two causes that work on each other share what they do together", () => {
    const [price, portion, both] = [told([dearer]).parts["price"] ?? "", told([smaller]).parts["portion"] ?? "", told([dearer, smaller])];
    const together = both.points.minus(price).minus(portion);
    expect(new Decimal(both.parts["price"] ?? 0).minus(price).toFixed(9)).toBe(together.div(2).toFixed(9));
  });

  test("what is new moves nothing until it is sold; then it is the mix", () => {
    const fresh = [item("lobster"), quote("lobster", "30 a lb"), dish("lobster", ["item lobster 1 lb"]), menuPrice("lobster", "60")];
    expect(told(fresh).parts).toEqual({});
    expect(Object.keys(told([...fresh, week("2026-11-23", { lobster: "40" })]).parts)).toEqual(["mix"]);
  });

  test("with nothing sold there is nothing to split", () => {
    const silent = bookOf(menu.filter((change) => change.kind !== "sales"));
    const split = since(menuOf(silent), menuOf(withChanges(silent, [dearer])));
    expect(split.ok && split.value.points).toBeNull();
  });

  test("each fact by itself, the one that moved most first", () => {
    const changes = [dearer, quote("butter", "4.10 a lb"), dish("soup", [])];
    const after = menuOf(withChanges(then, changes));
    const facts = factsSince(then, after, changesBetween(then, after.cascade.book));
    expect(facts.map(({ cause }) => cause)).toEqual(["price", "price"]);
    expect(facts[0]?.change.id).toContain("striploin");
    expect(facts[0]?.points.gt(facts[1]?.points ?? 0)).toBe(true);
  });
});
