/**
 * The app is killed (SIGKILL, its whole process group) while several people save at once over HTTP, again and again on
 * one data folder, at random moments, now and then while it is still starting. Whoever was told "Recorded as change 12"
 * must find change 12, as they sent it; whoever was told that nothing was saved must not find it; a change that nobody
 * was told about is there whole or not at all. Numbers have no gaps, and each start takes over the dead one's lock.
 *
 * 3 kills in a usual run; `LONG=1` makes 30 (some five minutes), KILLS=10 that many. The pages must have been built.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { costOf, type Cascade } from "@/lib/cascade";
import { makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { openDemo } from "../http/arrive";
import { Unanswered, Visitor } from "../http/client";
import { type RunningApp, launchApp, startApp } from "../running-app";
import { findChanges, recomputes } from "../store/whole-changes";

const kills = Number(process.env["KILLS"] ?? (process.env["LONG"] === "1" ? 30 : 3));
/** Every so many kills, one falls into the start. */
const inStartEvery = 5;
const EDITORS = 5;

/** What each editor reprices, and one thing that all of them do. */
const THEIRS = ["butter", "cream", "flour", "eggs", "ground-chuck"];
const CONTESTED = "beef-striploin";

/** One save, told apart from any other by its reason. */
interface Save {
  readonly why: string;
  readonly price: string;
  readonly told: { readonly as: "recorded"; readonly changeNo: number } | { readonly as: "not saved" } | { readonly as: "nothing" };
}

let place: string;
let folder: string;
let app: RunningApp | undefined;
beforeAll(() => {
  place = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-kill-"));
  folder = path.join(place, "data");
});
afterAll(async () => {
  await app?.kill();
  fs.rmSync(place, { recursive: true, force: true });
});

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

test(`whoever was told that a change is recorded finds it after a kill, whole (${kills} kills)`, async () => {
  app = await startApp(folder);
  const owner = await openDemo(app.url);
  const saves: Save[] = [];
  const prints = new Map<number, string>();

  for (let round = 1; round <= kills; round += 1) {
    const recording = Array.from({ length: EDITORS }, (_, n) => edit(new Visitor(app?.url ?? "", { jar: owner.jar.copy() }), n, round, saves));
    await untilTold(saves, saves.length + 1 + Math.floor(Math.random() * 25), Promise.all(recording));
    await pause(Math.random() * 200);
    await app.kill();
    await Promise.all(recording);

    if (round % inStartEvery === 0) {
      const started = await launchApp(folder);
      await pause(Math.random() * 2_500);
      await started.app.kill();
    }
    // Looked at in a copy, so that the app itself has to recover what was left, and to succeed to the lock.
    const copy = path.join(place, "copy");
    fs.cpSync(folder, copy, { recursive: true, filter: (source) => !fs.lstatSync(source).isSocket() });
    const restarted = await launchApp(folder);
    app = restarted.app;
    await Promise.all([restarted.ready, look(copy, saves, prints)]);
    fs.rmSync(copy, { recursive: true });
  }
  const told = saves.filter(({ told }) => told.as === "recorded").length;
  const refused = saves.filter(({ told }) => told.as === "not saved").length;
  console.log(`${kills} kills: ${told} changes acknowledged and found, ${refused} refused and absent, ${saves.length - told - refused} that nobody was told about.`);
  // Somebody was told something before each.
  expect(told).toBeGreaterThanOrEqual(kills);

  expect(await app.stop()).toBe(0);
  expect(fs.readdirSync(folder).filter((name) => name.startsWith("postgres"))).toEqual(["postgres"]);
  await look(folder, saves, prints);
}, 120_000 + kills * 60_000);

/** Waits until so many saves were answered, one of them recorded; on a slow machine no longer than ten seconds for the rest. */
async function untilTold(saves: readonly Save[], count: number, ended: Promise<unknown>): Promise<void> {
  const began = Date.now();
  const before = saves.length;
  const tooSoon = ended.then(() => { throw new Error("Nobody is answered any more, and nobody has killed the app."); });
  tooSoon.catch(() => undefined);
  for (;;) {
    const recorded = saves.slice(before).some(({ told }) => told.as === "recorded");
    if (recorded && (saves.length >= count || Date.now() - began > 10_000)) return;
    await Promise.race([pause(2), tooSoon]);
  }
}

/** Saves one price after another until nobody answers any more. */
async function edit(editor: Visitor, n: number, round: number, saves: Save[]): Promise<void> {
  for (let save = 1; ; save += 1) {
    const item = Math.random() < 0.3 ? CONTESTED : THEIRS[n] ?? CONTESTED;
    const price = (2 + Math.floor(Math.random() * 900) / 100).toFixed(2);
    const why = `round ${round}, editor ${n + 1}, save ${save}`;
    let asked = false;
    try {
      const page = await editor.open(`/items/${item}`);
      asked = true;
      const answer = await editor.send(page, { price, why }, { button: /^Record this price/, says: "sure" });
      const changeNo = /Recorded as change ([\d,]+)\./.exec(answer.text)?.[1]?.replaceAll(",", "");
      if (changeNo !== undefined) saves.push({ why, price, told: { as: "recorded", changeNo: Number(changeNo) } });
      else if (/[Nn]othing (was|is) saved/.test(answer.text)) saves.push({ why, price, told: { as: "not saved" } });
      else throw new Error(`expected to be told whether it was recorded (${answer.steps.join(", ")}):\n${answer.text}`);
    } catch (error) {
      if (!(error instanceof Unanswered)) throw error;
      if (asked) saves.push({ why, price, told: { as: "nothing" } });
      return;
    }
  }
}

/** Opens a data folder whose app is dead and holds it against what people were told. */
async function look(at: string, saves: readonly Save[], prints: Map<number, string>): Promise<void> {
  const database = await openDatabase({ folder: at });
  try {
    const { kitchens, faults } = await findChanges(database);
    expect(faults).toEqual([]);
    expect(kitchens).toHaveLength(1);
    const [kitchen] = kitchens;
    if (kitchen === undefined) throw new Error("expected the demo kitchen");
    // What was there once stays as it was, row for row.
    for (const [no, print] of prints) expect(kitchen.changes.get(no), `change ${no}`).toBe(print);
    for (const [no, print] of kitchen.changes) prints.set(no, print);

    const recorded = await readSaves(database, kitchen.kitchenId);
    for (const { why, price, told } of saves) {
      const found = recorded.filter((row) => row.why === why);
      if (told.as === "recorded") expect(found, why).toEqual([{ why, price, no: told.changeNo, revisions: 1 }]);
      else if (told.as === "not saved") expect(found, why).toEqual([]);
      else expect(found.length === 0 || (found.length === 1 && found[0]?.price === price && found[0].revisions === 1), why).toBe(true);
    }
    expect(recorded.map(({ no }) => no)).toEqual(Array.from({ length: kitchen.last - 1 }, (_, n) => n + 2));

    const store = makeStore(database);
    expect(await recomputes(store, kitchen.kitchenId)).toEqual([]);
    expect(await offHistory(database, (await store.live(kitchen.kitchenId)).cascade)).toEqual([]);
  } finally {
    await database.close();
  }
}

/** Every change after the opening with the price it recorded. */
function readSaves(database: Database, kitchenId: string): Promise<{ why: string; price: string; no: number; revisions: number }[]> {
  return database.prisma.$queryRaw`
    SELECT c.why, c.no, min(q.price_amount)::text AS price, count(r.id)::int AS revisions
    FROM change c LEFT JOIN revision r ON r.kitchen_id = c.kitchen_id AND r.change_no = c.no
      LEFT JOIN quote q ON q.kitchen_id = r.kitchen_id AND q.revision = r.id
    WHERE c.kitchen_id = ${kitchenId} AND c.no > 1 GROUP BY c.why, c.no ORDER BY c.no`;
}

/** Costs whose last recorded point is not what they are: a change without all of its points would leave some. */
async function offHistory(database: Database, cascade: Cascade): Promise<string[]> {
  const points = await database.prisma.$queryRaw<{ node_kind: "item" | "cut" | "spec" | "recipe" | "dish"; node_id: string; amount: string | null }[]>`
    SELECT DISTINCT ON (node_kind, node_id) node_kind, node_id, amount::text FROM cost_point
    WHERE kitchen_id = ${cascade.book.kitchenId} ORDER BY node_kind, node_id, change_no DESC`;
  return points.flatMap(({ node_kind: kind, node_id: id, amount }) => {
    const cost = costOf(cascade, { kind, id });
    return cost?.amount.eq(amount ?? Number.NaN) === true ? [] : [`${kind} ${id} costs ${cost?.amount.toFixed() ?? "nothing"}, its last point ${amount ?? "nothing"}`];
  });
}
