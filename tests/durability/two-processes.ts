/**
 * Two processes of the app behind one PostgreSQL, as they stand behind a load balancer: people save through either, now
 * opening a page at one and sending it to the other, while one process after the other is stopped or killed and started
 * again. What is asked of them: whoever was told "Recorded as change 12" finds it in the record as they sent it, on top
 * of exactly what they had seen; whoever was told that somebody was faster finds nothing of theirs; and both processes
 * show what a full recomputation from the database says, dish by dish.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { factKey, kitchenOf } from "@/lib/book";
import { type Cascade, costOf } from "@/lib/cascade";
import { moneyFigure } from "@/lib/measure";
import { makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { OWNER, openDemo } from "../http/arrive";
import { type Page, Unanswered, Visitor } from "../http/client";
import { type RunningApp, startApp } from "../running-app";
import { findChanges, recomputes } from "../store/whole-changes";
import { compiled } from "../store/whole-book";

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** A whole answer may take long on a machine that is starting another process at the same time. */
const PATIENCE = 120_000;

export class TwoProcesses {
  readonly #folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-two-"));
  readonly #apps: RunningApp[] = [];
  readonly #database: string;

  private constructor(database: string) {
    this.#database = database;
  }

  /** Starts both on an empty database and opens the demo kitchen in the first. */
  static async start(database: string): Promise<{ readonly two: TwoProcesses; readonly owner: Visitor }> {
    const two = new TwoProcesses(database);
    // One after the other: the first makes the tables.
    two.#apps.push(await two.#begin("0"));
    const owner = await openDemo(two.url(0), OWNER, { patience: PATIENCE });
    two.#apps.push(await two.#begin("1"));
    return { two, owner };
  }

  url(at: number): string {
    const app = this.#apps[at];
    if (app === undefined) throw new Error(`expected two processes, asked for number ${at}`);
    return app.url;
  }

  /** Ends one, by asking it to or outright, and starts it again at the same address. */
  async restart(at: number, how: "asked" | "killed"): Promise<void> {
    const app = this.#apps[at];
    if (app === undefined) throw new Error(`expected two processes, asked for number ${at}`);
    if (how === "killed") await app.kill();
    else {
      const status = await app.stop();
      if (status !== 0) throw new Error(`A process that was asked to stop ended with ${status}:\n${app.said()}`);
    }
    this.#apps[at] = await this.#begin(String(at), new URL(app.url).port);
  }

  async stop(): Promise<void> {
    for (const app of this.#apps) await app.kill();
    fs.rmSync(this.#folder, { recursive: true, force: true });
  }

  #begin(name: string, port?: string): Promise<RunningApp> {
    return startApp(path.join(this.#folder, name), { DATABASE_URL: this.#database, LOG: "json", ...(port === undefined ? {} : { PORT: port }) });
  }
}

/** One save, told apart from any other by its reason. */
export interface Save {
  readonly why: string;
  readonly item: string;
  readonly price: string;
  /** The revision of the price that its editor had before them. */
  readonly seen: number | null;
  readonly told: { readonly as: "recorded"; readonly changeNo: number } | { readonly as: "stale" } | { readonly as: "nothing" };
}

/** What the editors reprice: few things, so that they are in each other's way. */
const ITEMS = ["butter", "cream", "flour", "eggs", "ground-chuck", "beef-striploin"];

/** So many people saving through both processes until `until` says so. */
export async function editTogether(two: TwoProcesses, owner: Visitor, editors: number, until: () => boolean): Promise<readonly Save[]> {
  const saves: Save[] = [];
  const editor = async (n: number): Promise<void> => {
    // The same person at both: their session stands in the database, so either process knows them.
    const at = [0, 1].map((which) => new Visitor(two.url(which), { jar: owner.jar.copy(), patience: PATIENCE }));
    const either = (): Visitor => at[Math.random() < 0.5 ? 0 : 1] as Visitor;
    for (let save = 1; !until(); save += 1) {
      const item = ITEMS[Math.floor(Math.random() * ITEMS.length)] ?? "butter";
      const price = `${2 + Math.floor(Math.random() * 900) / 100}`;
      const why = `editor ${n + 1}, save ${save}`;
      let seen: number | null | undefined;
      try {
        const page = await either().open(`/items/${item}`);
        seen = basedOn(page);
        await pause(Math.random() * 300);
        const answer = await either().send(page, { price, why }, { button: /^Record this price/, says: "sure" });
        saves.push({ why, item, price, seen, told: told(answer) });
      } catch (error) {
        if (!(error instanceof Unanswered)) throw error;
        if (seen !== undefined) saves.push({ why, item, price, seen, told: { as: "nothing" } });
        await pause(200);
      }
    }
  };
  await Promise.all(Array.from({ length: editors }, (_, n) => editor(n)));
  return saves;
}

function told(answer: Page): Save["told"] {
  const changeNo = /Recorded as change ([\d,]+)\./.exec(answer.text)?.[1]?.replaceAll(",", "");
  if (changeNo !== undefined) return { as: "recorded", changeNo: Number(changeNo) };
  if (/somebody else was faster/.test(answer.text)) return { as: "stale" };
  throw new Error(`expected to be told whether it was recorded (${answer.steps.join(", ")}):\n${answer.text.slice(0, 3000)}`);
}

/** The revision of the price that the page's form was made on. */
function basedOn(page: Page): number | null {
  const sent = page.forms.flatMap(({ controls }) => controls).find(({ name, sends }) => name === "basedOn" && /"quote:/.test(sends[0] ?? ""))?.sends[0];
  const [revision] = Object.values(JSON.parse(sent ?? "{}") as Record<string, number | null>);
  if (revision === undefined) throw new Error(`expected ${page.path} (status ${page.status}) to have a price with its revision:\n${page.text.slice(0, 600)}`);
  return revision;
}

/** Every plate cost as a process's list of dishes shows it, by dish. */
export async function shownBy(url: string, owner: Visitor): Promise<ReadonlyMap<string, string>> {
  const page = await new Visitor(url, { jar: owner.jar.copy(), patience: PATIENCE }).open("/dishes");
  const links = page.body.matchAll(/<a [^>]*href="\/figure\/dish\/([^"?]+)"[^>]*>(.*?)<\/a>/g);
  return new Map([...links].map(([, id = "", words = ""]) => [decodeURIComponent(id), words.replace(/<span class="visually-hidden">.*?<\/span>/g, "").replace(/<[^>]*>/g, "").trim()]));
}

/** The same as a fresh reading of the database and a costing from nothing say. */
export function recomputed(cascade: Cascade): ReadonlyMap<string, string> {
  const kitchen = kitchenOf(cascade.book);
  return new Map([...cascade.book.shelves.dish.keys()].map((id) => {
    const cost = costOf(cascade, { kind: "dish", id });
    return [id, cost === null ? "no cost" : moneyFigure(cost.amount, kitchen)];
  }));
}

/** What is wrong with what stands in the database and with what the processes show of it, as sentences; none is right. */
export async function faultsOf(databaseUrl: string, two: TwoProcesses, owner: Visitor, saves: readonly Save[]): Promise<readonly string[]> {
  const faults: string[] = [];
  const database = await openDatabase({ url: databaseUrl });
  try {
    const { kitchens, faults: broken } = await findChanges(database);
    faults.push(...broken);
    const kitchenId = kitchens[0]?.kitchenId ?? "";
    faults.push(...await faultsOfSaves(database, kitchenId, saves));
    const store = makeStore(database);
    faults.push(...await recomputes(store, kitchenId));
    const live = await store.live(kitchenId);
    const right = recomputed(compiled(live.book));
    for (const at of [0, 1]) {
      const shown = await shownBy(two.url(at), owner);
      if (shown.size !== right.size) faults.push(`Process ${at} shows ${shown.size} dishes of ${right.size}.`);
      for (const [id, figure] of right) if (shown.get(id) !== figure) faults.push(`Process ${at} shows ${shown.get(id) ?? "nothing"} for ${id}, and it costs ${figure}.`);
    }
    faults.push(...await faultsOfRipples(database, kitchenId, live.today, live.changeNo));
    return faults;
  } finally {
    await database.close();
  }
}

interface Recorded {
  readonly why: string;
  readonly no: number;
  /** As a fact's key. */
  readonly item: string;
  readonly price: string;
  /** The revision of the same price before it. */
  readonly before: bigint | null;
}

async function faultsOfSaves(database: Database, kitchenId: string, saves: readonly Save[]): Promise<readonly string[]> {
  const faults: string[] = [];
  const rows = await database.prisma.$queryRaw<Recorded[]>`
    SELECT c.why, c.no, q.item, q.price_amount::text AS price,
      (SELECT max(b.id) FROM revision b WHERE b.kitchen_id = r.kitchen_id AND b.fact = r.fact AND b.id < r.id) AS before
    FROM change c JOIN revision r ON r.kitchen_id = c.kitchen_id AND r.change_no = c.no JOIN quote q ON q.kitchen_id = r.kitchen_id AND q.revision = r.id
    WHERE c.kitchen_id = ${kitchenId} AND c.why LIKE 'editor %'`;
  for (const { why, item, price, seen, told } of saves) {
    const found = rows.filter((row) => row.why === why);
    if (told.as === "stale" && found.length > 0) faults.push(`${why} was told that somebody was faster, and is recorded as change ${found[0]?.no}.`);
    if (found.length > 1) faults.push(`${why} is recorded ${found.length} times.`);
    const [row] = found;
    if (told.as === "recorded" && row?.no !== told.changeNo) faults.push(`${why} was told that it is change ${told.changeNo}, and is ${row === undefined ? "nowhere" : `change ${row.no}`}.`);
    if (row === undefined) continue;
    if (row.item !== factKey("item", item) || Number(row.price) !== Number(price)) faults.push(`${why} set ${item} to ${price}, and recorded is ${row.item} at ${row.price}.`);
    // An update would be lost if it were written over one that its editor had not seen.
    if (Number(row.before) !== seen) faults.push(`${why} was made on revision ${seen} of ${item}, and recorded on top of ${row.before}.`);
  }
  const known = new Set(saves.map(({ why }) => why));
  for (const { why, no } of rows) if (!known.has(why)) faults.push(`Change ${no} (“${why}”) was made by nobody.`);
  return faults;
}

/** So many of the recorded ripples are held against costings from nothing, before the change and after it. */
const RIPPLES = 25;

async function faultsOfRipples(database: Database, kitchenId: string, today: string, last: number): Promise<readonly string[]> {
  const faults: string[] = [];
  const store = makeStore(database);
  const costedAfter = async (changeNo: number): Promise<Cascade> => compiled(await store.bookAsOf(kitchenId, { on: today, afterChange: changeNo }));
  const step = Math.max(1, Math.floor((last - 1) / RIPPLES));
  for (let no = last; no > 1; no -= step) {
    const entry = await store.recordEntry(kitchenId, no);
    const [was, is] = [await costedAfter(no - 1), await costedAfter(no)];
    const moved = new Map(entry?.ripple.dishes.map((move) => [move.dishId, move]));
    for (const id of is.book.shelves.dish.keys()) {
      const [before, after] = [was, is].map((cascade) => costOf(cascade, { kind: "dish", id })?.amount.toFixed());
      const move = moved.get(id);
      if (move === undefined ? before !== after : move.before?.plateCost.amount.toFixed() !== before || move.after?.plateCost.amount.toFixed() !== after) {
        faults.push(`Change ${no} tells of ${factKey("dish", id)} ${move === undefined ? "nothing" : `${move.before?.plateCost.amount.toFixed()} → ${move.after?.plateCost.amount.toFixed()}`}, and it went ${before} → ${after}.`);
      }
    }
  }
  return faults;
}

/** One process after the other is ended, now asked and now killed, at random moments, so many times or until the time is up. */
export async function restartInTurns(two: TwoProcesses, { times, until, every }: { readonly times: number; readonly until: number; readonly every: number }): Promise<{ readonly asked: number; readonly killed: number }> {
  const done = { asked: 0, killed: 0 };
  const first = Math.random() < 0.5 ? 0 : 1;
  for (let turn = 0; turn < times || Date.now() < until; turn += 1) {
    await pause(every * (0.5 + Math.random()));
    const how = turn % 2 === 0 ? "killed" : "asked";
    await two.restart((first + turn) % 2, how);
    done[how] += 1;
  }
  return done;
}
