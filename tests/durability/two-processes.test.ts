/**
 * Two processes on one PostgreSQL stay in step, and nothing that anybody was told is saved gets lost while sixteen people
 * save through both and one after the other is killed or stopped. Ten seconds here; `npm run soak` takes a minute or as
 * long as it is told. Needs built pages and a PostgreSQL on this machine.
 */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { startPostgres } from "../machine.mjs";
import type { Visitor } from "../http/client";
import { Visitor as Person } from "../http/client";
import { TwoProcesses, editTogether, faultsOf, restartInTurns, shownBy } from "./two-processes";

const server = await startPostgres();
let url = "";
let two: TwoProcesses;
let owner: Visitor;

beforeAll(async () => {
  if (server.stop === undefined) return;
  url = server.url;
  ({ two, owner } = await TwoProcesses.start(url));
}, 300_000);
afterAll(async () => {
  if (server.stop === undefined) return;
  await two.stop();
  await server.stop();
}, 60_000);

describe.skipIf(server.stop === undefined)("two processes on one database", () => {
  test("what is recorded through one is seen through the other at once, and its next ripple stands on it", async () => {
    const [here, there] = [0, 1].map((at) => new Person(two.url(at), { jar: owner.jar.copy(), patience: 120_000 })) as [Visitor, Visitor];
    await there.open("/dishes");
    for (const [price, next] of [["5.15", "5.35"], ["4.85", "6.05"]] as const) {
      const recorded = await here.act("/items/butter", { price, why: "here" }, { button: /^Record this price/, says: "sure" });
      expect(recorded.text).toMatch(/Recorded as change \d+\./);
      // The very next page, not one a second later.
      const page = await there.open("/items/butter");
      expect(page.forms.flatMap(({ controls }) => controls).find(({ name }) => name === "price")?.sends).toEqual([price]);
      const after = await shownBy(two.url(0), owner);
      expect(await shownBy(two.url(1), owner)).toEqual(after);
      const rippled = await there.send(page, { price: next, why: "there" }, { button: /^Record this price/, says: "sure" });
      const changeNo = Number(/Recorded as change (\d+)\./.exec(rippled.text)?.[1]);
      expect(changeNo).toBeGreaterThan(2);
      expect(await shownBy(two.url(0), owner)).toEqual(await shownBy(two.url(1), owner));
      expect(await shownBy(two.url(1), owner)).not.toEqual(after);
    }
  }, 300_000);

  test("who has a page open at one hears within a second of what is recorded through the other", async () => {
    const here = new Person(two.url(0), { jar: owner.jar.copy(), patience: 120_000 });
    const leave = new AbortController();
    const stream = await fetch(`${two.url(1)}/live`, { headers: { accept: "text/event-stream", cookie: owner.jar.header() }, signal: leave.signal });
    expect(stream.headers.get("content-type")).toMatch(/^text\/event-stream/);
    let [heard, at] = ["", 0];
    const hearing = (async () => {
      const text = new TextDecoder();
      for await (const piece of stream.body as unknown as AsyncIterable<Uint8Array>) {
        heard += text.decode(piece, { stream: true });
        if (heard.includes("event: change") && at === 0) at = Date.now();
      }
    })().catch(() => undefined);
    await expect.poll(() => heard).toContain("event: listening");
    const page = await here.open("/items/butter");
    const now = Number(page.forms.flatMap(({ controls }) => controls).find(({ name }) => name === "price")?.sends[0]);
    const price = (now * 1.03).toFixed(2);
    const recorded = await here.send(page, { price, why: "to be heard" }, { button: /^Record this price/ });
    const answered = Date.now();
    expect(recorded.text).toMatch(/Recorded as change \d+\./);
    await expect.poll(() => at, { timeout: 5_000 }).toBeGreaterThan(0);
    console.log(`Heard at the other process ${at - answered} ms after the first had answered.`);
    expect(at - answered).toBeLessThan(1_000);
    expect(heard).toMatch(/"what":"changed [^"]*utter[^"]*\(price quote\)"/);
    // Told alike to everybody in the kitchen: names, no figures.
    expect(heard).not.toContain(price);
    leave.abort();
    await hearing;
  }, 300_000);

  test("sixteen people save through both while each is killed and stopped in turn: nothing is lost, and both show what a recomputation says", async () => {
    const end = Date.now() + 10_000;
    let restarted = false;
    const [saves, restarts] = await Promise.all([
      editTogether(two, owner, 16, () => restarted && Date.now() >= end),
      restartInTurns(two, { times: 2, until: 0, every: 2_000 }).finally(() => { restarted = true; }),
    ]);
    const count = (as: string): number => saves.filter(({ told }) => told.as === as).length;
    console.log(`${restarts.killed} killed, ${restarts.asked} stopped: ${count("recorded")} changes acknowledged, ${count("stale")} told that somebody was faster, ${count("nothing")} that nobody was told about.`);
    expect(await faultsOf(url, two, owner, saves)).toEqual([]);
    // People were told, and were in each other's way.
    expect(count("recorded")).toBeGreaterThan(10);
    expect(count("stale")).toBeGreaterThan(0);
  }, 600_000);
});
