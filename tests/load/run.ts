/**
 * `npm run load`: how the app does on a busy day of a kitchen group. By itself it opens a group-size book in a fresh
 * folder (or in the empty database that DATABASE_URL names), starts the app on it as a user would, lets 50 people work
 * for a minute, each doing something four times a minute, and prints how long each thing took, beside what it
 * must not exceed, what went wrong (nothing should), and what the server's process held in memory. Whoever measures on
 * a machine that is busy with other things measures those too: how busy it was is printed with it.
 *
 *   npm run load -- --people 50 --seconds 60 --think 15
 *   npm run load -- --size house             a single restaurant's book
 *   npm run load -- --only "record a price"  one kind of action
 *   npm run load -- --url http://10.0.0.5:3000 --user chef --password "…"  an app that is running already; prices are changed there!
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { parseArgs } from "node:util";
import { SIZES, dice } from "../bench/generate";
import { OWNER, signIn } from "../http/arrive";
import { Visitor } from "../http/client";
import { type RunningApp, startApp } from "../running-app";
import { ACTIONS, readKnown, workADay } from "./day";
import { openKitchenOfSize } from "./kitchen-group";
import { type Taken, footprint, percentile } from "./measure";

/** 95 of 100 answers must be there after so many milliseconds. */
const TARGETS = { read: 150, save: 400 } as const;

const { values: asked } = parseArgs({
  options: {
    people: { type: "string", default: "50" }, seconds: { type: "string", default: "60" }, think: { type: "string", default: "15" },
    size: { type: "string", default: "group" }, only: { type: "string" }, url: { type: "string" },
    user: { type: "string", default: OWNER.username }, password: { type: "string", default: OWNER.password }, seed: { type: "string", default: "1" },
  },
});
const number = (name: "people" | "seconds" | "think" | "seed"): number => {
  const value = Number(asked[name]);
  if (!(value > 0)) throw new Error(`--${name} is "${asked[name]}", and should be a number above 0.`);
  return value;
};
const [people, seconds, think] = [number("people"), number("seconds"), number("think")];

const place = asked.url === undefined ? await ownPlace() : { url: asked.url, app: null, remove: () => undefined };
try {
  await measure(place.url, place.app);
} finally {
  const status = await place.app?.stop();
  if (status !== undefined && status !== 0) {
    console.log(`The app ended with ${status}:\n${place.app?.said().slice(-2000)}`);
    process.exitCode = 1;
  }
  place.remove();
}

async function ownPlace(): Promise<{ readonly url: string; readonly app: RunningApp; readonly remove: () => void }> {
  const size = SIZES.find(({ name }) => name === asked.size);
  if (size === undefined) throw new Error(`--size is "${asked.size}", and should be ${SIZES.map(({ name }) => name).join(" or ")}.`);
  const server = process.env["DATABASE_URL"]?.trim();
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-load-"));
  const remove = (): void => { fs.rmSync(folder, { recursive: true, force: true }); };
  try {
    console.log(`Opening a ${size.name}’s book (${size.items} items, ${size.recipes} recipes, ${size.dishes} dishes) ${server ? "on the server" : "in a fresh folder"}`);
    await openKitchenOfSize(server ? { url: server } : { folder }, size);
    const app = await startApp(folder, { DATABASE_URL: server ?? "", LOG: "json" });
    return { url: app.url, app, remove };
  } catch (error) {
    remove();
    throw error;
  }
}

async function measure(url: string, app: RunningApp | null): Promise<void> {
  // The first page reads the whole book, which takes as long as the machine lets it.
  const owner = await signIn(url, { username: asked.user, password: asked.password }, { patience: 300_000 });
  // Looking round also warms the app up: a server that has just been started is not what people meet on a busy day.
  const known = await readKnown(owner);
  const only = asked.only === undefined ? undefined : new Set(asked.only.split(",").map((name) => name.trim()));
  const roll = fraction(number("seed"));
  await workADay(owner, known, { roll, until: Date.now() + 5_000, think: 50, only });

  const rate = people / think;
  console.log(`${people} people for ${seconds} s, each with ${think} s to think: some ${rate.toFixed(1)} actions a second. Load of the machine ${os.loadavg()[0]?.toFixed(1)} on ${os.cpus().length} processors.`);
  const began = Date.now();
  const start = app && footprint(app.pid);
  const lag = monitorEventLoopDelay({ resolution: 5 });
  lag.enable();
  const days = Array.from({ length: people }, (_, n) => workADay(new Visitor(url, { jar: owner.jar.copy() }), known, { roll: fraction(number("seed") * 1000 + n), until: began + seconds * 1000, think: think * 1000, only }));
  const halfway = new Promise<ReturnType<typeof footprint>>((resolve) => { setTimeout(() => { resolve(app && footprint(app.pid)); }, seconds * 500); });
  const taken = (await Promise.all(days)).flat();
  lag.disable();
  const took = (Date.now() - began) / 1000;
  const end = app && footprint(app.pid);

  report(taken);
  console.log(`${taken.length} answers in ${took.toFixed(0)} s (${(taken.length / took).toFixed(1)} a second). Load of the machine now ${os.loadavg()[0]?.toFixed(1)}; this script itself was late by ${(lag.percentile(95) / 1e6).toFixed(0)} ms (p95).`);
  const half = await halfway;
  if (start && half && end) {
    console.log(`The server's memory: ${start.rss.toFixed(0)} MB at the start, ${half.rss.toFixed(0)} half-way, ${end.rss.toFixed(0)} at the end. It used ${(end.cpu - start.cpu).toFixed(1)} s of processor time: ${((end.cpu - start.cpu) * 1000 / taken.length).toFixed(0)} ms an answer.`);
  }
}

function report(taken: readonly Taken[]): void {
  const line = (name: string, figures: readonly (string | number)[]): void => { console.log(`  ${name.padEnd(22)}${figures.map((one) => String(one).padStart(9)).join("")}`); };
  line("", ["count", "p50 ms", "p95 ms", "p99 ms", "errors"]);
  const row = (name: string, rows: readonly Taken[]): number => {
    const times = rows.filter(({ error }) => error === null).map(({ ms }) => ms);
    line(name, [rows.length, ...[0.5, 0.95, 0.99].map((share) => times.length === 0 ? "" : Math.round(percentile(times, share))), rows.length - times.length]);
    return percentile(times, 0.95);
  };
  for (const { name } of ACTIONS) {
    const rows = taken.filter(({ action }) => action === name);
    if (rows.length > 0) row(name, rows);
  }
  const failures: string[] = [];
  for (const kind of ["read", "save"] as const) {
    const names = new Set<string>(ACTIONS.filter((action) => action.kind === kind).map(({ name }) => name));
    const rows = taken.filter(({ action }) => names.has(action));
    if (rows.length === 0) continue;
    const p95 = row(kind === "read" ? "all that is read" : "all that is saved", rows);
    if (!(p95 <= TARGETS[kind])) failures.push(`p95 of ${kind === "read" ? "reading" : "saving"} is ${Math.round(p95)} ms, at most ${TARGETS[kind]}`);
  }
  const errors = taken.flatMap(({ action, error }) => (error === null ? [] : [`${action}: ${error}`]));
  if (errors.length > 0) failures.push(`${errors.length} errors`);
  for (const error of [...new Set(errors)].slice(0, 10)) console.log(`  ! ${error}`);
  console.log(failures.length === 0 ? "Every target is met." : `Not met: ${failures.join("; ")}.`);
  if (failures.length > 0) process.exitCode = 1;
}

/** Numbers from 0 up to 1, from a seed. */
function fraction(seed: number): () => number {
  const roll = dice(seed);
  return () => roll(1_000_000) / 1_000_000;
}
