/** The kinds of yield test: what they are called, what they are for, and the parts a new sheet starts with. */
import type { PartRole, TestKind } from "@/lib/book";

export interface KindWords {
  readonly name: string;
  readonly what: string;
  readonly billed: string;
  readonly main: string;
  readonly parts: readonly { readonly name: string; readonly role: PartRole }[];
}

export const KINDS: Readonly<Record<TestKind, KindWords>> = {
  butcher: {
    name: "Butcher test", what: "a piece cut into usable meat, by-products, trim", billed: "Billed weight", main: "Usable weight",
    parts: [
      { name: "Usable, trimmed", role: "main" }, { name: "Lean trim", role: "by-product" }, { name: "Bones", role: "by-product" },
      { name: "Fat and silver skin", role: "discard" }, { name: "Purge in the bag", role: "purge" },
    ],
  },
  trim: {
    name: "Trim test", what: "vegetables, fish or simple trimming", billed: "Weight as purchased", main: "Edible portion",
    parts: [{ name: "Trimmed", role: "main" }, { name: "Trim", role: "discard" }],
  },
  cooking: {
    name: "Cooking-loss test", what: "what is portioned after cooking", billed: "Original weight", main: "Saleable weight",
    parts: [{ name: "Carved, as served", role: "main" }, { name: "Bones and trim", role: "discard" }],
  },
  drained: {
    name: "Drained weight", what: "cans and jars", billed: "Weight with the liquid", main: "Drained weight",
    parts: [{ name: "Drained", role: "main" }, { name: "Liquid", role: "discard" }],
  },
  hydration: {
    name: "Soaking and boiling", what: "pulses, grains, pasta: water taken up", billed: "Dry weight", main: "Cooked weight",
    parts: [{ name: "Cooked", role: "main" }],
  },
};

/** The parts that a sheet of a kind starts with while no test of its origin has been recorded. */
export function usualParts(kind: TestKind): readonly Readonly<Record<string, string>>[] {
  return KINDS[kind].parts.map((part) => ({ name: part.name, role: part.role }));
}

export const TEST_KINDS = Object.keys(KINDS) as readonly TestKind[];

export const ROLE_WORDS: Readonly<Record<PartRole, string>> = {
  main: "usable", "by-product": "by-product", discard: "discard", purge: "purge",
};
