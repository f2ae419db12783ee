/**
 * `node --import tsx tests/bench/backup.ts`: what a backup of a restaurant group's book takes from an app that is
 * running on the embedded database, and how long commits and reads of the live book wait meanwhile.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { setTimeout } from "node:timers/promises";
import { FACT_KINDS, type Change, type Quote, kitchenOf } from "@/lib/book";
import { exact } from "@/lib/measure";
import { basedOn, makeStore } from "@/lib/store";
import { backUp, restore } from "@/lib/store/backup";
import { answerBackups } from "@/lib/store/backup/socket";
import { openDatabase } from "@/lib/store/database";
import { SIZES, generateBook } from "./generate";

const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-bench-"));
const seconds = (since: number): string => `${((performance.now() - since) / 1000).toFixed(1)} s`;
const size = SIZES.find(({ name }) => name === (process.argv[2] ?? "group"));
if (size === undefined) throw new Error("expected house, group or chain");
const app = await openDatabase({ folder: path.join(folder, "data") });
await answerBackups(app);
const store = makeStore(app);
const who = { name: "Chef" };

/** Every price by the pound: by the pack some come out so low that trim would be worth more than the meat. */
const byTheLb = (after: object): object => ("itemId" in after && "pack" in after ? { ...after, per: "lb" } : after);

let start = performance.now();
const book = generateBook(size);
const entries = FACT_KINDS.filter((kind) => kind !== "kitchen").flatMap((kind) =>
  [...book.shelves[kind].values()].map((after) => ({ change: { kind, id: (after as { id: string }).id, after: byTheLb(after) } as Change, validFrom: "2026-11-01" })));
const kitchen = await store.createKitchen(kitchenOf(book), who, entries, "opening");
console.log(`${size.name}: ${entries.length} facts recorded in ${seconds(start)}`);

let price = 100;
async function reprice(): Promise<void> {
  const live = await store.live(kitchen);
  const quote = live.book.shelves.quote.get("q400") as Quote;
  const change: Change = { kind: "quote", id: quote.id, after: { ...quote, price: { amount: exact(`${price += 1}`) } } };
  const done = await store.commit(kitchen, { entries: [{ change, validFrom: live.today }], basedOn: basedOn(live, [change]), who, why: "" });
  if (!done.ok) throw new Error(JSON.stringify(done));
}

/** How long each of these takes, one after another with a pause between, until `going` says no. */
async function waits(work: () => Promise<unknown>, going: () => boolean): Promise<string> {
  const times: number[] = [];
  while (going()) {
    const asked = performance.now();
    await work();
    times.push(performance.now() - asked);
    await setTimeout(10);
  }
  times.sort((a, b) => a - b);
  const at = (share: number): string => `${(times[Math.floor((times.length - 1) * share)] ?? 0).toFixed(0)} ms`;
  return `${times.length} times, median ${at(0.5)}, 95 % ${at(0.95)}, longest ${at(1)}`;
}

async function meanwhile(label: string, work: () => Promise<unknown>): Promise<void> {
  let going = true;
  const people = [waits(reprice, () => going), waits(() => store.live(kitchen), () => going)];
  const began = performance.now();
  await work();
  const took = seconds(began);
  going = false;
  const [commits, reads] = await Promise.all(people);
  console.log(`${label} (${took})\n  commits: ${commits}\n  reads of the live book: ${reads}`);
}

await meanwhile("nothing else going on", () => setTimeout(5_000));
const file = path.join(folder, "group.backup");
// The file is written by this same process, which a command of its own would do elsewhere: the waits are an upper bound.
await meanwhile("during a backup", () => backUp({ folder: path.join(folder, "data") }, file, { over: false }));
console.log(`the file: ${(fs.statSync(file).size / 2 ** 20).toFixed(1)} MB; this process ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MB`);
await app.close();
start = performance.now();
const { closing } = await restore({ folder: path.join(folder, "restored") }, file);
console.log(`restored ${closing.rows} rows in ${seconds(start)}`);
fs.rmSync(folder, { recursive: true, force: true });
process.exit(0);
