/**
 * What else differs between compared groups. A new cutter on a new dealer's meat proves nothing about either: where two
 * groups share not one dealer, cutter or grade, a difference between them may be any of these, and the page must say so
 * beside the verdict. It is only told where it is known for every test of both groups.
 */
import type { TestGroup } from "./compare";

/** What is known of a test besides its yield, by what people call it: { dealer: "Harbour Meats", cutter: "Ana" }. */
export type Circumstances = Readonly<Record<string, string>>;

export interface Confounding {
  readonly a: string;
  readonly b: string;
  /** What differs as well: "dealer". */
  readonly what: string;
}

/** Every circumstance but the compared one that two groups do not share in a single test, pair by pair. */
export function confoundings(groups: readonly TestGroup[], known: ReadonlyMap<string, Circumstances>, compared: string): readonly Confounding[] {
  const whats = [...new Set([...known.values()].flatMap((circumstances) => Object.keys(circumstances)))].filter((what) => what !== compared).sort();
  return groups.flatMap((a, index) =>
    groups.slice(index + 1).flatMap((b) =>
      whats.flatMap((what) => {
        const here = valuesOf(a, known, what);
        const there = valuesOf(b, known, what);
        if (here === null || there === null) return [];
        return [...here].some((value) => there.has(value)) ? [] : [{ a: a.name, b: b.name, what }];
      }),
    ),
  );
}

/** null when it is not known for every test, or there is no test. */
function valuesOf(group: TestGroup, known: ReadonlyMap<string, Circumstances>, what: string): ReadonlySet<string> | null {
  const values = group.tests.map((test) => known.get(test.id)?.[what]);
  if (values.length === 0) return null;
  const told = values.flatMap((value) => value ?? []);
  return told.length === values.length ? new Set(told) : null;
}
