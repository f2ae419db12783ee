/** What a new sheet begins with, as its first entries: what is being worked, and the parts to weigh. */
import { randomBytes } from "node:crypto";
import { type BlockBody, type BlockEntry, boughtFrom, partKeyFor } from "@/lib/book";
import type { OpenKitchen } from "../../(kitchen)/open-kitchen";
import { originIn } from "../../(kitchen)/tests/read-test";
import { kindNamed, startOf } from "../../(kitchen)/tests/start-of";

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
  const of = originIn(chosen.of);
  if (!book.shelves[of.kind].has(of.id)) return null;
  const { kind, last, parts } = startOf(book, of, kindNamed(chosen.kind));
  const taken = new Set<string>();
  const bodies: readonly BlockBody[] = [
    {
      kind: "about", of: chosen.of, test: kind, dealerId: of.kind === "cut" ? null : book.shelves.dealer.has(chosen.dealerId) ? chosen.dealerId : boughtFrom(book, of.id), on: live.today, cutter: visitor.name, pieces: 1,
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
