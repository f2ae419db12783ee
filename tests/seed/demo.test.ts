/**
 * The demo kitchen: its files read without a mistake, it holds what it promises, every day of its year stands on its
 * own, and at its newest prices every dish is costed completely, with some over their target and some near it.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type Book, type FactKind, type FactOf, checkBook, checkChanges, emptyBook, matchingTests, quoteRate, quotesOf, withChanges } from "@/lib/book";
import { compile, costExactly } from "@/lib/cascade";
import { baseFactor, ratio } from "@/lib/measure";
import { menuFigures } from "@/lib/menu";
import { type DemoEntry, readDemo } from "@/seed/read";
import { costedByHand } from "./by-hand";

const LAST_DAY = "2026-11-24";
const demo = readDemo();

function bookOn(day: string): Book {
  const changes = demo.entries.filter((entry) => entry.validFrom <= day).map((entry) => entry.change);
  return withChanges(emptyBook({ id: "demo", ...demo.kitchen }, day), changes);
}

function shelf<K extends FactKind>(kind: K): ReadonlyMap<string, FactOf[K]> {
  return bookOn(LAST_DAY).shelves[kind] as ReadonlyMap<string, FactOf[K]>;
}

function cascadeOn(day: string) {
  const compiled = compile(bookOn(day));
  if (!compiled.ok) throw new Error(compiled.problems.map((problem) => problem.sentence).join("\n"));
  return compiled.value;
}

describe("what the demo holds", () => {
  it("has six dealers, one who asks in euros, and about 45 items, each with a price", () => {
    expect(shelf("dealer").size).toBe(6);
    expect(shelf("item").size).toBeGreaterThanOrEqual(45);
    const quoted = new Set([...shelf("quote").values()].map((quote) => quote.itemId));
    // Or, off the pork loin, a price inside the house.
    expect([...shelf("item").values()].filter(({ id, transfer }) => !quoted.has(id) && transfer === null)).toEqual([]);
    expect([...shelf("item").values()].flatMap(({ name, transfer }) => (transfer === null ? [] : [name]))).toEqual(["Pork back ribs and chine"]);
  });

  it("has packs of every kind: catch weight, case of bags, cans, counted, dozens, bottles, gallons", () => {
    const packs = [...shelf("quote").values()].map((quote) => quote.pack);
    expect(packs.some((pack) => pack.catchWeight)).toBe(true);
    const inner = new Set(packs.map((pack) => pack.levels.at(-1)?.container));
    for (const container of ["bag", "can", "bottle", "jug", "bird"]) expect(inner).toContain(container);
    const units = new Set(packs.map((pack) => pack.size.unit));
    for (const unit of ["lb", "oz", "kg", "each", "dozen", "gal", "qt", "mL"]) expect(units).toContain(unit);
  });

  it("has a contract with its last day, a price that moves with the market, catch weight by two dealers, freight, a rebate and euros with their rate", () => {
    const quotes = [...shelf("quote").values()];
    expect(quotes.some(({ basis, until }) => basis === "contract" && until !== null)).toBe(true);
    expect(quotes.some(({ basis }) => basis === "market")).toBe(true);
    expect(new Set(quotes.filter(({ itemId, pack }) => itemId === "venison-saddle" && pack.catchWeight).map(({ dealerId }) => dealerId)).size).toBe(2);
    expect(new Set(quotes.flatMap(({ landed }) => landed.map(({ way, of }) => `${way} ${of.kind}`)))).toEqual(new Set(["adds money", "adds share", "takes-off share"]));
    const rates = new Set(demo.kitchen.exchangeRates.map(({ currency }) => currency));
    expect([...new Set(quotes.flatMap(({ currency }) => currency ?? []))].filter((currency) => !rates.has(currency))).toEqual([]);
    expect(rates.size).toBe(1);
  });

  it("has twenty yield tests of four kinds and of all the houses of the larder", () => {
    const tests = [...shelf("test").values()];
    expect(tests).toHaveLength(20);
    expect(new Set(tests.map((test) => test.kind))).toEqual(new Set(["butcher", "trim", "cooking", "drained"]));
    const sections = tests.flatMap((test) => (test.of.kind === "item" ? [shelf("item").get(test.of.id)?.section] : []));
    for (const section of ["Beef", "Lamb", "Pork", "Poultry", "Fish", "Shellfish", "Produce"]) expect(sections).toContain(section);
  });

  it("prices each test of a purchased item at what its dealer asked that day", () => {
    for (const test of shelf("test").values()) {
      if (test.of.kind !== "item" || test.price === null) continue;
      const quote = quotesOf(bookOn(test.on), test.of.id).find((one) => one.dealerId === test.dealerId);
      if (!quote) throw new Error(`expected a quote of ${test.dealerId} for ${test.of.id} on ${test.on}`);
      const perBase = ratio.div(ratio.fromExact(test.price.amount), ratio.fromExact(baseFactor(test.price.per)));
      expect({ test: test.id, perBase }).toEqual({ test: test.id, perBase: quoteRate(bookOn(test.on), quote) });
    }
  });

  it("has a year of striploin by two dealers and two cutters: two tests pooled, one left out with its reason, the rest not decided about", () => {
    const cut = shelf("cut").get("striploin");
    const matching = cut === undefined ? [] : matchingTests(bookOn(LAST_DAY), cut);
    expect(matching.map(({ standing }) => standing.kind).sort()).toEqual(["behind", "behind", "left-out", ...Array.from({ length: 9 }, () => "undecided")]);
    expect(new Set(matching.map(({ test }) => test.dealerId)).size).toBe(2);
    expect(new Set(matching.map(({ test }) => test.cutter)).size).toBe(2);
    expect(cut?.leftOut.map(({ reason }) => reason)).toEqual(["Cut as a roast, the whole tail off: not this specification"]);
  });

  it("adopts a test of everything else, one cut from two of them pooled, one cut from another cut", () => {
    const cuts = [...shelf("cut").values()];
    const others = [...shelf("test").values()].filter((test) => test.of.id !== "beef-striploin").map((test) => test.id);
    expect(new Set(cuts.filter((cut) => cut.id !== "striploin").flatMap((cut) => cut.testIds))).toEqual(new Set(others));
    expect(cuts.filter((cut) => cut.testIds.length === 2)).toHaveLength(1);
    expect(cuts.filter((cut) => cut.of.kind === "cut")).toHaveLength(1);
  });

  it("has 8 portion specs, 30 recipes nested four deep, 24 dishes with a menu price each", () => {
    expect(shelf("spec").size).toBe(8);
    expect(shelf("recipe").size).toBe(30);
    const { depth } = costedByHand(LAST_DAY);
    expect(Math.max(...[...shelf("recipe").keys()].map(depth))).toBe(4);
    expect(shelf("dish").size).toBe(24);
    expect(new Set(shelf("menuPrice").keys())).toEqual(new Set(shelf("dish").keys()));
  });

  it("has twelve weeks of sales from Monday to Monday, of dishes that are on the menu", () => {
    const weeks = [...shelf("sales").keys()];
    expect(weeks).toHaveLength(12);
    expect(weeks.at(-1)).toBe("2026-11-16");
    for (const week of weeks) expect(new Date(`${week}T12:00:00Z`).getUTCDay()).toBe(1);
    const sold = [...shelf("sales").values()].flatMap((week) => week.sold.map((line) => line.dishId));
    expect(new Set(sold)).toEqual(new Set(shelf("dish").keys()));
  });

  it("has a year of quotes, and of asparagus two, dated in order, none after the last day", () => {
    const quoted = demo.entries.filter((entry) => entry.change.kind === "quote");
    const asparagus = quoted.filter((entry) => entry.change.id === "asparagus-dunmere").map((entry) => entry.validFrom);
    expect([asparagus.length, asparagus[0], asparagus.at(-1)]).toEqual([25, "2024-11-01", "2026-11-01"]);
    const dates = quoted.filter((entry) => entry.change.id !== "asparagus-dunmere").map((entry) => entry.validFrom);
    expect(dates[0]).toBe("2025-12-01");
    expect(dates.at(-1)?.slice(0, 7)).toBe("2026-11");
    expect(new Set(dates.map((date) => date.slice(0, 7))).size).toBe(12);
    const all = demo.entries.map((entry) => entry.validFrom);
    expect(all).toEqual([...all].sort());
    expect(all.filter((date) => date > LAST_DAY)).toEqual([]);
  });

  it("names each fact and day once", () => {
    const named = demo.entries.map((entry) => `${entry.change.kind}:${entry.change.id} ${entry.validFrom}`);
    expect(named.filter((name, index) => named.indexOf(name) !== index)).toEqual([]);
  });

  it("uses every recipe and every spec", () => {
    const lines = [...[...shelf("recipe").values()].flatMap((recipe) => recipe.lines), ...[...shelf("dish").values()].flatMap((dish) => dish.lines)];
    const used = new Set(lines.map((line) => `${line.of.kind}:${line.of.id}`));
    for (const id of shelf("recipe").keys()) expect(used).toContain(`recipe:${id}`);
    for (const id of shelf("spec").keys()) expect(used).toContain(`spec:${id}`);
  });
});

describe("its facts fit together", () => {
  it("stands as a whole", () => {
    expect(checkBook(bookOn(LAST_DAY))).toEqual([]);
  });

  it("could have been recorded day by day: each day's changes find what they refer to", () => {
    const days = new Map<string, DemoEntry[]>();
    for (const entry of demo.entries) days.set(entry.validFrom, [...(days.get(entry.validFrom) ?? []), entry]);
    let book = emptyBook({ id: "demo", ...demo.kitchen }, "2025-12-01");
    for (const [day, entries] of days) {
      const changes = entries.map((entry) => entry.change);
      expect(checkChanges(book, changes), day).toEqual([]);
      book = withChanges({ ...book, on: day }, changes);
    }
  });
});

describe("its menu", () => {
  it("is costed completely, with two or three dishes over, two or three near and most of the rest between 20 and 30 %", () => {
    const figures = menuFigures(cascadeOn(LAST_DAY));
    const count = (state: string): number => figures.filter((dish) => dish.state === state).length;
    expect(figures.flatMap((dish) => dish.plateCost.missing)).toEqual([]);
    expect(count("incomplete") + count("unpriced")).toBe(0);
    expect(count("over")).toBeGreaterThanOrEqual(1);
    expect(count("over")).toBeLessThanOrEqual(3);
    expect(count("near")).toBeGreaterThanOrEqual(1);
    expect(count("near")).toBeLessThanOrEqual(3);
    for (const dish of figures) {
      expect(dish.foodCost?.gt("0.2"), dish.id).toBe(true);
      expect(dish.foodCost?.lt("0.32"), dish.id).toBe(true);
    }
  });

  it.each(["2025-12-08", "2026-03-16", "2026-06-01", "2026-09-14", "2026-10-14", LAST_DAY])(
    "costs what a fraction library makes of the files on %s, exactly",
    (day) => {
      const cascade = cascadeOn(day);
      const { plates } = costedByHand(day);
      expect(new Set(plates.keys())).toEqual(new Set(cascade.book.shelves.dish.keys()));
      for (const [id, plate] of plates) {
        const cost = costExactly(cascade, { kind: "dish", id });
        expect(`${id} ${cost.n}/${cost.d}`).toBe(`${id} ${plate.s * plate.n}/${plate.d}`);
      }
    },
  );
});

describe("a mistake in the files", () => {
  const folder = mkdtempSync(join(tmpdir(), "demo-"));
  afterAll(() => rmSync(folder, { recursive: true }));

  it("is named with its place, all of them at once", () => {
    cpSync(join(import.meta.dirname, "../../seed"), folder, { recursive: true });
    const recipes = readFileSync(join(folder, "recipes.json"), "utf8");
    const broken = recipes
      .replace('"quantity": "25 lb"', '"quantity": "some"')
      .replace('{ "item": "butter", "quantity": "5 lb" }', '{ "item": "butter", "quanity": "5 lb" }');
    expect(broken).toContain('"quantity": "some"');
    expect(broken).toContain('"quanity"');
    writeFileSync(join(folder, "recipes.json"), broken);
    expect(() => readDemo(folder)).toThrow(/recipes\.json recipes\.0 .*lines\.0/);
    expect(() => readDemo(folder)).toThrow(/quanity/);
  });

  it("is told where there are no files", () => {
    expect(() => readDemo(join(folder, "nowhere"))).toThrow(/kitchen\.json/);
  });
});
