/** A plate at the table and taken away, and the plate as a tree of money. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Allowance, type Change, type Channel, type Dish, lineInBase } from "@/lib/book";
import { type Cascade, compile, costExactly, costOf } from "@/lib/cascade";
import { type Decimal, exact, ratio } from "@/lib/measure";
import { type CostBranch, byChannel, costTree, differsByChannel, dishFigures, whoseTarget } from "@/lib/menu";
import { bookOf, dish, item, line, menuPrice, quote, randomBook, recipe, striploin } from "./small-books";

function compiled(facts: readonly Change[], settings = {}): Cascade {
  const made = compile(bookOf(facts, settings));
  if (!made.ok) throw new Error(made.problems.map((problem) => problem.sentence).join(" "));
  return made.value;
}

/** "any item butter 2 lb": which way a line goes before what it is. */
function plated(id: string, lines: readonly string[], more: Partial<Dish> = {}): Change {
  return dish(id, [], {
    lines: lines.map((text, index) => ({ ...line(text.slice(text.indexOf(" ") + 1), index), role: "main", channel: text.slice(0, text.indexOf(" ")) as Channel })), ...more,
  });
}

const larder: readonly Change[] = [item("butter"), quote("butter", "5 a lb"), item("box", "count"), quote("box", "0.40 a each"), item("cress"), quote("cress", "8 a lb"), item("saffron")];
const going = (lines: readonly string[], more: Partial<Dish> = {}, settings = {}, gross = "34.95") => byChannel(compiled([...larder, plated("plate", lines, more), menuPrice("plate", gross, { taxRate: exact("0.2") })], settings), "plate");
const cents = (amount: Decimal | null | undefined): string | undefined => amount?.toFixed(2);

describe("a plate by the way it goes", () => {
  test("leaves the box at home when it is served, and the cress when it is taken away", () => {
    const both = going(["any item butter 2 lb", "away item box 2 each", "table item cress 1 oz"]);
    expect([cents(both?.table.plateCost.amount), cents(both?.away.plateCost.amount)]).toEqual(["10.50", "10.80"]);
    expect([cents(both?.table.contribution), cents(both?.away.contribution)]).toEqual(["18.63", "18.33"]);
    expect([both?.table.foodCost?.mul(100).toFixed(1), both?.away.foodCost?.mul(100).toFixed(1)]).toEqual(["36.1", "37.1"]);
  });

  test("may be over its target one way and near it the other", () => {
    const both = going(["any item butter 2 lb", "away item box 1 each"], {}, { target: exact("0.345") });
    expect([both?.table.state, both?.away.state]).toEqual(["near", "over"]);
  });

  test("carries the allowances on the lines that go", () => {
    const share: Allowance = { key: "waste", name: "Spilt", kind: "share", share: exact("0.05"), basis: "of-whole" };
    const both = going(["any item butter 2 lb", "away item box 1 each"], { allowances: [share] });
    expect([cents(both?.table.plateCost.amount), cents(both?.away.plateCost.amount)]).toEqual(["10.53", "10.95"]);
  });

  test("is a lower bound only the way that something unknown goes", () => {
    const both = going(["any item butter 2 lb", "away item saffron 1 oz", "away item box 4 oz"], {}, {}, "60");
    expect(both?.table.plateCost.missing).toEqual([]);
    expect(both?.away.plateCost.missing.map(({ what, name }) => `${what} ${name}`)).toEqual(["price saffron", "each-weight box"]);
    expect(both?.away.state).toBe("incomplete");
  });

  test("without lines one way has nothing to cost that way, and is not free", () => {
    const away = going(["table item butter 2 lb"])?.away;
    expect([away?.state, cents(away?.plateCost.amount)]).toEqual(["incomplete", "0.00"]);
    expect(byChannel(compiled(larder), "plate")).toBeNull();
  });

  test("at the table is the cascade's own cost, and away is that with the lines that go away", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const book = randomBook(g);
      const CHANNELS = ["any", "any", "table", "away"] as const;
      const changes = [...book.shelves.dish.values()].map((one): Change => ({
        kind: "dish", id: one.id,
        after: { ...one, lines: one.lines.map((each) => ({ ...each, channel: CHANNELS[g(fc.integer, { min: 0, max: 3 })] ?? "any" })) },
      }));
      const made = compile({ ...book, shelves: { ...book.shelves, dish: new Map(changes.flatMap((each) => (each.kind === "dish" && each.after !== null ? [[each.id, each.after] as const] : []))) } });
      if (!made.ok) throw new Error("expected it to compile");
      const cascade = made.value;
      for (const one of cascade.book.shelves.dish.values()) {
        const both = byChannel(cascade, one.id);
        const whole = costOf(cascade, { kind: "dish", id: one.id });
        const figures = dishFigures(cascade, one.id);
        if (both === null || whole === null) throw new Error("expected a dish");
        expect(both.table.plateCost.amount.toSignificantDigits(24).toString()).toBe(whole.amount.toSignificantDigits(24).toString());
        expect(new Set(both.table.plateCost.missing.map((lack) => `${lack.what} ${lack.of.id}`))).toEqual(new Set(whole.missing.map((lack) => `${lack.what} ${lack.of.id}`)));
        expect(new Set(both.table.plateCost.borrowed.map((cut) => cut.id))).toEqual(new Set(whole.borrowed.map((cut) => cut.id)));
        // Without lines for the table the menu's own figures say what is true of a plate that nobody serves.
        if (one.lines.some((each) => each.channel !== "away")) expect(both.table.state).toBe(figures?.state);
        if (one.allowances.length > 0) continue;
        const by = (channel: Channel) => ratio.sum(one.lines.filter((each) => each.channel === channel).map((each) => {
          const amount = lineInBase(cascade.book, each);
          return amount.ok ? ratio.mul(amount.amount, costExactly(cascade, each.of)) : ratio.ZERO;
        }));
        const away = ratio.add(ratio.sub(costExactly(cascade, { kind: "dish", id: one.id }), by("table")), by("away"));
        expect(both.away.plateCost.amount.toString()).toBe(ratio.toDecimal(away).toString());
        expect(differsByChannel(one)).toBe(one.lines.some((each) => each.channel !== "any"));
      }
    }), { numRuns: 60 });
  });
});

describe("whose target it is", () => {
  test("the dish's own, then its section's, then the kitchen's", () => {
    const settings = { sectionTargets: [{ section: "Desserts", target: exact("0.25") }] };
    const book = bookOf([...larder, dish("tart", ["item butter 1 lb"], { section: "Desserts" }), dish("own", ["item butter 1 lb"], { section: "Desserts" }), dish("steak", ["item butter 1 lb"]), menuPrice("own", "9", { target: exact("0.4") }), menuPrice("tart", "9")], settings);
    expect(["own", "tart", "steak"].map((id) => whoseTarget(book, id))).toEqual(["dish", "section", "kitchen"]);
  });
});

const leaves = (branches: readonly CostBranch[]): CostBranch[] => branches.flatMap((branch) => (branch.branches.length === 0 ? [branch] : leaves(branch.branches)));
const sum = (branches: readonly CostBranch[]): Decimal => branches.reduce((total, one) => (one.amount === null ? total : total.plus(one.amount)), branches[0]?.amount?.mul(0) ?? ratio.toDecimal(ratio.ZERO));

describe("the plate as a tree of money", () => {
  test("goes down to the price of each thing bought, and its leaves add up to the plate", () => {
    const cascade = compiled([...larder, ...striploin, recipe("sauce", ["1 qt"], ["item butter 2 lb", "item cress 4 oz"]), plated("plate", ["any spec steak-10oz 1 portion", "any recipe sauce 0.25 qt", "away item box 1 each"])]);
    const tree = costTree(cascade, "plate");
    if (tree === null) throw new Error("expected a tree");
    const plate = costOf(cascade, { kind: "dish", id: "plate" })?.amount;
    expect(tree.map((branch) => branch.step.name)).toEqual(["steak-10oz", "sauce"]);
    expect(leaves(tree).map((leaf) => leaf.step.ref?.kind ?? leaf.step.kind)).toContain("item");
    expect(sum(leaves(tree)).toFixed(20)).toBe(plate?.toFixed(20));
    const keys = leaves(tree).map((leaf) => leaf.key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(costTree(cascade, "nowhere")).toBeNull();
  });

  test("of any book, every branch is what stands under it, where all of it is known", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const made = compile(randomBook(g));
      if (!made.ok) throw new Error("expected it to compile");
      const check = (branch: CostBranch): void => {
        const known = branch.amount !== null && branch.branches.every((one) => one.amount !== null);
        if (branch.branches.length > 0 && known && branch.amount !== null && !sum(branch.branches).isZero()) expect(sum(branch.branches).minus(branch.amount).abs().lt("1e-15")).toBe(true);
        branch.branches.forEach(check);
      };
      for (const one of made.value.book.shelves.dish.values()) costTree(made.value, one.id)?.forEach(check);
    }), { numRuns: 60 });
  });
});
