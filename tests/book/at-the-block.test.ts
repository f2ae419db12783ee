/** A sheet at the block: entries that add up to the same sheet in whatever order, and as often, as they arrive. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type BlockBody, type BlockEntry, blockSheet, likeliestFirst, nextStop, partKeyFor, readBlockEntries, readFact, stopsOf, testFromBlock, usualWeight, weighedSoFar, weightOf } from "@/lib/book";
import { type Quantity, exact, parseQuantity } from "@/lib/measure";
import { usualFrom } from "@/lib/yield";
import { us } from "../measure/habits";

const lb = (text: string): Quantity => {
  const read = parseQuantity(text, us, { kinds: ["mass"] });
  if (!read.ok) throw new Error(read.problems[0]?.sentence);
  return read.value;
};
let made = 0;
const entry = (body: BlockBody, minute = made): BlockEntry => {
  made += 1;
  return { id: `entry-${String(made).padStart(6, "0")}`, at: new Date(Date.UTC(2026, 10, 25, 9, minute)).toISOString(), body };
};
const about: BlockBody = { kind: "about", of: "item:striploin", test: "butcher", dealerId: null, on: "2026-11-25", cutter: "Cook", pieces: 1, scale: "lb and oz", step: lb("1/4 oz") };
const part = (key: string, name: string, role: "main" | "by-product" | "discard" | "purge", place: number): BlockBody => ({ kind: "part", key, name, role, place });
const reading = (key: string, gross: string, tare: string | null = null, piece = false): BlockBody => ({ kind: "reading", key, gross: lb(gross), tare: tare === null ? null : lb(tare), piece });

const STRIPLOIN = [about, part("steaks", "Steaks, trimmed", "main", 0), part("fat", "Fat", "discard", 1), part("purge", "Purge in the bag", "purge", 2)].map((body) => entry(body));

describe("a sheet at the block", () => {
  test("is weighed one part after another: the whole first", () => {
    const begun = blockSheet(STRIPLOIN);
    expect(stopsOf(begun).map(({ key }) => key)).toEqual(["@billed", "steaks", "fat", "purge"]);
    expect(nextStop(begun)).toBe("@billed");
    const more = blockSheet([...STRIPLOIN, entry(reading("@billed", "13 lb 8 oz")), entry(reading("steaks", "8 lb 11 oz"))]);
    expect(nextStop(more)).toBe("fat");
    expect(nextStop(more, "purge")).toBe("fat");
    const none = blockSheet([...STRIPLOIN, entry(reading("@billed", "13 lb 8 oz")), entry(reading("steaks", "8 lb 11 oz")), entry({ kind: "none", key: "fat" }), entry(reading("purge", "4 oz"))]);
    expect(nextStop(none)).toBeNull();
  });

  test("adds several goes, each with its tub taken off", () => {
    const sheet = blockSheet([...STRIPLOIN, entry(reading("fat", "1 lb 2 oz", "4 oz")), entry(reading("fat", "1 lb 10 oz", "4 oz"))]);
    const fat = sheet.parts.find(({ key }) => key === "fat");
    expect(fat && weightOf(fat, us)).toMatchObject({ ok: true, value: { amount: "2.25", unit: "lb" } });
    const tub = blockSheet([...STRIPLOIN, entry(reading("fat", "3 oz", "4 oz"))]).parts.find(({ key }) => key === "fat");
    expect(tub && weightOf(tub, us)).toMatchObject({ ok: false, problems: [{ code: "tare-exceeds-gross" }] });
  });

  test("takes a reading back, and the one before stands again", () => {
    const slip = entry(reading("steaks", "9 lb"));
    const sheet = blockSheet([...STRIPLOIN, slip, entry({ kind: "back", entry: slip.id })]);
    expect(sheet.parts.find(({ key }) => key === "steaks")?.readings).toEqual([]);
    expect(sheet.undoable).toEqual([]);
  });

  test("is the same in whatever order and however often its entries arrive", () => {
    const bodies = fc.oneof(
      fc.constantFrom<BlockBody>(about, { ...about, pieces: 2 } as BlockBody, { kind: "note", text: "wet" }, { kind: "no-part", key: "fat" }, part("tail", "Tail", "by-product", 3), { kind: "none", key: "purge" }),
      fc.tuple(fc.constantFrom("@billed", "steaks", "fat", "tail"), fc.integer({ min: 1, max: 400 })).map(([key, ounces]): BlockBody => ({ kind: "reading", key, gross: { amount: exact(String(ounces)), unit: "oz" }, tare: null, piece: false })),
    );
    const entries = fc.array(fc.tuple(bodies, fc.integer({ min: 0, max: 50 })), { maxLength: 25 }).map((list) => list.map(([body, minute], index): BlockEntry => ({ id: `device-${String(index).padStart(4, "0")}`, at: new Date(Date.UTC(2026, 10, 25, 10, minute)).toISOString(), body })));
    fc.assert(fc.property(entries, fc.array(fc.integer()), fc.integer({ min: 0, max: 24 }), (list, order, taken) => {
      const all = [...STRIPLOIN, ...list, ...(list[taken] ? [entry({ kind: "back", entry: list[taken].id }, 59)] : [])];
      const shuffled = all.map((one, index) => ({ one, at: order[index % Math.max(order.length, 1)] ?? 0 })).sort((a, b) => a.at - b.at).map(({ one }) => one);
      expect(blockSheet([...shuffled, ...shuffled.slice(0, 5)])).toEqual(blockSheet(all));
    }));
  });

  test("becomes a test through the same schema as any other", () => {
    const sheet = blockSheet([
      ...STRIPLOIN, entry(reading("@billed", "13 lb 8 oz")), entry(reading("steaks", "4 lb 6 oz", null, true)), entry(reading("steaks", "4 lb 5 oz", null, true)),
      entry(reading("fat", "4 lb 6 oz", "2 oz")), entry({ kind: "none", key: "purge" }), entry({ kind: "note", text: "A long tail." }),
    ]);
    const from = testFromBlock(sheet, us);
    if (!from.ok) throw new Error(from.problems[0]?.sentence);
    const read = readFact("test", { ...from.value, id: "test-1" }, us);
    if (!read.ok) throw new Error(read.problems[0]?.sentence);
    expect(read.value).toMatchObject({ kind: "butcher", of: { kind: "item", id: "striploin" }, billed: { amount: "13.5", unit: "lb" }, note: "A long tail.", cutter: "Cook" });
    expect(read.value.parts.map(({ key, weight, pieces }) => [key, weight.amount, pieces.length])).toEqual([["steaks", "8.6875", 2], ["fat", "4.25", 0]]);
  });

  test("says what has not been weighed yet", () => {
    const from = testFromBlock(blockSheet([...STRIPLOIN, entry(reading("@billed", "13 lb 8 oz"))]), us);
    expect(from.ok ? [] : from.problems.map(({ path }) => path)).toEqual(["steaks", "fat", "purge"]);
    expect(from.ok ? "" : from.problems[0]?.sentence).toBe("Steaks, trimmed has not been weighed yet.");
  });

  test("knows what a part usually weighs of such a whole", () => {
    const before = weighedSoFar(blockSheet([...STRIPLOIN, entry(reading("@billed", "10 lb")), entry(reading("steaks", "6 lb")), entry(reading("fat", "3 lb")), entry(reading("purge", "8 oz"))]), us);
    if (before === null) throw new Error("expected a sheet");
    expect(usualWeight(usualFrom([before]), "steaks", lb("13 lb 8 oz"))).toEqual({ amount: "8.125", unit: "lb" });
    expect(usualWeight(usualFrom([before]), "tail", lb("13 lb 8 oz"))).toBeNull();
    expect(usualWeight(null, "steaks", lb("13 lb"))).toBeNull();
  });

  test("of two readings of a figure the one that closes the balance is offered first", () => {
    const choices = [{ text: "2.12 lb", quantity: lb("2.12 lb") }, { text: "2 lb 12 oz", quantity: lb("2 lb 12 oz") }];
    const but = (left: string) => blockSheet([...STRIPLOIN, entry(reading("@billed", "10 lb")), entry(reading("steaks", left)), entry(reading("purge", "3 oz"))]);
    const offered = (left: string): readonly string[] => likeliestFirst(choices, but(left), "fat", { finished: true }, us).map(({ text }) => text);
    expect(offered("7 lb")).toEqual(["2 lb 12 oz", "2.12 lb"]);
    expect(offered("7 lb 10 oz")).toEqual(["2.12 lb", "2 lb 12 oz"]);
    expect(likeliestFirst(choices, blockSheet(STRIPLOIN), "fat", {}, us)).toEqual(choices);
  });
});

describe("entries as a device sends them", () => {
  test("are read whole or refused with a sentence", () => {
    expect(readBlockEntries(STRIPLOIN)).toEqual({ ok: true, value: STRIPLOIN });
    const refused = (body: unknown, more: object = {}): string => {
      const read = readBlockEntries([{ id: "entry-0001", at: "2026-11-25T09:00:00.000Z", body, ...more }]);
      return read.ok ? "" : read.problems[0]?.sentence ?? "";
    };
    expect(refused({ ...about, pieces: 0 })).toContain("At least one piece");
    expect(refused({ ...reading("steaks", "1 lb"), gross: { amount: "-1", unit: "lb" } })).toContain("above zero");
    expect(refused({ ...reading("steaks", "1 lb"), gross: { amount: "1e9", unit: "stone" } })).not.toBe("");
    expect(refused({ ...about, on: "2026-02-30" })).toContain("calendar day");
    expect(refused(about, { id: "x" })).toContain("id");
    expect(refused(about, { at: "yesterday" })).toContain("when it was typed");
    expect(refused({ kind: "price", amount: "7" })).not.toBe("");
    expect(readBlockEntries("entries").ok).toBe(false);
    expect(readBlockEntries(null).ok).toBe(false);
  });

  test("a part's key is its name, made unlike the others", () => {
    expect(partKeyFor("Lean trim", new Set())).toBe("lean-trim");
    expect(partKeyFor("Lean trim", new Set(["lean-trim", "lean-trim-2"]))).toBe("lean-trim-3");
  });
});
