/** How the server goes: nothing new is taken, what is under way is let finish, and nobody is waited for for ever. */
import http from "node:http";
import { expect, test } from "vitest";
import { aroundApp } from "./around-app";

/** An app whose answers wait until they are let go. */
function slowApp() {
  const waiting: (() => void)[] = [];
  return {
    waiting,
    app: (_request: http.IncomingMessage, answer: http.ServerResponse) => new Promise<void>((resolve) => {
      waiting.push(() => {
        answer.end("late");
        resolve();
      });
    }),
  };
}

test("what is under way is let finish, and no new connection is taken", async () => {
  const slow = slowApp();
  const around = await aroundApp({ app: slow.app });
  const asked = around.ask("/dishes");
  await expect.poll(() => slow.waiting.length).toBe(1);
  let gone = false;
  const drained = around.drain().then(() => { gone = true; });
  await expect(around.ask("/items")).rejects.toThrow(/ECONNREFUSED/);
  expect(gone).toBe(false);
  slow.waiting[0]?.();
  expect((await asked).text).toBe("late");
  await drained;
});

test("a connection that is kept open between requests does not hold it up", async () => {
  const around = await aroundApp();
  const agent = new http.Agent({ keepAlive: true });
  await new Promise<void>((resolve) => {
    http.get({ host: "127.0.0.1", port: around.port, agent }, (answer) => answer.resume().once("end", resolve));
  });
  const began = Date.now();
  await around.drain();
  expect(Date.now() - began).toBeLessThan(1_000);
  agent.destroy();
});

test("what never finishes is cut", async () => {
  const slow = slowApp();
  const around = await aroundApp({ app: slow.app, limits: { patience: 200 } });
  const asked = around.ask("/dishes");
  const cut = expect(asked).rejects.toThrow(/socket hang up|ECONNRESET/);
  await expect.poll(() => slow.waiting.length).toBe(1);
  const began = Date.now();
  await around.drain();
  expect(Date.now() - began).toBeLessThan(2_000);
  await cut;
});

test("a page that listens is not waited for: its stream ends at once, and is not told of as a request cut short", async () => {
  let [listening, left] = [false, false];
  const around = await aroundApp({
    app: (_request, answer) => new Promise<void>((resolve) => {
      answer.setHeader("Content-Type", "text/event-stream; charset=utf-8");
      answer.write(": here\n\n");
      listening = true;
      answer.once("close", () => { left = true; resolve(); });
    }),
  });
  const asked = new Promise<string>((resolve) => {
    http.get({ host: "127.0.0.1", port: around.port, path: "/live?since=3" }, (answer) => { answer.resume(); answer.once("error", () => resolve("cut")).once("end", () => resolve("ended")); });
  });
  await expect.poll(() => listening).toBe(true);
  const began = Date.now();
  await around.drain();
  expect(Date.now() - began).toBeLessThan(1_000);
  expect(left).toBe(true);
  expect(await asked).toBe("cut");
  expect(around.lines().filter(({ path }) => path === "/live")).toEqual([]);
});
