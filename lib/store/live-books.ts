/**
 * The live books of this process: for each kitchen the newest book, compiled, in memory. Whoever asks first looks into
 * the database which change is the kitchen's last (one small query), and only what is missing is read: the revisions
 * of newer changes are laid over the book and the cascade is advanced by them. So any number of processes on one
 * server stay in step without telling each other anything. A live book is a value: who holds an older one keeps a
 * consistent view. When the day turns in the kitchen's time zone the book is read anew, since other revisions apply.
 */
import { FACT_KINDS, type Book, type Change, type FactOf, type Provenance, factKey, kitchenOf } from "@/lib/book";
import { advance, compile } from "@/lib/cascade";
import type { Checked } from "@/lib/measure";
import { type Clock, dayIn, latestToday } from "./clock";
import type { LiveBook } from "./contract";
import { selectInForce } from "./in-force";
import { changeNumber, readAhead, readBook } from "./read-book";
import { type Reader, changeFrom, readRevisions } from "./read-revisions";
import { refIn } from "./tables/shape";

/** Kitchens kept in memory at most; the one asked for longest ago makes room. */
const MOST_HELD = 50;

export class LiveBooks {
  readonly #clock: Clock;
  readonly #held = new Map<string, LiveBook>();
  /** Readings under way, so that many who ask at once read once. */
  readonly #underWay = new Map<string, Promise<LiveBook>>();

  constructor(clock: Clock) {
    this.#clock = clock;
  }

  /** The newest live book. Throws for an unknown kitchen. */
  async newest(reader: Reader, kitchenId: string): Promise<LiveBook> {
    const changeNo = await changeNumber(reader, kitchenId);
    const held = this.#held.get(kitchenId);
    if (held && held.changeNo >= changeNo && held.today === this.#todayOf(held)) return held;
    const task = `${kitchenId} ${changeNo} ${held ? this.#todayOf(held) : ""}`;
    let reading = this.#underWay.get(task);
    if (!reading) {
      reading = this.upTo(reader, kitchenId, changeNo).then((live) => this.hold(live)).finally(() => this.#underWay.delete(task));
      this.#underWay.set(task, reading);
    }
    return reading;
  }

  /**
   * The live book as of a change number, from what is held as far as that goes. Inside a transaction, with the
   * kitchen's lock and its client, this is the book a commit works on; it is not kept, for the transaction may fail.
   */
  async upTo(reader: Reader, kitchenId: string, changeNo: number): Promise<LiveBook> {
    const held = this.#held.get(kitchenId);
    if (!held || held.changeNo > changeNo || held.today !== this.#todayOf(held)) return this.#load(reader, kitchenId, changeNo);
    if (held.changeNo === changeNo) return held;
    return this.#catchUp(reader, held, changeNo);
  }

  /** Keeps a live book that stands recorded, unless a newer one is kept already. */
  hold(live: LiveBook): LiveBook {
    const held = this.#held.get(live.kitchenId);
    this.#held.delete(live.kitchenId);
    const kept = held && (held.changeNo > live.changeNo || (held.changeNo === live.changeNo && held.today > live.today)) ? held : live;
    this.#held.set(live.kitchenId, kept);
    for (const oldest of this.#held.keys()) {
      if (this.#held.size <= MOST_HELD) break;
      this.#held.delete(oldest);
    }
    return live;
  }

  /** Today in a kitchen with these settings. */
  today(timeZone: string): string {
    return dayIn(timeZone, this.#clock.now());
  }

  #todayOf(live: LiveBook): string {
    return this.today(kitchenOf(live.book).timeZone);
  }

  async #load(reader: Reader, kitchenId: string, changeNo: number): Promise<LiveBook> {
    // Which day it is depends on the time zone, and that on the settings of the day: begin with the latest day it can
    // be, and look again if the settings in force on the day so found have another time zone.
    const select = selectInForce({ kitchenId, changeNo, on: latestToday(this.#clock) });
    const [settings] = await readRevisions(reader, kitchenId, select, ["kitchen"]);
    if (settings?.kind !== "kitchen" || !settings.fact) throw new Error(`expected kitchen "${kitchenId}" to have settings`);
    const on = this.today((settings.fact as FactOf["kitchen"]).timeZone);
    let book = await readBook(reader, kitchenId, on, changeNo);
    const byBook = this.today(kitchenOf(book).timeZone);
    if (byBook !== on) book = await readBook(reader, kitchenId, byBook, changeNo);
    return {
      kitchenId, changeNo, today: book.on, book, cascade: compiled(compile(book), kitchenId),
      ahead: await readAhead(reader, kitchenId, book.on, changeNo),
    };
  }

  async #catchUp(reader: Reader, held: LiveBook, changeNo: number): Promise<LiveBook> {
    const { kitchenId, today, book } = held;
    const keys = await touchedFacts(reader, held, changeNo);
    const kinds = FACT_KINDS.filter((kind) => keys.some((key) => key.startsWith(`${kind}:`)));
    const stored = await readRevisions(reader, kitchenId, selectInForce({ kitchenId, changeNo, on: today, keys }), kinds);
    const inForce = new Set(stored.map(({ kind, id }) => factKey(kind, id)));
    const changes = [...stored.map(changeFrom), ...keys.filter((key) => !inForce.has(key)).map(absent)]
      .filter((change) => changesBook(book, change));
    const cascade = changes.length === 0 ? held.cascade : compiled(advance(held.cascade, changes), kitchenId).cascade;
    const live = {
      kitchenId, changeNo, today, book: cascade.book, cascade, ahead: await readAhead(reader, kitchenId, today, changeNo),
    };
    return this.#todayOf(live) === today ? live : this.#load(reader, kitchenId, changeNo);
  }
}

/** Keys of the facts that changes after the held book's name, also those that no revision is in force of. */
async function touchedFacts(reader: Reader, held: LiveBook, changeNo: number): Promise<string[]> {
  const rows = await reader.$queryRaw<{ fact: string }[]>`
    SELECT DISTINCT fact FROM revision
    WHERE kitchen_id = ${held.kitchenId} AND change_no > ${held.changeNo} AND change_no <= ${changeNo}`;
  return rows.map(({ fact }) => fact);
}

/**
 * The fact taken off the book: a correction has moved its only revision to a later day, so that none is in force.
 */
function absent(key: string): Change {
  const { kind, id } = refIn(key, FACT_KINDS);
  return { kind, id, after: null } as Change;
}

/** Whether a recorded change differs from what the book already holds: the same revision, or an absence, does not. */
export function changesBook(book: Book, change: Change): boolean {
  const held: Provenance | undefined = book.provenance.get(factKey(change.kind, change.id));
  return change.after === null ? held !== undefined : held?.revision !== change.provenance?.revision;
}

/** A recorded book compiles, because commits are checked; if one does not, the program is wrong, not the person. */
function compiled<T>(checked: Checked<T>, kitchenId: string): T {
  if (checked.ok) return checked.value;
  throw new Error(`expected the recorded book of kitchen "${kitchenId}" to compile: ${checked.problems.map((problem) => problem.sentence).join(" ")}`);
}
