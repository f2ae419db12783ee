/**
 * The law of the cascade: after any sequence of changes, in any order, tried or made, the incremental result equals a
 * full recomputation digit for digit, and whoever holds an older cascade still reads its own figures. Books and changes
 * are random, with gaps, unknown values, facts that come and go, and changes that are taken back.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, type Change, FACT_KINDS, emptyBook, kitchenOf, withChanges } from "@/lib/book";
import { type Cascade, NODE_KINDS, advance, compile, costExactly, costOf, tryOut } from "@/lib/cascade";
import { exact, ratio } from "@/lib/measure";
import { type Draw, bookOf, density, dish, item, line, quote, randomBook, recipe } from "../menu/small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map((problem) => problem.sentence).join(" "));
  return cascade.value;
}

/** Every cost of a cascade with what is missing, as text: two cascades agree when these do. */
function figures(cascade: Cascade): Record<string, string> {
  const told: Record<string, string> = {};
  for (const kind of NODE_KINDS) {
    for (const id of cascade.book.shelves[kind].keys()) {
      const cost = costOf(cascade, { kind, id });
      if (cost === null) throw new Error(`expected ${kind} ${id} to have a cost`);
      const row = cascade.rowAt(cascade.engine.graph.rowOf[cascade.numberOf({ kind, id })] as number);
      told[`${kind} ${id}`] = `${row.hi} ${row.lo} ${cost.per} ${cost.missing.map((leaf) => `${leaf.what}:${leaf.of.kind}:${leaf.of.id}`).sort().join(" ")}`;
    }
  }
  return told;
}

/** A few facts of `other` put in place of those of `book`, some facts taken off. */
function randomChanges(g: Draw, book: Book, other: Book): Change[] {
  const changes: Change[] = [];
  const many = g(fc.integer, { min: 1, max: 4 });
  for (let at = 0; at < many; at += 1) {
    const kind = FACT_KINDS[g(fc.integer, { min: 0, max: FACT_KINDS.length - 1 })] ?? "quote";
    if (kind === "kitchen") {
      const kitchen = kitchenOf(book);
      changes.push({ kind, id: kitchen.id, after: { ...kitchen, taxRate: exact(g(fc.boolean) ? "0.2" : "0") } });
      continue;
    }
    const ids = [...new Set([...other.shelves[kind].keys(), ...book.shelves[kind].keys()])];
    const id = ids[g(fc.integer, { min: 0, max: Math.max(0, ids.length - 1) })];
    if (id === undefined) continue;
    const gone = g(fc.integer, { min: 1, max: 5 }) === 1;
    changes.push({ kind, id, after: gone ? null : (other.shelves[kind].get(id) ?? null) } as Change);
  }
  return changes;
}

describe("laws over random books and changes", () => {
  test("incremental equals full, digit for digit, after any sequence; older cascades keep their figures", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const start = randomBook(g);
      const others = [randomBook(g), start];
      let cascade = compiled(start);
      const held: { cascade: Cascade; told: Record<string, string> }[] = [{ cascade, told: figures(cascade) }];
      const steps = g(fc.integer, { min: 1, max: 6 });
      for (let at = 0; at < steps; at += 1) {
        const changes = randomChanges(g, cascade.book, others[at % 2] ?? start);
        const tried = tryOut(cascade, changes);
        const full = compile(withChanges(cascade.book, changes));
        expect(tried.ok).toBe(full.ok);
        if (!tried.ok || !full.ok) continue;
        const told = figures(full.value);
        expect(figures(tried.value.after)).toEqual(told);
        expect(figures(cascade)).toEqual(held.at(-1)?.told);
        if (g(fc.boolean)) continue;
        const made = advance(cascade, changes);
        if (!made.ok) throw new Error("expected what could be tried to be made");
        expect(made.value.ripple.moved.map(({ ref, before, after }) => [ref, before?.amount.toString(), after?.amount.toString()]))
          .toEqual(tried.value.ripple.moved.map(({ ref, before, after }) => [ref, before?.amount.toString(), after?.amount.toString()]));
        cascade = made.value.cascade;
        held.push({ cascade, told });
        expect(figures(cascade)).toEqual(told);
      }
      for (const { cascade: older, told } of held) expect(figures(older)).toEqual(told);
    }), { numRuns: 400 });
    // Hundreds of books, each compiled many times over: long on a busy machine.
  }, 180_000);

  test("the order of changes does not matter, and an undone change gives the same digits back", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const start = randomBook(g);
      const changes = randomChanges(g, start, randomBook(g));
      const distinct = [...new Map(changes.map((change) => [`${change.kind}:${change.id}`, change])).values()];
      const forward = distinct.reduce<Cascade | null>((cascade, change) => step(cascade, [change]), compiled(start));
      const backward = [...distinct].reverse().reduce<Cascade | null>((cascade, change) => step(cascade, [change]), compiled(start));
      if (forward === null || backward === null) return;
      expect(figures(forward)).toEqual(figures(backward));
      const undone = step(forward, distinct.map((change) => ({ ...change, after: start.shelves[change.kind].get(change.id) ?? null }) as Change));
      if (undone !== null) expect(figures(undone)).toEqual(figures(compiled(start)));
    }), { numRuns: 200 });
  }, 180_000);

  test("the ripple names exactly the nodes whose figures differ", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const before = compiled(randomBook(g));
      const laid = tryOut(before, randomChanges(g, before.book, randomBook(g)));
      if (!laid.ok) return;
      const digits = (cascade: Cascade, key: string): string | undefined => figures(cascade)[key]?.split(" ").slice(0, 2).join(" ");
      const was = figures(before);
      const is = figures(laid.value.after);
      const differ = [...new Set([...Object.keys(was), ...Object.keys(is)])].filter((key) => digits(before, key) !== digits(laid.value.after, key));
      const moved = new Set(laid.value.ripple.moved.map(({ ref }) => `${ref.kind} ${ref.id}`));
      for (const key of differ) expect(moved.has(key), key).toBe(true);
      for (const key of moved) expect(was[key] === is[key], key).toBe(false);
    }), { numRuns: 100 });
  }, 180_000);

  test("the engine agrees with exact fractions to 28 digits", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const cascade = compiled(randomBook(g));
      for (const kind of NODE_KINDS) {
        for (const id of cascade.book.shelves[kind].keys()) {
          const amount = costOf(cascade, { kind, id })?.amount;
          const exactly = ratio.toDecimal(costExactly(cascade, { kind, id }));
          // Credits nearly as large as the cost cancel digits; measured against a plate of money that leaves 24.
          expect(amount?.minus(exactly).abs().lte(exactly.abs().plus(1).mul("1e-26")), `${kind} ${id}: ${amount?.toString() ?? ""} is not ${exactly.toString()}`).toBe(true);
        }
      }
    }), { numRuns: 200 });
  }, 180_000);
});

function step(cascade: Cascade | null, changes: readonly Change[]): Cascade | null {
  if (cascade === null) return null;
  const made = advance(cascade, changes);
  return made.ok ? made.value.cascade : null;
}

describe("rows that grow", () => {
  const lines = (many: number): string[] => Array.from({ length: many }, (_, at) => `item ${["water", "salt", "flour"][at % 3] ?? "water"} ${at + 1} oz`);
  const facts = [
    item("water"), quote("water", "0.10 a lb"), item("salt"), quote("salt", "0.40 a lb"), item("flour"), quote("flour", "0.62 a lb"),
    recipe("dough", ["3 lb"], lines(2)), dish("bread", ["recipe dough 10 oz"]),
  ];

  test("keep the graph while there is room behind its lines, and cost as a graph compiled anew does", () => {
    const first = compiled(bookOf(facts));
    const told = figures(first);
    let cascade = first;
    for (const many of [3, 40, 7, 41, 1, 44]) {
      const grown = step(cascade, [recipe("dough", ["3 lb"], lines(many))]);
      if (grown === null) throw new Error("expected the recipe to grow");
      expect(grown.engine).toBe(first.engine);
      expect(figures(grown)).toEqual(figures(compiled(grown.book)));
      cascade = grown;
    }
    expect(figures(first)).toEqual(told);
    const back = step(cascade, [recipe("dough", ["3 lb"], lines(2))]);
    expect(back && figures(back)).toEqual(told);
  });

  test("are laid out anew where there is none left", () => {
    const first = compiled(bookOf(facts));
    const grown = step(first, [recipe("dough", ["3 lb"], lines(600))]);
    if (grown === null) throw new Error("expected the recipe to grow");
    expect(grown.engine).not.toBe(first.engine);
    expect(figures(grown)).toEqual(figures(compiled(grown.book)));
    expect(figures(first)).toEqual(figures(compiled(bookOf(facts))));
  });
});

describe("what does not compile", () => {
  test("a recipe made of itself is refused with the way round named", () => {
    const book = bookOf([item("bones"), quote("bones", "1.20 a lb"), recipe("stock", ["4 qt"], ["recipe demi-glace 1 qt"]), recipe("demi-glace", ["1 qt"], ["recipe stock 4 qt"])]);
    const cascade = compile(book);
    expect(cascade.ok).toBe(false);
    if (!cascade.ok) expect(cascade.problems[0]?.sentence).toContain("stock → demi-glace → stock");
  });

  test("nesting 20,000 deep costs without overflowing anything", () => {
    const deep = Array.from({ length: 20_000 }, (_, at) => recipe(`r${at}`, ["1 qt"], [at === 0 ? "item water 1 lb" : `recipe r${at - 1} 1 qt`]));
    const cascade = compiled(bookOf([item("water"), quote("water", "1.50 a lb"), ...deep, dish("d", ["recipe r19999 1 qt"])]));
    expect(costOf(cascade, { kind: "dish", id: "d" })?.amount.toString()).toBe("1.5");
    expect(ratio.toDecimal(costExactly(cascade, { kind: "dish", id: "d" })).toString()).toBe("1.5");
  });
});

describe("unknown is not zero", () => {
  test("a missing price and a missing density travel to the dish and are named there", () => {
    const facts = [
      item("cream", "mass", { density: null }), quote("cream", "2.40 a lb"), item("saffron"), item("salt", "mass", { density: density("1.2") }), quote("salt", "0.40 a lb"),
      recipe("sauce", ["2 qt"], ["item cream 1 qt", "item saffron 0.1 oz", "item salt 1 cup"]), dish("plate", ["recipe sauce 0.25 qt", "item salt 1 oz"]),
    ];
    const cascade = compiled(bookOf(facts));
    const cost = costOf(cascade, { kind: "dish", id: "plate" });
    expect(cost?.missing.map((leaf) => `${leaf.what} of ${leaf.name}`)).toEqual(["density of cream", "price of saffron"]);
    expect(cost?.amount.gt(0)).toBe(true);
    const [{ after: cream }] = [item("cream", "mass", { density: density("1.01") })] as [Extract<Change, { kind: "item" }>];
    const known = advance(cascade, [quote("saffron", "90 a oz"), { kind: "item", id: "cream", after: cream }]);
    if (!known.ok) throw new Error("expected the gaps to close");
    const whole = costOf(known.value.cascade, { kind: "dish", id: "plate" });
    expect(whole?.missing).toEqual([]);
    expect(whole?.amount.gt(cost?.amount ?? 0)).toBe(true);
    expect(costOf(cascade, { kind: "dish", id: "plate" })?.missing).toHaveLength(2);
  });

  test("a line of something that is not in the book is missing as a fact", () => {
    const cascade = compiled(bookOf([{ ...dish("plate", []), after: { id: "plate", name: "plate", section: "", note: "", allowances: [], lines: [{ ...line("item ghost 1 oz", 0), role: "main", channel: "any" }] } } as Change]));
    expect(costOf(cascade, { kind: "dish", id: "plate" })?.missing).toEqual([{ what: "fact", of: { kind: "item", id: "ghost" }, name: "ghost" }]);
    expect(emptyBook(kitchenOf(cascade.book), "2026-11-25").shelves.dish.size).toBe(0);
  });
});
