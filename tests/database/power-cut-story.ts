/**
 * A day of two kitchens on one disk, for the power to fail in: the first opening of an empty folder, the kitchens,
 * changes of every kind (alone, and in both kitchens at once), what a server does by itself meanwhile (checkpoints, a
 * new file of its log, a table written anew), closing, opening again. It is carried out by the real store on a watched
 * disk and yields everything that was done to the disk, with who was told what when.
 *
 * `examine` then opens what a cut has left, as the app would, and says everything that is wrong with it.
 */
import fs from "node:fs";
import path from "node:path";
import type { Change } from "@/lib/book";
import { type DatedChange, type LiveBook, type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { dish, item, menuPrice, quote, recipe, spec } from "../menu/small-books";
import { TODAY, commission, from, openSmall, standingClock } from "../store/test-kitchen";
import { bookText } from "../store/whole-book";
import { findChanges, recomputes } from "../store/whole-changes";
import { type Operation, RecordingDisk } from "./recording-disk";

export type SectionKind = "first opening" | "migrating" | "change" | "upkeep" | "closing" | "opening again";

/** A stretch of the story: operations from (included) to (not included). */
export interface Section {
  readonly kind: SectionKind;
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** By this operation somebody had been told that the kitchen's change stands. */
export interface Acknowledgement {
  readonly at: number;
  readonly kitchenId: string;
  readonly changeNo: number;
}

export interface Story {
  readonly before: readonly Operation[];
  readonly operations: readonly Operation[];
  readonly sections: readonly Section[];
  readonly acknowledged: readonly Acknowledgement[];
  /** Every row of a change as one print, and the live book after it as one text: by kitchen and number, `keyOf`. */
  readonly prints: ReadonlyMap<string, string>;
  readonly books: ReadonlyMap<string, string>;
}

export const keyOf = (kitchenId: string, changeNo: number): string => `${kitchenId} ${changeNo}`;

/** The data folder on the disk, which is not there at first. */
export const dataFolder = (disk: string): string => path.join(disk, "data");

/** Tells the story on `disk`, an empty folder, with so many changes. */
export async function tellStory(disk: string, changes: number): Promise<Story> {
  const watched = new RecordingDisk(disk);
  const { operations } = watched;
  const sections: Section[] = [];
  const acknowledged: Acknowledgement[] = [];
  const books = new Map<string, string>();
  const prints = new Map<string, string>();

  async function section<T>(kind: SectionKind, name: string, work: () => Promise<T>): Promise<T> {
    const from = operations.length;
    const done = await work();
    sections.push({ kind, name, from, to: operations.length });
    return done;
  }
  const told = (live: LiveBook): void => {
    acknowledged.push({ at: operations.length, kitchenId: live.kitchenId, changeNo: live.changeNo });
    books.set(keyOf(live.kitchenId, live.changeNo), bookText(live));
  };

  try {
    let database = await section("first opening", "first opening", () => openDatabase({ folder: dataFolder(disk) }));
    sections.splice(0, 1, ...atRename(sections[0], operations));
    let store = makeStore(database, standingClock());
    const kitchens: string[] = [];
    for (const name of ["the first kitchen", "the second kitchen"]) {
      await section("change", name, async () => {
        const id = await openSmall(store, { name });
        kitchens.push(id);
        acknowledged.push({ at: operations.length, kitchenId: id, changeNo: 1 });
        books.set(keyOf(id, 1), bookText(await store.live(id)));
      });
    }
    for (let n = 1; n <= changes; n += 1) {
      await section("change", `change ${n}`, async () => {
        // Mostly one kitchen, now and then both at once.
        const writing = n % 5 === 0 ? kitchens : [kitchens[n % 2] ?? ""];
        await Promise.all(writing.map(async (id) => { told(await record(store, id, n)); }));
      });
      const upkeep = upkeepAfter(n);
      if (upkeep !== null) await section("upkeep", `${upkeep} after change ${n}`, () => database.prisma.$executeRawUnsafe(upkeep));
      if (n === Math.floor(changes * 0.7)) {
        await section("closing", "closing", () => database.close());
        database = await section("opening again", "opening again", () => openDatabase({ folder: dataFolder(disk) }));
        store = makeStore(database, standingClock());
      }
    }
    const { kitchens: found, faults } = await findChanges(database);
    if (faults.length > 0) throw new Error(faults.join(" "));
    for (const kitchen of found) for (const [no, print] of kitchen.changes) prints.set(keyOf(kitchen.kitchenId, no), print);
    await section("closing", "closing at the end", () => database.close());
  } finally {
    watched.stop();
  }
  return { before: watched.before, operations, sections, acknowledged, prints, books };
}

/** The first opening in its two parts: the cluster, until it is renamed to what it is called, and the tables in it. */
function atRename(opening: Section | undefined, operations: readonly Operation[]): readonly Section[] {
  const named = operations.findIndex((operation) => operation.do === "rename" && operation.toName === "postgres");
  if (opening === undefined || named === -1) throw new Error("expected the new cluster to be given its name");
  return [{ ...opening, to: named + 1 }, { ...opening, kind: "migrating", name: "migrating", from: named + 1 }];
}

function upkeepAfter(n: number): string | null {
  if (n % 6 === 3) return "CHECKPOINT";
  if (n % 10 === 7) return "SELECT pg_switch_wal()";
  if (n % 16 === 9) return "VACUUM FULL cost_point";
  return null;
}

/** Records the n-th change of the story. */
async function record(store: Store, kitchenId: string, n: number): Promise<LiveBook> {
  const live = await store.live(kitchenId);
  const committed = await store.commit(kitchenId, commission(live, entriesOf(live, n)));
  if (!committed.ok) throw new Error(`expected change ${n} to be good: ${JSON.stringify(committed)}`);
  return committed.live;
}

function entriesOf(live: LiveBook, n: number): readonly DatedChange[] {
  const cents = `${(300 + ((n * 37) % 400)) / 100}`;
  switch (n % 8) {
    case 0: return from("2026-12-01", [quote("butter", `${cents} a lb`)]);
    case 1: return from(TODAY, [quote("striploin", `${cents} a lb`)]);
    case 2: return from(TODAY, [spec("steak-10oz", "strip", `${8 + (n % 5)} oz`), menuPrice("steak-frites", `${30 + (n % 9)}.00`)]);
    case 3: return from(TODAY, [dish(`special-${n}`, ["recipe herb-butter 1 oz", "item butter 2 oz"])]);
    case 4: {
      // A price that was wrong from its day on is corrected.
      const wrong = live.book.provenance.get("quote:quote-butter");
      return [{ change: quote("butter", `${cents} a lb`), validFrom: wrong?.validFrom ?? TODAY, replaces: wrong?.revision }];
    }
    case 5: {
      const special = [...live.book.shelves.dish.keys()].find((id) => id.startsWith("special-"));
      return from(TODAY, special === undefined ? [dish("special-first", ["item butter 1 oz"])] : [{ kind: "dish", id: special, after: null }]);
    }
    case 6: {
      // A price list: many facts in one change.
      const names = Array.from({ length: 40 }, (_, at) => `listed-${n}-${at}`);
      return from(TODAY, names.flatMap((name): Change[] => [item(name), quote(name, `${cents} a lb`)]));
    }
    default: return from(TODAY, [recipe("herb-butter", ["2 lb", "32 portion"], [`item butter ${20 + (n % 12)} oz`])]);
  }
}

/** What was told to people, and so must be found. */
export interface Promised {
  /** The last acknowledged change, by kitchen. */
  readonly told: ReadonlyMap<string, number>;
  readonly prints: ReadonlyMap<string, string>;
  readonly books: ReadonlyMap<string, string>;
}

export function promisedBy(story: Story, operation: number): Promised {
  const told = new Map<string, number>();
  for (const { at, kitchenId, changeNo } of story.acknowledged) if (at <= operation) told.set(kitchenId, Math.max(changeNo, told.get(kitchenId) ?? 0));
  return { told, prints: story.prints, books: story.books };
}

export interface Examined {
  /** Sentences; none when all is well. */
  readonly faults: readonly string[];
  /** What has been promised now: what was, what was found, and the change that was recorded to see that the work goes on. */
  readonly promised: Promised;
}

/** Opens `disk` as the app would after the cut and holds it against what was promised. `seen` is told as soon as what is found counts as promised too. */
export async function examine(disk: string, promised: Promised, seen?: (promised: Promised) => void): Promise<Examined> {
  asOfAnotherBoot(dataFolder(disk));
  const faults: string[] = [];
  const told = new Map(promised.told);
  const prints = new Map(promised.prints);
  const books = new Map(promised.books);
  const now = (): Promised => ({ told: new Map(told), prints, books });
  let database: Database | undefined;
  try {
    database = await openDatabase({ folder: dataFolder(disk) }, { onFatal: (error) => faults.push(`The database died: ${error.message}`) });
    const store = makeStore(database, standingClock());
    const found = await findChanges(database);
    faults.push(...found.faults);
    for (const [kitchenId, last] of told) {
      const kitchen = found.kitchens.find((one) => one.kitchenId === kitchenId);
      if ((kitchen?.last ?? 0) < last) faults.push(`Change ${last} of kitchen ${kitchenId} was acknowledged, and ${kitchen === undefined ? "there is no such kitchen" : `the last that is there is ${kitchen.last}`}.`);
    }
    for (const { kitchenId, changes, last } of found.kitchens) {
      for (const [no, print] of changes) if (prints.get(keyOf(kitchenId, no)) !== print) faults.push(`Change ${no} of kitchen ${kitchenId} is not whole: ${print}, recorded as ${prints.get(keyOf(kitchenId, no)) ?? "nothing"}.`);
      if (bookText(await store.live(kitchenId)) !== books.get(keyOf(kitchenId, last))) faults.push(`The live book of kitchen ${kitchenId} after change ${last} is not what was acknowledged.`);
      faults.push(...await recomputes(store, kitchenId));
      told.set(kitchenId, last);
    }
    seen?.(now());
    for (const { kitchenId, last } of faults.length === 0 ? found.kitchens : []) {
      const live = await record(store, kitchenId, 1);
      if (live.changeNo !== last + 1) faults.push(`After change ${last} came change ${live.changeNo}.`);
      books.set(keyOf(kitchenId, live.changeNo), bookText(live));
      told.set(kitchenId, live.changeNo);
      seen?.(now());
    }
    // What was recorded just now is whole when it is as it was found here.
    if (seen !== undefined) for (const kitchen of (await findChanges(database)).kitchens) for (const [no, print] of kitchen.changes) prints.set(keyOf(kitchen.kitchenId, no), print);
  } catch (error) {
    faults.push(`It could not be used: ${error instanceof Error ? error.message : String(error)}`);
  } finally {
    await database?.close().catch((error: unknown) => faults.push(`It could not be closed: ${String(error)}`));
  }
  return { faults, promised: now() };
}

/** A lock that was left names a process of this boot, our own; after a power cut it would be one of a boot before. */
export function asOfAnotherBoot(folder: string): void {
  if (!fs.existsSync(folder)) return;
  for (const name of fs.readdirSync(folder).filter((one) => one.startsWith("postgres.lock"))) {
    const text = fs.readFileSync(path.join(folder, name), "utf8");
    const older = text.replace(/"born":"[^"/]+\//, '"born":"00000000-0000-0000-0000-000000000000/');
    if (older !== text) fs.writeFileSync(path.join(folder, name), older);
  }
}
