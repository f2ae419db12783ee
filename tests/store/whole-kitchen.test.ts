/**
 * A whole kitchen out as one document and in again: the file of the kitchen that was opened from a file is that file, to
 * the letter, but for the kitchen's own id and the moment; costs, ripples and the book of any day are the same to the digit.
 * A file that is bad, cut off or hostile is refused with its place, and nothing is saved.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Change, FACT_KINDS } from "@/lib/book";
import { guessLayout } from "@/lib/buying";
import { type KitchenFile, kitchenFileTold, readKitchenFile } from "@/lib/exchange";
import { exact } from "@/lib/measure";
import { type DatedChange, type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { readDemo } from "@/seed/read";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { wildChange } from "../fuzz/wild-facts";
import { bookOf, item, quote } from "../menu/small-books";
import { IDS, anyChange } from "./any-fact";
import { recordBare } from "./bare-change";
import { CHEF, FACTS, SOUS, commission, from, openSmall, standingClock } from "./test-kitchen";
import { contents, costs } from "./whole-book";

let place: TestDatabase;
let database: Database;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
});
afterAll(async () => {
  await database.close();
  await place.remove();
});

async function out(store: Store, kitchenId: string): Promise<string> {
  let text = "";
  for await (const piece of store.kitchenFile(kitchenId)) text += piece;
  return text;
}

function read(text: string): KitchenFile {
  const file = readKitchenFile(text);
  if (!file.ok) throw new Error(JSON.stringify(file.problems.slice(0, 5)));
  return file.value;
}

async function openedFrom(store: Store, text: string): Promise<string> {
  const opened = await store.openFromFile(read(text));
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems.slice(0, 5)));
  return opened.value.id;
}

/** The file without what is its own: which kitchen it is of, and when it was made. */
const same = (text: string): string => text.replace(/"exportedAt":"[^"]*"/, "").replace(/"kitchen":\{"id":"[^"]*"/, "");

/** Everything that can be asked of a record. */
async function everything(store: Store, id: string): Promise<unknown> {
  const live = await store.live(id);
  const own = (value: unknown): unknown => JSON.parse(JSON.stringify(value, (_, one: unknown) => (one instanceof Map ? [...one as Map<unknown, unknown>] : one)).replaceAll(id, "kitchen"));
  const record = await store.record(id, { limit: 1_000 });
  return own({
    changeNo: live.changeNo, today: live.today, contents: contents(live.book), costs: costs(live.cascade), ahead: live.ahead, record,
    ripples: await Promise.all(record.slice(0, 12).map(({ changeNo }) => store.recordEntry(id, changeNo))),
    days: await Promise.all(["2026-11-10", "2026-11-25", "2026-12-15"].map(async (on) => contents(await store.bookAsOf(id, { on, afterChange: Math.ceil(live.changeNo / 2) })))),
    tryouts: await store.tryouts(id), orders: await store.orderPlans(id),
  });
}

describe("out, in and out again", () => {
  test("the demo kitchen, with what people did in it since", async () => {
    const clock = standingClock();
    const store = makeStore(database, clock);
    const demo = readDemo();
    const id = await store.createKitchen(demo.kitchen, CHEF, demo.entries, "The demo kitchen");
    const first = await store.live(id);
    const [one, two] = [...first.book.shelves.quote.values()];
    if (one === undefined || two === undefined) throw new Error("expected two quotes");
    const steps: readonly [string, readonly DatedChange[]][] = [
      ["2026-11-25T18:00:00.000Z", from("2026-11-25", [{ kind: "quote", id: one.id, after: { ...one, price: { amount: exact("9.87"), typed: "9.87" } } }])],
      ["2026-11-25T18:05:00.000Z", from("2026-11-28", [{ kind: "quote", id: two.id, after: { ...two, price: { amount: exact("1/3") } } }])],
      ["2026-11-26T05:30:00.000Z", from("2026-11-26", [{ kind: "kitchen", id, after: { ...demo.kitchen, id, name: "Bistro “Ünlü” & Co", taxRate: exact("1"), target: exact("0.333333333333333333333") } }])],
      ["2026-11-29T10:00:00.000Z", from("2026-11-29", [item("saffron", "mass", { dealerId: one.dealerId }), { kind: "quote", id: "quote-saffron", after: { ...one, id: "quote-saffron", itemId: "saffron", price: { amount: exact("4000") }, per: "lb", pack: { levels: [], size: { amount: exact("1"), unit: "lb" }, catchWeight: false }, landed: [] } }])],
      ["2026-11-30T10:00:00.000Z", from("2026-11-30", [{ kind: "quote", id: "quote-saffron", after: null }, { kind: "item", id: "saffron", after: null }])],
    ];
    for (const [at, entries] of steps) {
      clock.set(at);
      const live = await store.live(id);
      const committed = await store.commit(id, commission(live, entries, SOUS, "since"));
      if (!committed.ok) throw new Error(JSON.stringify(committed));
    }
    // A correction of the price of the second change, and a try-out.
    const live = await store.live(id);
    const [revision] = await store.revisionsOf(id, "quote", one.id);
    if (revision === undefined) throw new Error("expected a revision");
    const corrected = await store.commit(id, commission(live, [{ change: { kind: "quote", id: one.id, after: { ...one, price: { amount: exact("9.78") } } }, validFrom: "2026-11-25", replaces: revision.revision }], CHEF, "misread"));
    expect(corrected.ok).toBe(true);
    const kept = await store.keepTryout(id, CHEF, { id: "try-a", name: "Cream dearer", version: null, moves: [{ key: "a", about: "All", body: { kind: "share", of: { kind: "section", name: "Dairy" }, share: exact("0.08") }, basis: { upTo: 3, facts: {} }, added: null }] });
    expect(kept.ok).toBe(true);
    const planned = await store.keepOrderPlan(id, SOUS, { id: "order-a", name: "Sunday", forDay: "2026-11-29", plan: { dishes: [{ key: "a", dishId: "strip-steak", covers: exact("40") }], lines: [], onHand: [], sureness: null, way: "table", note: "=careful" }, version: null });
    expect(planned.ok).toBe(true);
    const layout = guessLayout([{ name: "list.csv", rows: ["Code;Description;Price", "X1;Striploin;10.50"].map((row) => row.split(";").map((text) => ({ text, number: null }))) }], demo.kitchen);
    await database.prisma.dealerLayout.create({ data: { kitchenId: id, dealer: `dealer:${one.dealerId}`, layout: layout as never, changedAt: new Date("2026-11-30T10:00:00Z"), changedBy: "Chef" } });

    clock.set("2026-12-02T12:00:00.000Z");
    const text = await out(store, id);
    expect(text.split("\n").filter((line) => line.startsWith(`{"no":`))).toHaveLength(7);
    expect(kitchenFileTold.safeParse(JSON.parse(text)).error?.issues ?? []).toEqual([]);
    const again = await openedFrom(store, text);
    expect(again).not.toBe(id);
    expect(same(await out(store, again))).toBe(same(text));
    expect(await everything(store, again)).toEqual(await everything(store, id));
    // It goes on from there.
    const more = await store.live(again);
    expect((await store.commit(again, commission(more, from(more.today, [{ kind: "quote", id: two.id, after: { ...two, price: { amount: exact("2") } } }])))).ok).toBe(true);
  });

  test("law: any record of a small kitchen, whatever was done in it", async () => {
    const small = bookOf(FACTS);
    const step = fc.record({
      changes: fc.array(wildChange(small), { minLength: 1, maxLength: 3 }), day: fc.constantFrom("2026-11-10", "2026-11-25", "2026-11-26", "2026-12-01"), corrects: fc.boolean(),
      later: fc.constantFrom(0, 60_000, 40_000_000, 200_000_000),
    });
    let recorded = 0;
    await fc.assert(fc.asyncProperty(fc.array(step, { minLength: 8, maxLength: 25 }), async (steps) => {
      const clock = standingClock();
      const store = makeStore(database, clock);
      const id = await openSmall(store);
      for (const { changes, day, corrects, later } of steps) {
        clock.set(new Date(clock.now() + later).toISOString());
        const live = await store.live(id);
        const unique = new Map(changes.map((change) => [`${change.kind}:${change.id}`, change]));
        const entries = [...unique].map(([key, change]): DatedChange => {
          const standing = live.book.provenance.get(key);
          const own = change.kind === "kitchen" && change.after !== null ? { ...change, id, after: { ...change.after, id } } : change;
          return { change: own, validFrom: day, ...(corrects && standing ? { replaces: standing.revision } : {}) };
        });
        if ((await store.commit(id, commission(live, entries))).ok) recorded += 1;
      }
      const text = await out(store, id);
      expect(kitchenFileTold.safeParse(JSON.parse(text)).error?.issues ?? []).toEqual([]);
      const again = await openedFrom(store, text);
      expect(same(await out(store, again))).toBe(same(text));
      expect(await everything(store, again)).toEqual(await everything(store, id));
    }), { numRuns: 4 });
    expect(recorded).toBeGreaterThan(6);
  });

  test("law: every fact there can be is as the document’s schema says", async () => {
    let kitchens = 0;
    await fc.assert(fc.asyncProperty(fc.tuple(...FACT_KINDS.flatMap((kind) => IDS.map((id) => anyChange(kind, id)))), async (changes: Change[]) => {
      const kitchenId = `told-${kitchens += 1}`;
      await recordBare(database, kitchenId, changes.map((change) => ({ change, validFrom: "2026-11-25" })));
      // What these facts say of a kitchen is no kitchen's: the file is read off the rows alone.
      const { kitchenFile } = await import("@/lib/store/whole-kitchen-out");
      let text = "";
      const live = { kitchenId, changeNo: 1, book: { kitchenId, shelves: { kitchen: new Map([[kitchenId, { name: "" }]]) } } } as never;
      for await (const piece of kitchenFile(database, standingClock(), live)) text += piece;
      const issues = kitchenFileTold.safeParse(JSON.parse(text)).error?.issues ?? [];
      // A week of sales is named by a day, which these are not.
      expect(issues.filter(({ path }) => path.at(-1) !== "id")).toEqual([]);
    }), { numRuns: 20 });
  });
});

describe("a file that is not a kitchen’s, or not a good one", () => {
  let text: string;
  let store: Store;
  beforeAll(async () => {
    store = makeStore(database, standingClock());
    const id = await openSmall(store);
    const live = await store.live(id);
    await store.commit(id, commission(live, from("2026-11-25", [quote("butter", "5 a lb")])));
    text = await out(store, id);
  });

  const rows = async (): Promise<number> => (await database.prisma.$queryRaw<{ n: bigint }[]>`SELECT (SELECT count(*) FROM kitchen) + (SELECT count(*) FROM revision) + (SELECT count(*) FROM change) AS n`).map(({ n }) => Number(n))[0] ?? 0;
  async function refused(sent: string): Promise<string> {
    const before = await rows();
    const file = readKitchenFile(sent);
    const opened = file.ok ? await store.openFromFile(file.value) : file;
    expect(await rows()).toBe(before);
    if (opened.ok) throw new Error("expected it to be refused");
    for (const { sentence } of opened.problems) expect(sentence).toMatch(/^.{10,}[.?]$/su);
    return opened.problems.map(({ path, sentence }) => `${path}: ${sentence}`).join("\n");
  }
  const edited = (edit: (file: { changes: { no: number; at: string; by: string; revisions: Record<string, unknown>[] }[] } & Record<string, unknown>) => void): string => {
    const file = JSON.parse(text) as Parameters<typeof edit>[0];
    edit(file);
    return JSON.stringify(file);
  };

  test("cut off anywhere", async () => {
    for (const share of [0, 0.1, 0.5, 0.9, 0.999]) await refused(text.slice(0, Math.floor(text.length * share)));
    expect(await refused(text.slice(0, -20))).toContain("ends in the middle");
  });

  test("something else", async () => {
    for (const sent of ["", "null", "[]", "{}", "PK\u0003\u0004", `{"format":"another"}`, "<html>", "[".repeat(100_000)]) expect(await refused(sent)).toMatch(/not a kitchen’s file/);
    expect(await refused(text.replace(`"version":1`, `"version":2`))).toContain("another version (version 2)");
  });

  test.each<[string, Parameters<typeof edited>[0], RegExp]>([
    ["a change left out", (file) => { file.changes.splice(0, 1); }, /changes\.0\.no: Change 2: .*here 1 is awaited/],
    ["no change", (file) => { file.changes = []; }, /holds no change/],
    ["another order", (file) => { file.changes.reverse(); }, /numbered one after the other/],
    ["a moment before the one before it", (file) => { (file.changes[1] as { at: string }).at = "2020-01-01T00:00:00.000Z"; }, /changes\.1\.at: .*before the change before it/],
    ["a moment that has not come", (file) => { (file.changes[1] as { at: string }).at = "2126-01-01T00:00:00.000Z"; }, /has not come yet/],
    ["a moment that is none", (file) => { (file.changes[1] as { at: string }).at = "2026-99-99T00:00:00.000Z"; }, /is no moment/],
    ["nobody", (file) => { (file.changes[1] as { by: string }).by = ""; }, /changes\.1\.who: Change 2: Say who/],
    ["a revision numbered anew", (file) => { (file.changes[1]?.revisions[0] as { revision: number }).revision = 1; }, /changes\.1\.revisions\.0\.revision/],
    ["a price below zero", (file) => { (file.changes[1]?.revisions[0] as { fact: { price: object } }).fact.price = { amount: "-5" }; }, /changes\.1\.revisions\.0\.fact\.price.*above zero/],
    ["a fact under another id", (file) => { (file.changes[1]?.revisions[0] as { id: string }).id = "somebody-else"; }, /fact\.id: .*another id/],
    ["a correction of what is not there", (file) => { (file.changes[1]?.revisions[0] as { replaces: number }).replaces = 1; }, /no revision 1 of this quote/],
    ["a quote of nothing", (file) => { (file.changes[1]?.revisions[0] as { fact: { itemId: string } }).fact.itemId = "nowhere"; }, /changes\.1\.itemId: Change 2: /],
    ["a kind that is none", (file) => { (file.changes[1]?.revisions[0] as { kind: string }).kind = "__proto__"; }, /changes\.1\.revisions\.0\.kind: This is one of/],
    ["no settings", (file) => { file.changes[0]?.revisions.splice(0, 1); }, /numbered one after the other|own settings/],
    ["another kitchen’s settings", (file) => { (file.changes[0]?.revisions[0] as { id: string }).id = "kitchen-2"; }, /have the id “kitchen”/],
    ["more than is known", (file) => { file["people"] = [{ password: "x" }]; }, /people: A file of this version has no such part/],
    ["a list left out", (file) => { delete file["tryouts"]; }, /list of tryouts is missing/],
    ["a try-out that is none", (file) => { file["tryouts"] = [{ id: "t", name: "T", createdAt: "2026-11-25T17:00:00.000Z", createdBy: "", changedAt: "2026-11-25T17:00:00.000Z", changedBy: "", version: 1, madeChange: null, dropped: null, moves: [{ body: "x" }] }]; }, /tryouts\.0\.moves/],
    ["an order that is none", (file) => { file["orderPlans"] = [{ id: "o", name: "O", forDay: null, createdAt: "2026-11-25T17:00:00.000Z", createdBy: "", changedAt: "2026-11-25T17:00:00.000Z", changedBy: "", version: 1, dropped: null, body: { dishes: [{ covers: 1 }] } }]; }, /orderPlans\.0\.body/],
    ["a layout of nobody", (file) => { file["layouts"] = [{ dealerId: "nobody", changedAt: "2026-11-25T17:00:00.000Z", changedBy: "", layout: {} }]; }, /no such dealer/],
    ["a NUL", (file) => { (file.changes[1] as { by: string }).by = "a\0b"; }, /cannot be kept/],
  ])("%s", async (_, edit, says) => {
    expect(await refused(edited(edit))).toMatch(says);
  });

  test("law: whatever is put in the place of anything, it is read or refused, and never thrown", async () => {
    const paths: (string | number)[][] = [];
    const walk = (value: unknown, path: (string | number)[]): void => {
      if (path.length > 0) paths.push(path);
      if (typeof value === "object" && value !== null) for (const [name, inner] of Object.entries(value)) walk(inner, [...path, Array.isArray(value) ? Number(name) : name]);
    };
    walk(JSON.parse(text), []);
    await fc.assert(fc.asyncProperty(fc.constantFrom(...paths), fc.jsonValue({ maxDepth: 2 }), async (path, value) => {
      const file = JSON.parse(text) as unknown;
      const at = path.slice(0, -1).reduce((there: unknown, step) => (there as Record<string | number, unknown>)[step], file);
      (at as Record<string | number, unknown>)[path.at(-1) ?? ""] = value;
      const found = readKitchenFile(JSON.stringify(file));
      const opened = found.ok ? await store.openFromFile(found.value) : found;
      if (!opened.ok) expect(opened.problems.length).toBeGreaterThan(0);
    }), { numRuns: 150 });
  });
});
