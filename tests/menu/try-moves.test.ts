/** A try-out laid over a costed book: the figures of the whole menu are those of a look at all of it. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Book, type Move, type MoveBody, aboutOf, basisOf, withChanges } from "@/lib/book";
import { compile, tryOut } from "@/lib/cascade";
import { exact } from "@/lib/measure";
import { lastWeeks, tryMoves, weightedFoodCost } from "@/lib/menu";
import { bookOf, dish, item, menuPrice, q, quote, randomBook, recipe, striploin, week } from "./small-books";

const move = (body: MoveBody, at: number, on: Book): Move => ({ key: `m${at}`, about: aboutOf(body, on), body, basis: basisOf(on, body), added: null });

test("price, portion and menu price tried together, and the book is left as it was", () => {
  const book = bookOf([...striploin, item("fries"), quote("fries", "1 a lb"), recipe("side", ["1 lb"], ["item fries 1 lb"]), dish("steak", ["spec steak-10oz 1 portion", "recipe side 4 oz"]), menuPrice("steak", "26"), week("2026-11-16", { steak: "40" })]);
  const compiled = compile(book);
  if (!compiled.ok) throw new Error("expected the book to compile");
  const cascade = compiled.value;
  const before = JSON.stringify(tryMoves(cascade, []).menu.before);
  const bodies: readonly MoveBody[] = [
    { kind: "share", of: { kind: "item", id: "striploin" }, share: exact("0.08") }, { kind: "size", specId: "steak-10oz", size: q("8 oz") }, { kind: "menu price", dishId: "steak", gross: { amount: exact("27") } },
  ];
  const { report, menu, problems } = tryMoves(cascade, bodies.map((body, at) => move(body, at, book)));
  expect(problems).toEqual([]);
  expect(report?.dishes.map(({ dishId, after }) => [dishId, after?.gross?.toString()])).toEqual([["steak", "27"]]);
  expect(report?.takingsAWeek?.toString()).toBe("40");
  expect(menu.after?.ratio?.lt(menu.before.ratio ?? 0)).toBe(true);
  expect(JSON.stringify(tryMoves(cascade, []).menu.before)).toBe(before);
});

test("over random books the menu afterwards is the one that a look at every dish finds", () => {
  fc.assert(fc.property(fc.gen(), (g) => {
    const random = randomBook(g);
    const book = withChanges(random, ["2026-11-09", "2026-11-16"].map((monday) => week(monday, Object.fromEntries([...random.shelves.dish.keys(), "gone"].map((id) => [id, String(g(fc.integer, { min: 0, max: 50 }))])))));
    const compiled = compile(book);
    if (!compiled.ok) return;
    const bodies: MoveBody[] = [...book.shelves.item.keys()].map((id): MoveBody => ({ kind: "share", of: { kind: "item", id }, share: exact("0.11") }));
    for (const [id, fact] of book.shelves.dish) if (g(fc.boolean)) bodies.push({ kind: "fact", change: { kind: "dish", id, after: { ...fact, lines: fact.lines.slice(1) } } });
    const tried = tryMoves(compiled.value, bodies.map((body, at) => move(body, at, book)));
    const laid = tryOut(compiled.value, tried.laid.changes);
    if (!laid.ok || tried.menu.after === null) return;
    const whole = weightedFoodCost(laid.value.after, lastWeeks(book.shelves.sales.values(), book.on));
    expect(tried.menu.after.ratio?.toFixed(20)).toBe(whole.ratio?.toFixed(20));
    expect(tried.menu.after.target?.toFixed(20)).toBe(whole.target?.toFixed(20));
    expect(tried.menu.after.atLeast).toBe(whole.atLeast);
    expect(tried.menu.after.uncertain.map(({ dishId }) => dishId).sort()).toEqual(whole.uncertain.map(({ dishId }) => dishId).sort());
  }), { numRuns: 60 });
});
