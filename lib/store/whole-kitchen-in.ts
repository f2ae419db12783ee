/**
 * A kitchen opened from a file (lib/exchange/whole/kitchen-file.ts): its record replayed change by change, each with its own
 * moment, names and reason, through the schemas that forms pass and the checks and the costing that a commit passes, on the
 * day it was in that kitchen then. So the ripple that every change was recorded with comes about again, and what a newer
 * rule would refuse is named with its place instead of being half taken over. All of it is worked out before anything is
 * written; then it is written in one transaction, or not at all.
 */
import { randomBytes } from "node:crypto";
import { type Change, type FactOf, MOST_MOVES, NAME_LIMIT, emptyBook, factKey, habitsOf, kitchenOf, readMoves, withChanges } from "@/lib/book";
import { readLayout, readOrderPlan } from "@/lib/buying";
import { compile } from "@/lib/cascade";
import { type FileChange, type FileRevision, KITCHEN_IN_FILE, type KitchenFile, readTold } from "@/lib/exchange";
import { type Checked, type Habits, type Problem, bad, good } from "@/lib/measure";
import type { Prisma } from "@/prisma/generated/client";
import { checkCorrections, checkEntries } from "./check-commission";
import { type Clock, dayIn } from "./clock";
import { workOut } from "./commit";
import type { DatedChange, Fact, LiveBook, WithinOpening } from "./contract";
import type { Database, Transaction } from "./database";
import { Plan } from "./plan";
import type { RevisionHead } from "./read-revisions";
import { countOn, writeChangeRows } from "./write-change";
import { GatheredRows, unstorableText } from "./write-rows";

/** Milliseconds: years of ripples are a million rows. */
const LONGEST_WRITING = 10 * 60_000;
const A_DAY = 24 * 3_600_000;
/** Changes worked out before others get their turn. */
const AT_ONCE = 20;
/** Characters of what a room keeps as it likes. */
const LARGEST_BODY = 1_000_000;
const EXACT: Habits = { locale: "en-US", measures: "us", currency: "USD" };

export interface OpenedFromFile {
  readonly id: string;
  readonly name: string;
  readonly changes: number;
}

export async function openFromFile(database: Database, clock: Clock, file: KitchenFile, within?: WithinOpening): Promise<Checked<OpenedFromFile>> {
  const id = `kitchen-${randomBytes(15).toString("base64url")}`;
  const replay = new Replay(id, clock);
  try {
    return await openBy(replay, database, clock, file, within);
  } finally {
    replay.rows.remove();
  }
}

async function openBy(replay: Replay, database: Database, clock: Clock, file: KitchenFile, within: WithinOpening | undefined): Promise<Checked<OpenedFromFile>> {
  const { id } = replay;
  for (const [at, change] of file.changes.entries()) {
    const problems = await replay.next(change, `changes.${at}`);
    if (problems.length > 0) return { ok: false, problems };
    if (at % AT_ONCE === AT_ONCE - 1) await new Promise(setImmediate);
  }
  const beside = checkBeside(file, replay);
  if (!beside.ok) return beside;
  const { live } = replay;
  const name = kitchenOf(live.book).name;
  const now = new Date(clock.now());
  await database.transaction(async (tx) => {
    await tx.$executeRaw`INSERT INTO kitchen (id, change_no, revision_no, created_at) VALUES (${id}, 0, 0, ${now.toISOString()}::timestamptz)`;
    await replay.rows.write(tx);
    await countOn(tx, id, live.changeNo, replay.lastRevision);
    await beside.value(tx, id);
    await within?.(tx, id);
  }, { timeout: LONGEST_WRITING });
  return good({ id, name, changes: live.changeNo });
}

class Replay {
  readonly rows = new GatheredRows();
  lastRevision = 0;
  readonly id: string;
  readonly #clock: Clock;
  readonly #byFact = new Map<string, RevisionHead[]>();
  readonly #facts = new Map<number, Fact | null>();
  #live: LiveBook | null = null;
  #lastAt = "";

  constructor(id: string, clock: Clock) {
    this.id = id;
    this.#clock = clock;
  }

  get live(): LiveBook {
    if (this.#live === null) throw new Error("expected a change to have been replayed");
    return this.#live;
  }

  knows(key: string): boolean {
    return this.#byFact.has(key);
  }

  /** Works out the next change; what is wrong with it, [] when nothing is. */
  async next(change: FileChange, path: string): Promise<readonly Problem[]> {
    const told = (problems: readonly Problem[]): readonly Problem[] => problems.map((problem) => ({
      ...problem, path: placed(path, problem.path), sentence: `Change ${change.no}: ${problem.sentence}`,
    }));
    const wrong = this.#wrongHead(change);
    if (wrong.length > 0) return told(wrong);
    const settings = this.#live === null ? this.#firstSettings(change) : good(kitchenOf(this.#live.book));
    if (!settings.ok) return told(settings.problems);
    const entries = this.#readEntries(change.revisions, habitsOf(settings.value));
    if (!entries.ok) return told(entries.problems);
    const who = { name: change.by };
    const unfit = checkEntries({ entries: entries.value, who, why: change.why });
    if (unfit.length > 0) return told(unfit);
    const before = this.#onTheDay(settings.value, change.at);
    const byFact = new Map(entries.value.flatMap(({ change: { kind, id } }) => {
      const key = factKey(kind, id);
      const heads = this.#byFact.get(key);
      return heads === undefined ? [] : [[key, heads] as const];
    }));
    const corrections = checkCorrections(entries.value, byFact);
    if (corrections.length > 0) return told(corrections);
    const worked = await workOut(before, byFact, { entries: entries.value, who, why: change.why, at: change.at, lastRevision: this.lastRevision }, {
      facts: (revisions) => Promise.resolve(new Map(revisions.map((revision) => [revision, this.#facts.get(revision) ?? null]))),
      known: (keys) => Promise.resolve(new Set(keys.filter((key) => this.#byFact.has(key)))),
    });
    if (!worked.ok) return told(worked.problems);
    await writeChangeRows(this.rows, worked.value.change);
    for (const { revision, kind, id, name, validFrom, replaces, after } of worked.value.change.revisions) {
      const key = factKey(kind, id);
      const head: RevisionHead = { revision, kind, id, name, validFrom, changeNo: change.no, replaces, withdrawn: after === null, recordedAt: change.at, by: change.by.trim(), why: change.why };
      const heads = this.#byFact.get(key);
      if (heads) heads.push(head);
      else this.#byFact.set(key, [head]);
      this.#facts.set(revision, after);
    }
    this.#live = worked.value.recorded.live;
    this.lastRevision += change.revisions.length;
    this.#lastAt = change.at;
    return [];
  }

  #wrongHead({ no, at, revisions }: FileChange): readonly Problem[] {
    const awaited = (this.#live?.changeNo ?? 0) + 1;
    if (no !== awaited) return bad("no", "out-of-order", `changes are numbered one after the other; here ${awaited} is awaited, and this one says ${no}.`).problems;
    const moment = Date.parse(at);
    if (Number.isNaN(moment) || new Date(moment).toISOString() !== at || at < "1900") return bad("at", "no-moment", `“${at}” is no moment.`).problems;
    if (at < this.#lastAt) return bad("at", "out-of-order", `it says ${at}, which is before the change before it.`).problems;
    if (moment > this.#clock.now() + A_DAY) return bad("at", "not-yet", `it says ${at}, which has not come yet.`).problems;
    const off = revisions.findIndex(({ revision }, index) => revision !== this.lastRevision + index + 1);
    if (off >= 0) return bad(`revisions.${off}.revision`, "out-of-order", `revisions are numbered one after the other; here ${this.lastRevision + off + 1} is awaited.`).problems;
    return [];
  }

  /** The settings that the kitchen begins with, which say in which currency the rest is. */
  #firstSettings({ revisions }: FileChange): Checked<FactOf["kitchen"]> {
    const at = revisions.findIndex(({ kind }) => kind === "kitchen");
    const first = revisions[at];
    if (first === undefined) return bad("revisions", "no-settings", "the first change has to hold the kitchen’s own settings, and does not.");
    const read = readTold("kitchen", first.fact, EXACT);
    return read.ok ? good({ ...read.value, id: this.id }) : { ok: false, problems: read.problems.map((problem) => ({ ...problem, path: placed(`revisions.${at}.fact`, problem.path) })) };
  }

  #readEntries(revisions: readonly FileRevision[], habits: Habits): Checked<readonly DatedChange[]> {
    const problems: Problem[] = [];
    const entries = revisions.flatMap((revision, at): readonly DatedChange[] => {
      const read = this.#readFact(revision, habits);
      if (!read.ok) {
        problems.push(...read.problems.map((problem) => ({ ...problem, path: placed(`revisions.${at}`, problem.path) })));
        return [];
      }
      return [{ change: read.value, validFrom: revision.validFrom, ...(revision.replaces === null ? {} : { replaces: revision.replaces }) }];
    });
    return problems.length > 0 ? { ok: false, problems: problems.slice(0, 20) } : good(entries);
  }

  #readFact({ kind, id, fact }: FileRevision, habits: Habits): Checked<Change> {
    if (kind === "kitchen" && id !== KITCHEN_IN_FILE) return bad("id", "another-kitchen", `the kitchen’s own settings have the id “${KITCHEN_IN_FILE}” in a file.`);
    const own = kind === "kitchen" ? this.id : id;
    if (id === "" || id.length > 120) return bad("id", "no-id", "an id has 1 to 120 characters.");
    if (fact === null) return good({ kind, id: own, after: null } as Change);
    const read = readTold(kind, fact, habits);
    if (!read.ok) return { ok: false, problems: read.problems.map((problem) => ({ ...problem, path: placed("fact", problem.path) })) };
    if (read.value.id !== id) return bad("fact.id", "other-id", "the fact has another id than its revision.");
    return good({ kind, id: own, after: { ...read.value, id: own } } as Change);
  }

  /** The book as it stood on the day of that moment: what had been recorded ahead applies when its day has come. */
  #onTheDay(settings: FactOf["kitchen"], at: string): LiveBook {
    const today = dayIn(settings.timeZone, Date.parse(at));
    const live = this.#live;
    if (live === null) {
      const empty = compile(emptyBook(settings, today));
      if (!empty.ok) throw new Error("expected an empty book to compile");
      return { kitchenId: this.id, changeNo: 0, today, book: empty.value.book, cascade: empty.value, ahead: [] };
    }
    if (today === live.today) return live;
    // The kitchen may have moved west: a day is not lived twice, and what applied goes on applying.
    const on = today > live.today ? today : live.today;
    const book = withChanges({ ...live.book, on }, new Plan(live, [], new Map()).changesOn(on));
    const compiled = compile(book);
    if (!compiled.ok) throw new Error(`expected the book to compile on ${on}: ${compiled.problems.map(({ sentence }) => sentence).join(" ")}`);
    return { ...live, today: on, book: compiled.value.book, cascade: compiled.value, ahead: live.ahead.filter(({ validFrom }) => validFrom > on) };
  }
}

function placed(path: string, within: string): string {
  const inner = within.replace(/^entries\./, "revisions.");
  return inner === "" ? path : `${path}.${inner}`;
}

type WriteBeside = (tx: Transaction, kitchenId: string) => Promise<void>;

/** What stands beside the record: try-outs, how dealers write their lists, what is to be ordered. */
function checkBeside({ tryouts, layouts, orderPlans }: KitchenFile, replay: Replay): Checked<WriteBeside> {
  const problems: Problem[] = [];
  const say = (path: string, code: string, sentence: string): void => { problems.push({ path, code, sentence }); };
  const once = (list: string, ids: readonly string[]): void => { ids.forEach((id, at) => { if (ids.indexOf(id) < at) say(`${list}.${at}`, "twice", "This one is in the file twice."); }); };
  once("tryouts", tryouts.map(({ id }) => id));
  once("layouts", layouts.map(({ dealerId }) => dealerId));
  once("orderPlans", orderPlans.map(({ id }) => id));
  const moves = tryouts.map((tryout, at) => {
    const read = readMoves(tryout.moves, EXACT);
    if (read.lost > 0 || tryout.moves.length > MOST_MOVES) say(`tryouts.${at}.moves`, "no-moves", "These are no moves that can be read.");
    if (tryout.madeChange !== null && tryout.madeChange > replay.live.changeNo) say(`tryouts.${at}.madeChange`, "no-such-change", "There is no such change in the file.");
    return read.moves;
  });
  layouts.forEach(({ layout }, at) => { if (readLayout(layout) === null) say(`layouts.${at}.layout`, "no-layout", "This does not say how a dealer’s list is laid out."); });
  orderPlans.forEach(({ body }, at) => { if (readOrderPlan(body).lost > 0) say(`orderPlans.${at}.body`, "no-plan", "Something in this order cannot be read."); });
  layouts.forEach(({ dealerId }, at) => { if (!replay.knows(`dealer:${dealerId}`)) say(`layouts.${at}.dealerId`, "not-in-the-book", "There is no such dealer in the file."); });
  for (const [list, all] of [["tryouts", tryouts], ["layouts", layouts], ["orderPlans", orderPlans]] as const) all.forEach((one, at) => {
    const moments = Object.entries(one).flatMap(([name, value]) => (/At$/.test(name) && typeof value === "string" ? [value] : []));
    if (moments.some((moment) => Number.isNaN(Date.parse(moment)))) say(`${list}.${at}`, "no-moment", "One of its moments is none.");
    if ("name" in one && (one.name === "" || one.name.length > NAME_LIMIT)) say(`${list}.${at}.name`, "no-name", `A name has 1 to ${NAME_LIMIT} characters.`);
    if (JSON.stringify(one).length > LARGEST_BODY || unstorableText(one) !== null) say(`${list}.${at}`, "unreadable", "This is too long, or holds a character that cannot be kept.");
  });
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, 20) };
  const json = (value: unknown): Prisma.InputJsonValue => (value ?? {}) as Prisma.InputJsonValue;
  return good(async (tx, kitchenId) => {
    if (tryouts.length > 0) await tx.tryout.createMany({ data: tryouts.map(({ dropped, moves: _, ...one }, at) => ({ kitchenId, ...one, moves: json(moves[at]), droppedAt: dropped?.at ?? null, droppedBy: dropped?.by ?? null })) });
    if (layouts.length > 0) await tx.dealerLayout.createMany({ data: layouts.map(({ dealerId, layout, ...one }) => ({ kitchenId, dealer: `dealer:${dealerId}`, layout: json(layout), ...one })) });
    if (orderPlans.length > 0) await tx.orderPlan.createMany({ data: orderPlans.map(({ dropped, body, forDay, ...one }) => ({ kitchenId, ...one, forDay: forDay === null ? null : new Date(`${forDay}T00:00:00Z`), body: json(body), droppedAt: dropped?.at ?? null, droppedBy: dropped?.by ?? null })) });
  });
}

