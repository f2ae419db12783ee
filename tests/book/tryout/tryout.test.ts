/** Try-outs: moves laid over a book one after the other, what they do when the book has moved on, and how they are told. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Book, type Change, type Move, type MoveBody, aboutOf, allSeen, basisOf, changesOf, entriesOf, factKey, findNamed, movesOf, nearNamed, overtaken, parseMove, readMoveBody, readMoves, revisionsSeen, sayMove, withChanges,
} from "@/lib/book";
import { exact, ratio } from "@/lib/measure";
import { us } from "../../measure/habits";
import { bookOf, dish, eachWeight, density, item, kitchen, menuPrice, q, quote, randomBook, recipe, striploin } from "../../menu/small-books";

const facts: readonly Change[] = [
  ...striploin,
  { kind: "dealer", id: "north", after: { id: "north", name: "North Meats", note: "", minimumOrder: null, ordering: "" } },
  item("butter", "mass", { section: "Dairy" }), quote("butter", "4.20 a lb"),
  item("margarine", "mass", { section: "Dairy" }), quote("margarine", "2.10 a lb"),
  item("lemon", "count"), quote("lemon", "0.40 a each"),
  item("verjus", "volume", { density: density("1.02") }), quote("verjus", "9 a qt"),
  recipe("herb-butter", ["2 lb", "32 portion"], ["item butter 2 lb"]),
  dish("steak-frites", ["spec steak-10oz 1 portion", "recipe herb-butter 1 portion", "item lemon 1 each"]),
  dish("butter-bean", ["item butter 2 oz"]),
  menuPrice("steak-frites", "32.00"), menuPrice("butter-bean", "9.00", { target: exact("0.28") }),
];
const book = bookOf(facts);

let keys = 0;
function move(body: MoveBody, on: Book = book): Move {
  keys += 1;
  return { key: `m${keys}`, about: aboutOf(body, on), body, basis: basisOf(on, body), added: null };
}
const after = (on: Book, moves: readonly Move[]): Book => withChanges(on, changesOf(on, moves).changes);
const price = (on: Book, id: string): string | undefined => on.shelves.quote.get(`quote-${id}`)?.price.amount;
const share = (id: string, by: string): MoveBody => ({ kind: "share", of: { kind: "item", id }, share: exact(by) });

describe("laying moves over a book", () => {
  test("a price by a share is exact, and a later move sees the earlier one", () => {
    expect(price(after(book, [move(share("striploin", "0.08"))]), "striploin")).toBe("7.668");
    expect(price(after(book, [move(share("striploin", "0.08")), move(share("striploin", "-0.05"))]), "striploin")).toBe("7.2846");
  });

  test("all of a dealer's, and all of a section's", () => {
    const all = after(book, [move({ kind: "share", of: { kind: "dealer", id: "dealer" }, share: exact("0.1") })]);
    expect([price(all, "striploin"), price(all, "butter")]).toEqual(["7.81", "4.62"]);
    const dairy = after(book, [move({ kind: "share", of: { kind: "section", name: "Dairy" }, share: exact("0.1") })]);
    expect([price(dairy, "striploin"), price(dairy, "butter"), price(dairy, "margarine")]).toEqual(["7.10", "4.62", "2.31"]);
  });

  test("a dealer's price that nobody buys at does not become the newest by being pretended", () => {
    const two = withChanges(book, [{ ...quote("butter", "3.90 a lb"), id: "older", after: { ...(quote("butter", "3.90 a lb").after as object), id: "older", dealerId: "north" } } as Change]);
    const recorded: Book = { ...two, provenance: new Map([...two.provenance, ["quote:older", { revision: 0, validFrom: "2026-10-01", recordedAt: "2026-10-01T09:00:00Z", by: "Chef", why: "" }]]) };
    const tried = changesOf(recorded, [move({ kind: "share", of: { kind: "dealer", id: "north" }, share: exact("0.1") }, recorded)]);
    expect([tried.changes.length, [...tried.problems.values()][0]?.[0]?.code]).toEqual([0, "no-price"]);
  });

  test("sizes, menu prices, targets, lines", () => {
    const tried = after(book, [
      move({ kind: "size", specId: "steak-10oz", size: q("8 oz") }),
      move({ kind: "menu price", dishId: "steak-frites", gross: { amount: exact("34") } }),
      move({ kind: "target", of: { kind: "dish", id: "steak-frites" }, target: exact("0.33") }),
      move({ kind: "target", of: { kind: "section", name: "Mains" }, target: exact("0.31") }),
      move({ kind: "line", in: { kind: "dish", id: "butter-bean" }, lineKey: "line-0", to: { kind: "quantity", quantity: q("1 oz") } }),
      move({ kind: "line", in: { kind: "dish", id: "butter-bean" }, lineKey: "fresh", to: { kind: "added", of: { kind: "item", id: "lemon" }, quantity: q("1 each"), note: "", role: "garnish", channel: null } }),
      move({ kind: "line", in: { kind: "dish", id: "steak-frites" }, lineKey: "line-2", to: { kind: "removed" } }),
    ]);
    expect(tried.shelves.spec.get("steak-10oz")?.size).toEqual(q("8 oz"));
    expect(tried.shelves.menuPrice.get("steak-frites")).toEqual({ id: "steak-frites", gross: { amount: "34" }, taxRate: null, target: "0.33" });
    expect(tried.shelves.kitchen.get(kitchen.id)?.sectionTargets).toEqual([{ section: "Mains", target: "0.31" }]);
    expect(tried.shelves.dish.get("butter-bean")?.lines.map(({ of, quantity, role }) => [of.id, quantity.amount, role])).toEqual([["butter", "1", "main"], ["lemon", "1", "garnish"]]);
    expect(tried.shelves.dish.get("steak-frites")?.lines).toHaveLength(2);
  });

  test("what portions weighed at the old size is left out at the new one", () => {
    const spec = book.shelves.spec.get("steak-10oz");
    if (spec === undefined) throw new Error("expected the spec");
    const weighed = withChanges(book, [{ kind: "spec", id: spec.id, after: { ...spec, meanCut: { weight: q("10.4 oz"), count: exact("12"), on: "2026-11-20" } } }]);
    const at = (size: string) => after(weighed, [move({ kind: "size", specId: spec.id, size: q(size) })]).shelves.spec.get(spec.id)?.meanCut;
    expect([at("8 oz"), at("0.625 lb")?.weight.amount]).toEqual([null, "10.4"]);
  });

  test("one item by another in every line, as it stands where the units allow", () => {
    const tried = after(book, [move({ kind: "replace", itemId: "butter", byId: "margarine", from: null, until: null })]);
    expect(tried.shelves.recipe.get("herb-butter")?.lines[0]).toMatchObject({ of: { id: "margarine" }, quantity: q("2 lb") });
    expect(tried.shelves.dish.get("butter-bean")?.lines[0]).toMatchObject({ of: { id: "margarine" }, quantity: q("2 oz") });
  });

  test("by what one weighs where they are counted and poured; and not at all where that is not known", () => {
    const replaced: MoveBody = { kind: "replace", itemId: "lemon", byId: "verjus", from: null, until: null };
    const stuck = changesOf(book, [move(replaced)]);
    expect([...stuck.problems.values()][0]?.[0]?.sentence).toBe("The amount of lemon in steak-frites cannot be turned into verjus: record what one weighs, or what a cup of it weighs, for the one that lacks it.");
    expect(stuck.changes).toEqual([]);
    const weighed = withChanges(book, [item("lemon", "count", { eachWeight: eachWeight("100 g") })]);
    expect(after(weighed, [move(replaced, weighed)]).shelves.dish.get("steak-frites")?.lines[2]?.quantity).toEqual({ amount: "100", unit: "g" });
  });

  test("a later replacement sees the lines that an earlier move added", () => {
    const tried = after(book, [
      move({ kind: "line", in: { kind: "dish", id: "steak-frites" }, lineKey: "more", to: { kind: "added", of: { kind: "item", id: "butter" }, quantity: q("1 oz"), note: "", role: null, channel: null } }),
      move({ kind: "replace", itemId: "butter", byId: "margarine", from: null, until: null }),
    ]);
    expect(tried.shelves.dish.get("steak-frites")?.lines.at(-1)).toMatchObject({ key: "more", of: { id: "margarine" } });
  });

  test("another dealer, only where they have told a price", () => {
    const to: MoveBody = { kind: "dealer", itemId: "butter", dealerId: "north" };
    expect([...changesOf(book, [move(to)]).problems.values()][0]?.[0]?.code).toBe("no-price");
    const asked = withChanges(book, [{ kind: "quote", id: "n", after: { ...(quote("butter", "3.90 a lb").after as NonNullable<Extract<Change, { kind: "quote" }>["after"]>), id: "n", dealerId: "north" } }]);
    expect(after(asked, [move(to, asked)]).shelves.item.get("butter")?.dealerId).toBe("north");
  });

  test("of something that has gone a move says so, and the others stand", () => {
    const moves = [move(share("margarine", "0.1")), move({ kind: "menu price", dishId: "butter-bean", gross: { amount: exact("10") } })];
    const less = withChanges(book, [{ kind: "quote", id: "quote-margarine", after: null }, { kind: "item", id: "margarine", after: null }]);
    const laid = changesOf(less, moves);
    expect(laid.problems.get(moves[0]?.key ?? "")?.[0]?.sentence).toBe("margarine is not in the book any more, so this does nothing. Take the move off, or put something else in its place.");
    expect(laid.changes.map(({ kind, id }) => `${kind} ${id}`)).toEqual(["menuPrice butter-bean"]);
  });

  test("a move that would leave the book in a state that cannot be is left out, and told", () => {
    const cycle = move({ kind: "line", in: { kind: "recipe", id: "herb-butter" }, lineKey: "line-0", to: { kind: "replaced", of: { kind: "recipe", id: "herb-butter" }, quantity: q("1 lb") } });
    const fine = move(share("butter", "0.1"));
    const laid = changesOf(book, [fine, cycle]);
    expect(laid.problems.get(cycle.key)?.[0]?.code).toBe("cycle");
    expect(laid.changes.map(({ id }) => id)).toEqual(["quote-butter"]);
  });
});

describe("laws", () => {
  /** Moves of a random book, each of another fact. */
  const someMoves = (on: Book, g: fc.GeneratorValue): readonly Move[] => [
    ...[...on.shelves.item.keys()].map((id): MoveBody => share(id, (g(fc.integer, { min: 1, max: 40 }) / 100).toFixed(2))),
    ...[...on.shelves.spec.keys()].map((specId): MoveBody => ({ kind: "size", specId, size: q(`${g(fc.integer, { min: 1, max: 20 })} oz`) })),
    ...[...on.shelves.menuPrice.keys()].map((dishId): MoveBody => ({ kind: "menu price", dishId, gross: { amount: exact(String(g(fc.integer, { min: 5, max: 60 }))) } })),
  ].map((body) => move(body, on));

  test("moves of different facts come to the same in any order", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const on = randomBook(g);
      const moves = someMoves(on, g);
      const shuffled = g(fc.shuffledSubarray, [...moves] as Move[], { minLength: moves.length, maxLength: moves.length }) as Move[];
      const byFact = (list: readonly Move[]) => Object.fromEntries(changesOf(on, list).changes.map((change) => [factKey(change.kind, change.id), change.after]).sort());
      expect(byFact(shuffled)).toEqual(byFact(moves));
    }), { numRuns: 60 });
  });

  test("whatever leaves the book, the rest is laid and nothing is thrown; what is left out says why", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const on = randomBook(g);
      const moves = someMoves(on, g);
      const gone = [...on.shelves.item.keys()].slice(0, g(fc.integer, { min: 0, max: 3 }));
      const less = withChanges(on, [...gone.map((id): Change => ({ kind: "item", id, after: null })), ...gone.map((id): Change => ({ kind: "quote", id: `quote-${id}`, after: null }))]);
      const laid = changesOf(less, moves);
      for (const one of moves) expect(laid.touched.has(one.key)).toBe(!laid.problems.has(one.key));
      for (const one of moves) expect(sayMove(one, less).what).not.toBe("");
      overtaken(less, moves);
    }), { numRuns: 60 });
  });

  test("a change taken apart into moves and laid again is the same change", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const on = randomBook(g);
      // A size or a price that happens to be the one in the book is no change.
      const changes = changesOf(on, someMoves(on, g)).changes.filter((change) => movesOf(on, [change]).length > 0);
      const again = changesOf(on, movesOf(on, changes).map((body) => move(body, on)));
      const by = (list: readonly Change[]) => Object.fromEntries(list.map((change) => [factKey(change.kind, change.id), change.after]).sort());
      expect(by(again.changes)).toEqual(by(changes));
    }), { numRuns: 60 });
  });

  test("moves are read again as they were kept", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const on = randomBook(g);
      const moves = [...someMoves(on, g), ...[...on.shelves.recipe.values()].map((fact) => move({ kind: "fact", change: { kind: "recipe", id: fact.id, after: { ...fact, method: "stir" } } }, on))];
      expect(readMoves(JSON.parse(JSON.stringify(moves)), kitchen)).toEqual({ moves, lost: 0 });
    }), { numRuns: 40 });
  });
});

describe("what a form gives, as moves", () => {
  const one = (change: Change): MoveBody | undefined => movesOf(book, [change])[0];
  const was = <K extends Change["kind"]>(kind: K, id: string) => book.shelves[kind].get(id) as NonNullable<Extract<Change, { kind: K }>["after"]>;

  test("only what was changed", () => {
    expect(one(quote("butter", "4.55 a lb"))).toMatchObject({ kind: "price", quoteId: "quote-butter", price: { amount: "4.55" } });
    expect(one({ kind: "spec", id: "steak-10oz", after: { ...was("spec", "steak-10oz"), size: q("8 oz") } })).toEqual({ kind: "size", specId: "steak-10oz", size: q("8 oz") });
    expect(movesOf(book, [menuPrice("butter-bean", "10", { target: exact("0.3") })]).map(({ kind }) => kind)).toEqual(["menu price", "target"]);
    expect(one({ kind: "dish", id: "butter-bean", after: { ...was("dish", "butter-bean"), lines: [] } })).toEqual({ kind: "line", in: { kind: "dish", id: "butter-bean" }, lineKey: "line-0", to: { kind: "removed" } });
  });

  test("nothing where nothing was changed, and the whole fact where more was", () => {
    expect(movesOf(book, [menuPrice("butter-bean", "9", { target: exact("0.28") })])).toEqual([]);
    expect(one(quote("butter", "4.55 a lb", { code: "B-7" }))?.kind).toBe("fact");
    expect(one({ kind: "dish", id: "butter-bean", after: null })?.kind).toBe("fact");
  });
});

describe("what has been overtaken", () => {
  const moves = [move(share("striploin", "0.08")), move({ kind: "menu price", dishId: "steak-frites", gross: { amount: exact("34") } })];
  const record = (on: Book, change: Change, revision: number): Book => withChanges(on, [{ ...change, provenance: { revision, validFrom: "2026-11-25", recordedAt: "2026-11-25T10:00:00Z", by: "Sous chef", why: "invoice" } } as Change]);

  test("nothing while the book stands; then by whom and when, and the move still applies", () => {
    expect(overtaken(book, moves).size).toBe(0);
    const later = record(book, quote("striploin", "7.50 a lb"), 900);
    const found = overtaken(later, moves);
    expect([...found.keys()]).toEqual([moves[0]?.key]);
    expect(found.get(moves[0]?.key ?? "")).toMatchObject([{ kind: "quote", id: "quote-striploin", now: { revision: 900, by: "Sous chef" } }]);
    expect(price(after(later, moves), "striploin")).toBe("8.1");
    expect([allSeen(found, {}), allSeen(found, revisionsSeen(found)), allSeen(found, { "quote:quote-striploin": 899 })]).toEqual([false, true, false]);
  });

  test("what has left the book is told as well; what nobody noted is told by the greatest revision", () => {
    const less = withChanges(book, [{ kind: "quote", id: "quote-striploin", after: null }]);
    expect(overtaken(less, moves).get(moves[0]?.key ?? "")).toMatchObject([{ kind: "quote", now: null }]);
    const dairy = move({ kind: "share", of: { kind: "section", name: "Dairy" }, share: exact("0.1") });
    const more = record(record(book, item("cream", "mass", { section: "Dairy" }), 901), quote("cream", "3 a lb"), 902);
    expect(overtaken(more, [dairy]).get(dairy.key)).toMatchObject([{ id: "quote-cream", was: null, now: { revision: 902 } }]);
  });
});

test("a replacement with days of its own begins and ends on them", () => {
  const swap = move({ kind: "replace", itemId: "butter", byId: "margarine", from: "2026-12-01", until: "2026-12-15" });
  const dearer = move({ kind: "menu price", dishId: "butter-bean", gross: { amount: exact("10") } });
  const { entries } = entriesOf(book, [swap, dearer], "2026-11-25");
  const said = entries.map(({ change, validFrom }) => [validFrom, change.kind, change.id, change.kind === "dish" ? change.after?.lines[0]?.of.id : ""]);
  expect(said).toEqual([
    ["2026-11-25", "menuPrice", "butter-bean", ""],
    ["2026-12-01", "recipe", "herb-butter", ""], ["2026-12-01", "dish", "butter-bean", "margarine"],
    ["2026-12-15", "recipe", "herb-butter", ""], ["2026-12-15", "dish", "butter-bean", "butter"],
  ]);
});

test("kept moves come back as they were, doubled prices and whole targets too", () => {
  const moves = ["1", "2", "8", "-0.5", "1/3"].map((by) => move(share("striploin", by))).concat(move({ kind: "target", of: { kind: "kitchen" }, target: exact("1") }));
  expect(readMoves(JSON.parse(JSON.stringify(moves)), us)).toEqual({ moves, lost: 0 });
});

test.each([["+8 %", "0.08"], ["8", "0.08"], ["-5 %", "-0.05"], ["−5", "-0.05"], ["8 % less", "-0.08"], ["down 3", "-0.03"], ["120 %", "1.2"], ["1/2 %", "0.005"]])("%s is a share of %s", (text, value) => {
  const read = parseMove(text, kitchen);
  expect(read.ok && ratio.toExact(ratio.fromExact(read.value))).toBe(value);
});

test.each([
  [{ kind: "share", of: { kind: "item", id: "butter" }, share: "much" }, "does not say by how much"],
  [{ kind: "share", of: { kind: "item", id: "butter" }, share: "-100 %" }, "no price at all"],
  [{ kind: "size", specId: "steak-10oz", size: "0 oz" }, "above zero"],
  [{ kind: "replace", itemId: "butter", byId: "butter", from: "", until: "" }, "the same item"],
  [{ kind: "replace", itemId: "butter", byId: "lemon", from: "2026-12-02", until: "2026-12-01" }, "end before it begins"],
  [{ kind: "wish" }, "Say what is tried"],
])("what cannot be tried is told: %o", (input, sentence) => {
  const read = readMoveBody(input, kitchen);
  expect(read.ok ? "" : read.problems.map((problem) => problem.sentence).join(" ")).toContain(sentence);
});

test("moves in words, with what the book says today", () => {
  const said = (body: MoveBody): string => { const { what, says, today } = sayMove(move(body), book); return `${what}: ${says}${today === null ? "" : ` (${today})`}`; };
  expect(said(share("striploin", "0.08"))).toBe("striploin: 8 % dearer ($7.10 / lb)");
  expect(said({ kind: "share", of: { kind: "dealer", id: "dealer" }, share: exact("-0.05") })).toBe("Everything from Harbour Provisioners: 5 % cheaper");
  expect(said({ kind: "size", specId: "steak-10oz", size: q("8 oz") })).toBe("steak-10oz: at 8 oz (10 oz)");
  expect(said({ kind: "line", in: { kind: "dish", id: "butter-bean" }, lineKey: "line-0", to: { kind: "removed" } })).toBe("butter-bean: without butter (2 oz of butter)");
});

test("names are found whatever their case, and by a part that only one has", () => {
  expect(findNamed(book, ["item", "dealer", "section"], "STRIPLOIN")).toMatchObject({ kind: "item", id: "striploin" });
  expect(findNamed(book, ["item", "dealer", "section"], "dairy")).toMatchObject({ kind: "section", id: "Dairy" });
  expect(findNamed(book, ["item", "dealer", "section"], "harbour")).toMatchObject({ kind: "dealer", id: "dealer" });
  expect(findNamed(book, ["item"], "b")).toMatchObject({ id: "butter" });
  expect(findNamed(book, ["item"], "r")).toBeNull();
  expect(nearNamed(book, ["item"], "r", 3).map(({ label }) => label)).toEqual(["butter", "margarine", "striploin"]);
});
