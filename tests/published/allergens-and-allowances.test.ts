/**
 * The lists of allergens as the laws print them, the temperatures as the model code does, and the two bases of an
 * allowance, which no book that we know prints side by side: they are derived.
 */
import { describe, expect, it } from "vitest";
import { ALLERGENS, USUAL_TEMPERATURES, allowanceFactors } from "@/lib/book";
import { type Exact, ratio } from "@/lib/measure";

// Regulation (EU) No 1169/2011, Annex II, 1 to 14, in its own words; the list as the Food Allergy Research and Resource
// Program of the University of Nebraska reprints it.
const EU_ANNEX_II: readonly (readonly [string, string])[] = [
  ["cereals containing gluten", "gluten"], ["crustaceans", "crustaceans"], ["eggs", "egg"], ["fish", "fish"], ["peanuts", "peanut"], ["soybeans", "soy"], ["milk", "milk"],
  ["nuts", "tree nuts"], ["celery", "celery"], ["mustard", "mustard"], ["sesame seeds", "sesame"], ["sulphur dioxide and sulphites", "sulphites"], ["lupin", "lupin"], ["molluscs", "molluscs"],
];
// 21 U.S.C. 321(qq): the eight of FALCPA 2004 and sesame of the FASTER Act 2021. Wheat is narrower than gluten.
const US_NINE: readonly (readonly [string, string])[] = [
  ["milk", "milk"], ["egg", "egg"], ["fish", "fish"], ["crustacean shellfish", "crustaceans"], ["tree nuts", "tree nuts"], ["wheat", "gluten"], ["peanuts", "peanut"], ["soybeans", "soy"], ["sesame", "sesame"],
];

describe("allergens", () => {
  it("are the fourteen of EU Annex II, each once", () => {
    expect(EU_ANNEX_II).toHaveLength(14);
    expect(EU_ANNEX_II.map(([, ours]) => ours).sort()).toEqual([...ALLERGENS].sort());
  });
  it("hold the nine of US law", () => {
    expect(US_NINE).toHaveLength(9);
    for (const [, ours] of US_NINE) expect(ALLERGENS).toContain(ours);
  });
});

describe("allowances (trade brief 2.9; derived)", () => {
  const on = (cost: string, share: string, basis: "on-cost" | "of-whole"): string => {
    const { onCost, ofWhole } = allowanceFactors([{ key: "w", name: "Waste", kind: "share", share: share as Exact, basis }]);
    return ratio.toDecimal(ratio.mul(ratio.mul(ratio.fromExact(cost as Exact), onCost), ofWhole)).toFixed(2);
  };
  it("5 % on 10.00 is 10.50 on the cost and 10.53 of the whole", () => {
    expect(on("10", "0.05", "on-cost")).toBe("10.50");
    expect(on("10", "0.05", "of-whole")).toBe("10.53");
  });
});

// US FDA Food Code 2022 by section, in °F and °C as printed; 3-403.11 and the metric figure of 3-501.14 from memory of the
// same text. Older adoptions give 15 seconds at 155 °F.
describe("usual temperatures", () => {
  const PRINTED: Readonly<Record<string, readonly [string, string]>> = {
    "3-401.11(A)(1)": ["145", "63"], "3-401.11(A)(2)": ["155", "68"], "3-401.11(A)(3)": ["165", "74"], "3-401.13": ["135", "57"], "3-403.11": ["165", "74"],
    "3-501.16(A)(1)": ["135", "57"], "3-501.14(A)(1)": ["70", "21"], "3-501.14(A)(2)": ["41", "5"], "3-501.16(A)(2)": ["41", "5"],
  };
  it("are those of the sections they name, and each degree of one scale lies within one of the other", () => {
    expect(Object.fromEntries(USUAL_TEMPERATURES.map(({ section, fahrenheit, celsius }) => [section, [fahrenheit, celsius]]))).toEqual(PRINTED);
    for (const { fahrenheit, celsius } of USUAL_TEMPERATURES) expect(Math.abs((Number(fahrenheit) - 32) / 1.8 - Number(celsius))).toBeLessThan(1);
  });
});
