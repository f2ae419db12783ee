/** The order of costing and the set of dirty rows, on graphs of numbers alone. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DirtySet } from "@/lib/cascade/dirty-set";
import { type Sources, cycleAmong, levelsOf, sortedBy } from "@/lib/cascade/order";

function sourcesOf(lines: readonly (readonly number[])[]): Sources {
  const start = [0];
  for (const each of lines) start.push((start.at(-1) ?? 0) + each.length);
  return { nodes: lines.length, start: Int32Array.from(start), source: Int32Array.from(lines.flat()) };
}

/** Node i rests on some nodes before it, under numbers that a shuffle hides. */
const anyOrderly = fc.integer({ min: 1, max: 60 }).chain((nodes) => fc.tuple(
  fc.shuffledSubarray(Array.from({ length: nodes }, (_, at) => at), { minLength: nodes, maxLength: nodes }),
  fc.array(fc.array(fc.nat(1_000_000), { maxLength: 5 }), { minLength: nodes, maxLength: nodes }),
)).map(([name, picks]) => {
  const lines: number[][] = Array.from({ length: name.length }, () => []);
  picks.forEach((pick, at) => { if (at > 0) lines[name[at] ?? 0] = pick.map((each) => name[each % at] ?? 0); });
  return lines;
});

describe("levels", () => {
  test("every node lies exactly one above the highest of its sources", () => {
    fc.assert(fc.property(anyOrderly, (lines) => {
      const { level, settled } = levelsOf(sourcesOf(lines));
      expect(settled).toBe(lines.length);
      lines.forEach((from, node) => expect(level[node]).toBe(Math.max(-1, ...from.map((each) => level[each] ?? 0)) + 1));
    }));
  });

  test("sorted by level, then by number of lines, sources stand before users", () => {
    fc.assert(fc.property(anyOrderly, (lines) => {
      const { level } = levelsOf(sourcesOf(lines));
      const order = [...sortedBy(level, Int32Array.from(lines, (each) => each.length))];
      expect([...order].sort((a, b) => a - b)).toEqual(lines.map((_, at) => at));
      const place = (node: number): number => order.indexOf(node);
      lines.forEach((from, node) => { for (const each of from) expect(place(each)).toBeLessThan(place(node)); });
      for (let at = 1; at < order.length; at += 1) {
        const [a, b] = [order[at - 1] ?? 0, order[at] ?? 0];
        const key = (node: number): number => (level[node] ?? 0) * 1000 + (lines[node]?.length ?? 0);
        expect(key(a)).toBeLessThanOrEqual(key(b));
      }
    }));
  });

  test("a cycle is found and told in the order in which things are made of each other", () => {
    fc.assert(fc.property(anyOrderly, fc.nat(), fc.nat(), (lines, a, b) => {
      const [from, to] = [a % lines.length, b % lines.length];
      const tangled = lines.map((each, node) => (node === from ? [...each, to] : each));
      const sources = sourcesOf(tangled);
      const { level, settled } = levelsOf(sources);
      if (settled === tangled.length) return;
      const around = cycleAmong(sources, level);
      expect(around.length).toBeGreaterThan(1);
      expect(around[0]).toBe(around.at(-1));
      expect(new Set(around).size).toBe(around.length - 1);
      for (let at = 1; at < around.length; at += 1) expect(tangled[around[at - 1] ?? 0]).toContain(around[at]);
    }));
  });
});

describe("the set of dirty rows", () => {
  test("gives rows back lowest first, each once, also those added on the way up", () => {
    fc.assert(fc.property(fc.array(fc.nat(40_000), { maxLength: 60 }), fc.array(fc.tuple(fc.nat(40_000), fc.nat(9_000)), { maxLength: 60 }), (first, more) => {
      const set = new DirtySet(50_000);
      for (const row of first) set.add(row);
      const jumps = new Map(more);
      const wanted = new Set(first);
      const got: number[] = [];
      for (let row = set.takeLowest(); row >= 0; row = set.takeLowest()) {
        got.push(row);
        const jump = jumps.get(row) ?? (got.length < 200 ? 1 + (row % 37) : 0);
        if (jump > 0 && row + jump < 50_000) {
          set.add(row + jump);
          wanted.add(row + jump);
        }
      }
      expect(got).toEqual([...wanted].sort((a, b) => a - b));
      expect(set.takeLowest()).toBe(-1);
    }));
  });

  test("clears", () => {
    const set = new DirtySet(5_000);
    set.add(4_999);
    set.clear();
    expect(set.takeLowest()).toBe(-1);
    set.add(3);
    expect(set.takeLowest()).toBe(3);
  });
});
