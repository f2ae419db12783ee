/**
 * The built app under requests that no page of ours sends: it never fails (5xx, or a failure told inside a page), never
 * lets anybody wait, never saves half a change. Somebody who is not shot at watches the record all the while: it grows by
 * what was answered with "Recorded as change …", or with the way to that change in the record, and by nothing else. At the end the database itself is counted.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ROLES, type Role } from "@/lib/access";
import { makeStore } from "@/lib/store";
import { openDatabase } from "@/lib/store/database";
import { openDemo, signIn } from "../http/arrive";
import { Visitor } from "../http/client";
import type { PageForm } from "../http/page";
import { type RunningApp, startApp } from "../running-app";
import { compiled, costs } from "../store/whole-book";
import { LONGEST, PATIENCE, runs, slowness } from "./runs";
import { type Answered, type Known, type Shot, calling, fire, looking, readBuilt, sending } from "./shots";

const root = path.resolve(import.meta.dirname, "../..");
const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-fuzz-"));
const ports = process.env.FUZZ_PORT === undefined ? {} : { PORT: process.env.FUZZ_PORT };
const PASSWORD = "a long enough word for a test";
/** Each is used by turns: one that signs itself out on the way takes only its own shots with it. */
const SESSIONS_EACH = 2;
const PAGES = ["/dishes", "/items", "/cuts", "/recipes", "/tests", "/record", "/people", "/account", "/kitchens", "/kitchens/new", "/glossary", "/dishes/new", "/items/new", "/cuts/new", "/recipes/new", "/tests/new", "/sign-in", "/start"];

let app: RunningApp;
let watcher: Visitor;
let known: Known;
/** Cookies to shoot with: nobody's first, then each role's. */
let cookies: readonly string[];
const recorded = new Set<number>();
let opening = 0;
let noticed = 0;

beforeAll(async () => {
  app = await startApp(folder, { LOG_FORMAT: "json", ...ports });
  watcher = await openDemo(app.url);
  const staff: Visitor[] = [];
  for (const role of ROLES) for (let at = 0; at < SESSIONS_EACH; at += 1) staff.push(at === 0 || role === "owner" ? await member(role, at) : await signIn(app.url, { username: nameOf(role, 0), password: PASSWORD }));
  cookies = ["", ...staff.map((visitor) => visitor.jar.header())];
  known = await look();
  opening = await newestChange();
}, PATIENCE + 240_000);

afterAll(async () => {
  await app.kill();
  fs.rmSync(folder, { recursive: true, force: true });
});

const nameOf = (role: Role, at: number): string => `${role.replace(" ", "-")}-${at}`;

/** Invites somebody, who comes in by the link. */
async function member(role: Role, at: number): Promise<Visitor> {
  const invited = await watcher.act("/people", { name: nameOf(role, at), role }, { button: "Make a link" });
  const link = /\/join\/[\w-]+/.exec(invited.body)?.[0];
  if (link === undefined) throw new Error(`expected a link: ${invited.text.slice(0, 400)}`);
  const visitor = new Visitor(app.url);
  const came = await visitor.act(link, { name: nameOf(role, at), username: nameOf(role, at), password: PASSWORD });
  if (came.status !== 200 || came.path.startsWith("/join")) throw new Error(`expected ${role} to be let in: ${came.text.slice(0, 400)}`);
  return visitor;
}

/** The pages that links lead to, two levels deep and a few of each kind, with their forms and the ids in them. */
async function look(): Promise<Known> {
  const built = readBuilt(root);
  const pages = new Set(PAGES);
  const forms: Known["forms"][number][] = [];
  const ofKind = new Map<string, number>();
  for (const place of pages) {
    const kind = place.replace(/^(\/(?:figure\/)?\w+)\/(?!new)[^/?]+/, "$1/*").replace(/\?.*/, "?");
    const seen = ofKind.get(kind) ?? 0;
    if (seen >= 2) { pages.delete(place); continue; }
    ofKind.set(kind, seen + 1);
    const page = await watcher.open(place);
    for (const [, to = ""] of page.body.matchAll(/href="(\/[^"#]*)"/g)) if (!to.startsWith("/_next") && !to.includes(".svg")) pages.add(to.replaceAll("&amp;", "&"));
    for (const form of page.forms) if (form.method === "POST" && !signsOut(form)) forms.push({ page: place, form: aboutNobody(form) });
  }
  // The forms of who is not in yet.
  const stranger = new Visitor(app.url);
  for (const place of ["/sign-in", "/start"]) {
    const page = await stranger.open(place);
    for (const form of page.forms) if (form.method === "POST") forms.push({ page: page.path, form });
  }
  const ids = [...new Set([...pages].flatMap((place) => place.split("?")[0]?.split("/").slice(2) ?? []).map(decodeURIComponent))];
  return { built, origin: app.url, pages: [...pages], forms, ids };
}

/** Signing out and ending sessions would leave nobody to shoot as. */
function signsOut({ buttons, controls }: PageForm): boolean {
  return buttons.some(({ label }) => /sign(?:ed)? out/i.test(label)) || controls.some(({ name }) => name === "session");
}

/** The form for somebody who does not exist, where it is about a person: shots must not take the watcher out of the kitchen. */
function aboutNobody(form: PageForm): PageForm {
  return { ...form, controls: form.controls.map((control) => (control.name === "person" ? { ...control, sends: ["person-nowhere"] } : control)) };
}

async function newestChange(): Promise<number> {
  const page = await watcher.open("/record");
  expect(page.status).toBe(200);
  return Math.max(0, ...[...page.body.matchAll(/href="\/record\/(\d+)"/g)].map((match) => Number(match[1])));
}

const FAILURE = /could not be carried out, and nothing was saved|"digest":"\d+"|data-dgst="\d+"|This page could not be made/;

/** Fires, and holds the answer to what every answer must be. */
async function holdToIt(shot: Shot): Promise<Answered> {
  let answer = await fire(app.url, shot);
  expect(answer.status, `${shot.method} ${shot.path.slice(0, 200)}: ${answer.body.slice(0, 300)}`).toBeLessThan(500);
  expect(FAILURE.exec(answer.body)?.[0], `${shot.method} ${shot.path.slice(0, 200)} told a failure`).toBeUndefined();
  note(answer);
  for (let again = 0; again < 2 && answer.ms > LONGEST * slowness() && !opensKitchen(shot, answer); again += 1) {
    const second = await fire(app.url, shot);
    note(second);
    if (second.ms < answer.ms) answer = second;
  }
  if (!opensKitchen(shot, answer)) expect(answer.ms, `milliseconds for ${shot.method} ${shot.path.slice(0, 200)}`).toBeLessThanOrEqual(LONGEST * slowness());
  return answer;
}

/** The change that an answer says was recorded. */
function note({ status, body, headers }: Answered): void {
  for (const [, no] of body.matchAll(/Recorded as change (?:<!-- -->)?(\d+)/g)) recorded.add(Number(no));
  const no = status === 303 ? /^\/record\/(\d+)$/.exec(headers.location ?? "")?.[1] : undefined;
  if (no !== undefined) recorded.add(Number(no));
}

/** The demo kitchen comes with a year of facts: the one thing here that may take its time. */
function opensKitchen({ headers, body }: Shot, { status }: Answered): boolean {
  const id = known.built.actions.find(({ name }) => name.endsWith(" openDemo"))?.id ?? "none";
  return status < 400 && (headers["next-action"] === id || body?.includes(id) === true);
}

/** Shoots by turns as everybody; between two salvos the watcher counts. */
async function salvo(name: string, shots: (cookie: string) => fc.Arbitrary<Shot>, usual: number): Promise<void> {
  const at = fc.nat({ max: cookies.length - 1 });
  const tally = new Map<number, number>();
  await fc.assert(fc.asyncProperty(at.chain((index) => fc.array(shots(cookies[index] ?? ""), { minLength: 5, maxLength: 5 })), async (volley) => {
    const fired: string[] = [];
    for (const shot of volley) {
      const { status, headers, body } = await holdToIt(shot);
      tally.set(status, (tally.get(status) ?? 0) + 1);
      fired.push(`${shot.method} ${shot.path.slice(0, 200)} → ${status} ${headers.location ?? ""} ${/<h1[^>]*>(.*?)<\/h1>/.exec(body)?.[1] ?? body.slice(0, 200)}\n${shot.body?.toString("latin1").slice(0, 3_000) ?? ""}`);
    }
    const newest = await newestChange();
    const told = Math.max(opening, ...recorded);
    // What is left after shrinking is not what did it: the record has grown already.
    if (newest > told && newest > noticed) console.error(`Change ${newest} was recorded and not told by any of:\n${fired.join("\n\n")}`);
    noticed = newest;
    expect(newest, "the record's newest change").toBe(told);
  }), runs(usual));
  console.log(`${name}: ${[...tally].sort(([a], [b]) => a - b).map(([status, times]) => `${times} × ${status}`).join(", ")}; ${recorded.size} recorded so far`);
}

describe("requests", { timeout: PATIENCE * 4 }, () => {
  test("every page there is, as everybody", async () => {
    for (const cookie of cookies) {
      const seen: number[] = [];
      for (const to of known.pages.slice(0, 30)) seen.push((await holdToIt({ method: "GET", path: to, headers: { accept: "text/html", cookie }, body: null })).status);
      // Everybody who belongs to the kitchen sees some of it, and who does not nothing but the door.
      expect(seen.filter((status) => status === 200).length > 3, `${cookie.slice(0, 20)} ${seen.join(" ")}`).toBe(cookie !== "");
    }
    expect(known.built.routes.length).toBeGreaterThan(20);
    expect(known.built.actions.length).toBeGreaterThan(20);
    expect(known.forms.length).toBeGreaterThan(20);
  });
  test("for any address", () => salvo("addresses", (cookie) => looking(known, cookie), 60));
  test("of forms filled in with anything", () => salvo("forms", (cookie) => sending(known, cookie), 60));
  test("of actions called straight", () => salvo("actions", (cookie) => calling(known, cookie), 60));

  test("leave a database in which every change is whole", async () => {
    // Next writes down by itself, as plain text, whoever calls an action that the page does not have; a fault of ours is an error in the log.
    const said = app.said().split("\n").filter((line) => line.includes('"level":"error"') || /unhandled|uncaught/i.test(line));
    await app.stop();
    expect(said.slice(0, 5)).toEqual([]);
    const database = await openDatabase({ folder });
    try {
      const kitchens = await database.prisma.$queryRaw<{ id: string; no: number; changes: number; empty: number; revisions: number; last: number }[]>`
        SELECT k.id, k.change_no AS no, (SELECT count(*)::int FROM change c WHERE c.kitchen_id = k.id) AS changes,
          (SELECT count(*)::int FROM change c WHERE c.kitchen_id = k.id AND NOT EXISTS (SELECT FROM revision r WHERE r.kitchen_id = c.kitchen_id AND r.change_no = c.no)) AS empty,
          (SELECT count(*)::int FROM revision r WHERE r.kitchen_id = k.id) AS revisions, k.revision_no::int AS last
        FROM kitchen k ORDER BY k.created_at, k.id`;
      expect(kitchens[0]?.no).toBe(Math.max(opening, ...recorded));
      expect(kitchens[0]?.changes).toBe(opening + recorded.size);
      for (const { no, changes, empty, revisions, last } of kitchens) expect([changes, empty, revisions]).toEqual([no, 0, last]);
      const store = makeStore(database);
      for (const { id } of kitchens) {
        const live = await store.live(id);
        expect(costs(live.cascade)).toEqual(costs(compiled(live.book)));
      }
    } finally {
      await database.close();
    }
  });
});

