/**
 * How a published case is judged. Our figure is compared with the exact value recomputed from the printed inputs (as a
 * fraction where one is given, else at 12 places), then with the figure as the source prints it, under the rounding
 * that the case states: half-up, cut off, or not reproduced by any, in which case ours must differ as stated.
 */
import { expect, test } from "vitest";
import { type Ratio, exact, ratio } from "@/lib/measure";
import { figure, fixed, truncated } from "../yield/sheets";

export interface PublishedCase {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: {
    readonly published: Readonly<Record<string, string>>;
    readonly exact: Readonly<Record<string, string>>;
    readonly exact_fraction: Readonly<Record<string, string>>;
    readonly rounding: Readonly<Record<string, string>>;
  };
  readonly source: { readonly author: string; readonly title: string; readonly edition_year: string; readonly location: string; readonly url: string | null };
  readonly confidence: string;
  readonly notes: string;
}

export type Figures = Readonly<Record<string, Ratio>>;

export function caseNamed(cases: readonly PublishedCase[], id: string): PublishedCase {
  const found = cases.find((each) => each.id === id);
  if (found === undefined) throw new Error(`expected a published case ${id}`);
  return found;
}

/** "bt-dk-lamb-loin: Dittmer, P. R. & Keefe, J. D., Principles …, ch. 6"; a figure nobody saw again is marked. */
export function titleOf(published: PublishedCase): string {
  const { author, title, location } = published.source;
  return `${published.id}: ${author}, ${title}, ${location}${published.confidence === "from memory" ? " (from memory)" : ""}`;
}

/** One input as text. */
export function given(published: PublishedCase, key: string): string {
  const value = published.inputs[key];
  if (typeof value !== "string") throw new Error(`expected ${published.id} to give ${key}`);
  return value;
}

export function givenFigure(published: PublishedCase, key: string): Ratio {
  return figure(given(published, key));
}

/** Percent of a share. */
export function percent(share: Ratio): Ratio {
  return ratio.mul(share, ratio.of(100n));
}

export function share(percentage: Ratio): Ratio {
  return ratio.div(percentage, ratio.of(100n));
}

/**
 * Tests every figure of a case. `compute` gives our figures by the case's own keys; each key that the case holds must be there,
 * but those in `left`, told with the reason why they are no figure of ours.
 */
export function judge(published: PublishedCase, compute: () => Figures, left: Readonly<Record<string, string>> = {}): void {
  test(titleOf(published), () => {
    const ours = compute();
    const { exact: exactly, exact_fraction: fractions, published: printed, rounding } = published.expected;
    const judged = (key: string): Ratio | null => {
      const value = ours[key];
      if (value === undefined) expect(left, `${published.id} holds ${key}, which is not computed`).toHaveProperty([key]);
      return value ?? null;
    };
    for (const [key, want] of Object.entries(exactly)) {
      const value = judged(key);
      if (value === null) continue;
      const fraction = fractions[key];
      if (fraction !== undefined) expect(ratio.toExact(value), `${key}, exactly`).toBe(ratio.toExact(figure(fraction)));
      expect(fixed(value, 12), `${key}, at 12 places`).toBe(fixed(ratio.fromExact(exact(want)), 12));
    }
    for (const [key, want] of Object.entries(printed)) {
      const value = judged(key);
      const stated = rounding[key];
      if (value === null || stated === undefined) continue;
      asPrinted(value, want, stated, `${key}, as printed`);
    }
  });
}

function asPrinted(value: Ratio, printed: string, stated: string, what: string): void {
  const shown = (places: number): string => fixed(figure(printed), places);
  const halfUp = /^half-up at (\d+) places reproduces$/.exec(stated);
  if (halfUp !== null) {
    const places = Number(halfUp[1]);
    expect(fixed(value, places), what).toBe(shown(places));
    return;
  }
  const cutOff = /^truncation at (\d+) places reproduces; half-up gives ([\d.]+)$/.exec(stated);
  if (cutOff !== null) {
    const places = Number(cutOff[1]);
    expect(truncated(value, places), `${what}, cut off`).toBe(shown(places));
    expect(fixed(value, places), `${what}, half-up`).toBe(cutOff[2]);
    return;
  }
  const not = /^NOT reproduced: exact half-up at (\d+) places is ([\d.]+)$/.exec(stated);
  if (not === null) throw new Error(`expected a stated rounding, got: ${stated}`);
  const places = Number(not[1]);
  expect(fixed(value, places), `${what}, ours`).toBe(not[2]);
  expect(fixed(value, places), `${what}, the printed error`).not.toBe(shown(places));
}
