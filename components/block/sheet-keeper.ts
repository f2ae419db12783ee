/**
 * Keeps a sheet at the block: every entry in this browser the moment it is typed, and in the kitchen's book as soon as it can
 * be reached. What others type arrives the same way. Nothing waits for the connection; a reload, an empty battery or
 * another device finds what was kept. Entries are never changed, so sending them twice, or from two devices, is harmless.
 */
import { type BlockBody, type BlockEntry } from "@/lib/book";
import type { SentEntry, SheetsAnswer } from "@/lib/store";

export interface Kept {
  /** Everything known, the book's and one's own. */
  readonly entries: readonly (BlockEntry & { readonly by?: string })[];
  /** How many of one's own the book does not have yet. */
  readonly waiting: number;
  readonly connection: "there" | "away" | "signed out";
  /** False where the browser would not keep anything. */
  readonly keptHere: boolean;
  readonly recordedChange: number | null;
  readonly putAway: boolean;
  /** Why the book would not take what was sent; null otherwise. */
  readonly refused: string | null;
}

interface Stored {
  readonly known: readonly SentEntry[];
  readonly waiting: readonly BlockEntry[];
  readonly last: number;
}

export interface KeeperOptions {
  readonly sheetId: string;
  /** Where entries are sent, and what is new is asked for. */
  readonly url: string;
  readonly start: SheetsAnswer;
  readonly storage: Pick<Storage, "getItem" | "setItem"> | null;
  readonly send: (url: string, body: string) => Promise<{ readonly status: number; json(): Promise<unknown> }>;
  readonly now: () => number;
  readonly randomId: () => string;
}

/** How often what others typed is asked for, and how long the waits grow while nothing answers; milliseconds. */
const ASK_EVERY = 2_000;
const LONGEST_WAIT = 15_000;

export class SheetKeeper {
  readonly #options: KeeperOptions;
  readonly #listeners = new Set<() => void>();
  #known: readonly SentEntry[];
  #waiting: readonly BlockEntry[] = [];
  #last: number;
  #kept: Kept;
  #busy = false;
  #timer: ReturnType<typeof setTimeout> | null = null;
  #failures = 0;
  #stopped = true;
  #latest = 0;

  constructor(options: KeeperOptions) {
    this.#options = options;
    const { entries, last, recordedChange, putAway } = options.start;
    this.#known = entries;
    this.#last = last;
    this.#kept = { entries, waiting: 0, connection: "there", keptHere: true, recordedChange, putAway, refused: null };
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly kept = (): Kept => this.#kept;

  /** Takes up what this browser kept, and begins to send and ask. */
  begin(): void {
    this.#stopped = false;
    this.takeUp();
    void this.sync();
  }

  stop(): void {
    this.#stopped = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
  }

  /** What this browser kept of the sheet, from an earlier visit or from another window of it. */
  takeUp(): void {
    const stored = this.#read();
    if (stored === null) return;
    this.#merge(stored.known);
    const have = new Set([...this.#known, ...this.#waiting].map(({ id }) => id));
    this.#waiting = [...this.#waiting, ...stored.waiting.filter(({ id }) => !have.has(id))];
    this.#tell({});
  }

  /** Adds an entry. It is kept in this browser before this returns. */
  add(...bodies: readonly BlockBody[]): readonly string[] {
    const made = bodies.map((body): BlockEntry => {
      // A clock that is set back must not put a new entry before an old one.
      this.#latest = Math.max(this.#options.now(), this.#latest + 1, ...(this.#latest === 0 ? [...this.#known, ...this.#waiting].map(({ at }) => Date.parse(at) + 1) : []));
      return { id: this.#options.randomId(), at: new Date(this.#latest).toISOString(), body };
    });
    this.#waiting = [...this.#waiting, ...made];
    this.#save();
    this.#tell({ refused: null });
    void this.sync();
    return made.map(({ id }) => id);
  }

  /** Sends what waits and takes what is new; again later, sooner where somebody is likely to be typing. */
  async sync(): Promise<void> {
    if (this.#busy || this.#stopped) return;
    this.#busy = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
    const sending = this.#waiting.slice(0, 200);
    try {
      const answer = await this.#options.send(this.#options.url, JSON.stringify({ since: this.#last, entries: sending }));
      this.#failures = 0;
      if (answer.status === 401 || answer.status === 403) this.#tell({ connection: "signed out" });
      else if (answer.status === 409 || answer.status === 400) this.#tell({ connection: "there", refused: sentenceOf(await answer.json()) });
      else if (answer.status !== 200) throw new Error(`answered ${answer.status}`);
      else this.#take((await answer.json()) as SheetsAnswer);
    } catch {
      this.#failures += 1;
      this.#tell({ connection: "away" });
    } finally {
      this.#busy = false;
      const more = this.#failures === 0 && this.#kept.connection === "there" && this.#kept.refused === null && this.#waiting.length > 0;
      const wait = more ? 0 : Math.min(LONGEST_WAIT, ASK_EVERY * 2 ** Math.min(this.#failures, 4));
      if (!this.#stopped) this.#timer = setTimeout(() => void this.sync(), wait);
    }
  }

  #take(answer: SheetsAnswer): void {
    this.#merge(answer.entries);
    this.#last = Math.max(this.#last, answer.last);
    this.#save();
    this.#tell({ connection: "there", recordedChange: answer.recordedChange, putAway: answer.putAway, refused: null });
  }

  #merge(sent: readonly SentEntry[]): void {
    if (sent.length === 0) return;
    this.#known = [...new Map([...this.#known, ...sent].map((entry) => [entry.id, entry])).values()];
    const known = new Set(this.#known.map(({ id }) => id));
    this.#waiting = this.#waiting.filter(({ id }) => !known.has(id));
  }

  #tell(news: Partial<Kept>): void {
    const entries = [...this.#known, ...this.#waiting];
    const same = entries.length === this.#kept.entries.length && entries.every((entry, index) => entry === this.#kept.entries[index]);
    const next: Kept = { ...this.#kept, ...news, entries: same ? this.#kept.entries : entries, waiting: this.#waiting.length };
    if (same && (Object.keys(next) as (keyof Kept)[]).every((name) => next[name] === this.#kept[name])) return;
    this.#kept = next;
    for (const listener of this.#listeners) listener();
  }

  get #storageKey(): string {
    return `trimledger block ${this.#options.sheetId}`;
  }

  #read(): Stored | null {
    try {
      const text = this.#options.storage?.getItem(this.#storageKey) ?? null;
      return text === null ? null : (JSON.parse(text) as Stored);
    } catch {
      return null;
    }
  }

  #save(): void {
    try {
      // Another window of this browser may have kept something meanwhile: it is kept along.
      const other = this.#read()?.waiting ?? [];
      const known = new Set([...this.#known, ...this.#waiting].map(({ id }) => id));
      this.#waiting = [...this.#waiting, ...other.filter(({ id }) => !known.has(id))];
      const stored: Stored = { known: this.#known, waiting: this.#waiting, last: this.#last };
      if (this.#options.storage === null) throw new Error("expected somewhere to keep it");
      this.#options.storage.setItem(this.#storageKey, JSON.stringify(stored));
      if (!this.#kept.keptHere) this.#tell({ keptHere: true });
    } catch {
      this.#tell({ keptHere: false });
    }
  }
}

function sentenceOf(answer: unknown): string {
  const sentence: unknown = typeof answer === "object" && answer !== null && "sentence" in answer ? answer.sentence : null;
  return typeof sentence === "string" ? sentence : "The kitchen’s book would not take what was typed. It is still on this device.";
}
