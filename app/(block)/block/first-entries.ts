/**
 * What a new sheet begins with: what is being worked, as the last test of it was, and the parts that test had; without a
 * test the card of usual parts for such a cut, else the parts of such a kind of test.
 */
import { type BlockBody, type BlockEntry, type Book, type Origin, type PartRole, type TestKind, costingQuote, factName, partKeyFor } from "@/lib/book";
import { usualPartsFor } from "@/lib/yield";
import { KINDS, TEST_KINDS } from "@/components/yield-test/kinds";
import type { OpenKitchen } from "../../(kitchen)/open-kitchen";
import { lastTest } from "../../(kitchen)/tests/sheet-props";
import { randomBytes } from "node:crypto";

export interface Chosen {
  /** "item:…" or "cut:…". */
  readonly of: string;
  /** "": as the last test of it, or as the card for such a cut says. */
  readonly kind: string;
  /** "": whom it is bought from. */
  readonly dealerId: string;
}

/** null where nothing in the book was chosen. */
export function firstEntries({ live, visitor }: OpenKitchen, chosen: Chosen): readonly BlockEntry[] | null {
  const { book } = live;
  const [shelf, ...rest] = chosen.of.split(":");
  const of: Origin = { kind: shelf === "cut" ? "cut" : "item", id: rest.join(":") };
  if (!book.shelves[of.kind].has(of.id)) return null;
  const item = of.kind === "item" ? book.shelves.item.get(of.id) : undefined;
  const card = usualPartsFor({ name: factName(book, of.kind, of.id), specification: item?.specification });
  const kind = TEST_KINDS.find((known) => known === chosen.kind) ?? usualKind(book, of) ?? card?.kind ?? (of.kind === "cut" ? "cooking" : "butcher");
  const last = lastTest(book, kind, of);
  const parts: readonly { readonly key?: string; readonly name: string; readonly role: PartRole }[] = last?.parts ?? (card?.kind === kind ? card.parts : KINDS[kind].parts);
  const taken = new Set<string>();
  const bodies: readonly BlockBody[] = [
    {
      kind: "about", of: chosen.of, test: kind, dealerId: of.kind === "cut" ? null : dealerFor(book, of.id, chosen.dealerId), on: live.today, cutter: visitor.name, pieces: 1,
      scale: null, step: last?.scaleStep ?? null,
    },
    ...parts.map(({ key, name, role }, place): BlockBody => {
      const own = key ?? partKeyFor(name, taken);
      taken.add(own);
      return { kind: "part", key: own, name, role, place };
    }),
  ];
  const now = Date.now();
  return bodies.map((body, index) => ({ id: randomBytes(12).toString("base64url"), at: new Date(now + index).toISOString(), body }));
}

/** The kind of the newest test of a thing. */
export function usualKind(book: Book, of: Origin): TestKind | null {
  const tests = [...book.shelves.test.values()].filter((test) => test.of.kind === of.kind && test.of.id === of.id);
  return tests.reduce<(typeof tests)[number] | null>((last, test) => (last === null || test.on >= last.on ? test : last), null)?.kind ?? null;
}

function dealerFor(book: Book, itemId: string, chosen: string): string | null {
  if (book.shelves.dealer.has(chosen)) return chosen;
  return costingQuote(book, itemId)?.dealerId ?? book.shelves.item.get(itemId)?.dealerId ?? null;
}
