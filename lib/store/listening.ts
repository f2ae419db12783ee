/**
 * Listening for changes of a kitchen. Whoever listens is told of every change that any process records, with who made
 * it and what it changed, by name: no figures, so that it may be told to everybody in the kitchen. A process asks the
 * database for the number of the last change, one small query for all its listeners of all kitchens, and only while
 * somebody listens; a commit of its own wakes it at once.
 */
import type { FactKind } from "@/lib/book";
import { Prisma } from "@/prisma/generated/client";
import { type Reader, momentSql, readJson } from "./read-revisions";

/** How often the database is asked, in milliseconds: with the reading of what is new, well within a second. */
export const LISTEN_EVERY = 350;

/** So many facts of a change are told by name. */
const NAMED = 3;

/** What became of a fact. */
export type WhatBecame = "new" | "changed" | "taken off";

/** What was recorded since somebody last heard. */
export interface News {
  /** The kitchen's last change, which the rest is about; `changes` counts those that were not heard of yet, itself included. */
  readonly changeNo: number;
  readonly changes: number;
  readonly at: string;
  readonly by: string;
  /** The person behind the name; null where a command or a seed did it. */
  readonly byPerson: string | null;
  /** Whether other people than that one made any of the changes that were not heard of yet. */
  readonly others: boolean;
  /** The first few facts of the last change, and how many it has. */
  readonly facts: readonly { readonly kind: FactKind; readonly id: string; readonly name: string; readonly became: WhatBecame }[];
  readonly factCount: number;
}

/** What was recorded after change `since`; null when nothing was, or there is no such kitchen. */
export async function readNews(reader: Reader, kitchenId: string, since: number): Promise<News | null> {
  type ChangeRow = [no: number, at: string, by: string, byPerson: string | null, changes: number, others: boolean];
  const [change] = await readJson<ChangeRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(c.no, ${momentSql(Prisma.sql`c.at`)}, c."by", c.by_person, c.no - ${since}::int,
      EXISTS (SELECT FROM change o WHERE o.kitchen_id = c.kitchen_id AND o.no > ${since} AND o.no < c.no AND (o.by_person IS DISTINCT FROM c.by_person OR o."by" <> c."by"))))::text AS rows
    FROM kitchen k JOIN change c ON c.kitchen_id = k.id AND c.no = k.change_no
    WHERE k.id = ${kitchenId} AND k.change_no > ${since}`);
  if (change === undefined) return null;
  const [changeNo, at, by, byPerson, changes, others] = change;
  type FactRow = [fact: string, kind: FactKind, name: string, withdrawn: boolean, old: boolean, total: number];
  const facts = await readJson<FactRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(r.fact, r.kind, r.name, r.withdrawn,
      EXISTS (SELECT FROM revision o WHERE o.kitchen_id = ${kitchenId} AND o.fact = r.fact AND o.id < r.id), r.total) ORDER BY r.id)::text AS rows
    FROM (
      SELECT id, fact, kind, name, withdrawn, count(*) OVER () AS total FROM revision
      WHERE kitchen_id = ${kitchenId} AND change_no = ${changeNo} ORDER BY id LIMIT ${NAMED}
    ) r`);
  return {
    changeNo, changes, at, by, byPerson, others,
    facts: facts.map(([fact, kind, name, withdrawn, old]) => ({ kind, id: fact.slice(kind.length + 1), name, became: withdrawn ? "taken off" : old ? "changed" : "new" })),
    factCount: facts[0]?.[5] ?? 0,
  };
}

interface Listener {
  heard: number;
  readonly hear: (changeNo: number) => void;
}

/** Who listens in this process, kitchen by kitchen. */
export class Listeners {
  readonly #reader: Reader;
  readonly #every: number;
  readonly #byKitchen = new Map<string, Set<Listener>>();
  #timer: ReturnType<typeof setTimeout> | null = null;
  #asking = false;
  /** Somebody began to listen while the question was under way. */
  #askAgain = false;
  #closed = false;

  constructor(reader: Reader, every = LISTEN_EVERY) {
    this.#reader = reader;
    this.#every = every;
  }

  /** Calls `hear` with the number of the kitchen's last change whenever there is one after `since`; until the function it returns is called. */
  listen(kitchenId: string, since: number, hear: (changeNo: number) => void): () => void {
    const listener: Listener = { heard: since, hear };
    const here = this.#byKitchen.get(kitchenId) ?? new Set();
    this.#byKitchen.set(kitchenId, here.add(listener));
    // Something may have been recorded between the page and the listening: ask now.
    this.#askIn(0);
    return () => {
      here.delete(listener);
      if (here.size === 0 && this.#byKitchen.get(kitchenId) === here) this.#byKitchen.delete(kitchenId);
      if (this.#byKitchen.size === 0 && this.#timer !== null) {
        clearTimeout(this.#timer);
        this.#timer = null;
      }
    };
  }

  /** A change was recorded by this very process: whoever listens need not wait for the next question. */
  recorded(kitchenId: string, changeNo: number): void {
    for (const listener of this.#byKitchen.get(kitchenId) ?? []) tell(listener, changeNo);
  }

  /** How many listen, in all kitchens. */
  get count(): number {
    return [...this.#byKitchen.values()].reduce((sum, here) => sum + here.size, 0);
  }

  close(): void {
    this.#closed = true;
    this.#byKitchen.clear();
    if (this.#timer !== null) clearTimeout(this.#timer);
  }

  #askIn(milliseconds: number): void {
    if (this.#closed) return;
    if (this.#asking) {
      this.#askAgain ||= milliseconds === 0;
      return;
    }
    if (this.#timer !== null) {
      if (milliseconds > 0) return;
      clearTimeout(this.#timer);
    }
    this.#timer = setTimeout(() => { void this.#ask(); }, milliseconds);
    this.#timer.unref();
  }

  async #ask(): Promise<void> {
    this.#timer = null;
    this.#asking = true;
    try {
      const rows = await this.#reader.$queryRaw<{ id: string; change_no: number }[]>`
        SELECT id, change_no FROM kitchen WHERE id = ANY (${[...this.#byKitchen.keys()]}::text[])`;
      for (const { id, change_no: changeNo } of rows) this.recorded(id, changeNo);
    } catch {
      // A database that does not answer just now is asked again; who needs it for a page is told there.
    }
    this.#asking = false;
    const again = this.#askAgain;
    this.#askAgain = false;
    if (this.#byKitchen.size > 0) this.#askIn(again ? 0 : this.#every);
  }
}

function tell(listener: Listener, changeNo: number): void {
  if (changeNo <= listener.heard) return;
  listener.heard = changeNo;
  listener.hear(changeNo);
}
