/**
 * Our server around an app that only tells what it was given, on a free port: what of a request reaches the app, what
 * is answered, and what is written down.
 */
import http from "node:http";
import net from "node:net";
import type { AddressInfo } from "node:net";
import { onTestFinished } from "vitest";
import { makeHandler } from "../../app/server/handle.mjs";
import { makeLog } from "../../app/server/log.mjs";
import { makeServer } from "../../app/server/serve.mjs";
import { readSettings } from "../../app/server/settings.mjs";

/** What the app behind was asked. */
export interface Seen {
  readonly method: string;
  readonly url: string;
  readonly headers: http.IncomingHttpHeaders;
  readonly body: string;
}

export interface Answered {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly text: string;
}

export type Line = Readonly<Record<string, unknown>>;

type App = (request: http.IncomingMessage, answer: http.ServerResponse) => Promise<void>;

interface Options {
  readonly env?: Readonly<Record<string, string>>;
  readonly app?: App;
  readonly dev?: boolean;
  readonly gone?: () => string | null;
  readonly limits?: Parameters<typeof makeServer>[1];
}

export async function aroundApp({ env = {}, app, dev = false, gone = () => null, limits }: Options = {}) {
  const seen: Seen[] = [];
  let written = "";
  const tellBack: App = async (request, answer) => {
    let body = "";
    for await (const piece of request) body += String(piece);
    seen.push({ method: request.method ?? "", url: request.url ?? "", headers: { ...request.headers }, body });
    answer.setHeader("Content-Type", "text/html; charset=utf-8");
    answer.end("<p>the app</p>");
  };
  const settings = readSettings(env, { terminal: false });
  const log = makeLog("json", (text) => { written += text; });
  const { server, drain } = makeServer(makeHandler({ app: app ?? tellBack, settings, log, dev, gone }), limits);
  await new Promise<void>((resolve) => { server.listen(0, "127.0.0.1", resolve); });
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const { port } = server.address() as AddressInfo;
  const origin = `http://127.0.0.1:${port}`;

  return {
    port, origin, seen, drain,
    /** Everything that was written to the log. */
    written: () => written,
    lines: (): Line[] => written.split("\n").filter((line) => line !== "").map((line) => JSON.parse(line) as Line),
    ask: (path: string, options: Asked = {}) => ask(port, path, options),
    /** Sends a form as one of the app's own pages would. */
    send: (path: string, body: string | Buffer, options: Asked = {}) => ask(port, path, { method: "POST", body, ...options, headers: { origin, ...options.headers } }),
    /** Writes bytes as they are and returns all that comes back until the connection ends. */
    raw: (bytes: string) => raw(port, bytes),
  };
}

interface Asked {
  readonly method?: string;
  readonly headers?: http.OutgoingHttpHeaders;
  readonly body?: string | Buffer;
  /** Sent in pieces, its length not said beforehand. */
  readonly chunked?: boolean;
}

function ask(port: number, path: string, { method = "GET", headers = {}, body, chunked = false }: Asked): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const length = body === undefined || chunked ? {} : { "content-length": Buffer.byteLength(body) };
    const request = http.request({ host: "127.0.0.1", port, path, method, headers: { ...length, ...headers }, agent: false }, (answer) => {
      let text = "";
      answer.setEncoding("utf8");
      answer.on("data", (piece: string) => { text += piece; });
      answer.on("end", () => { resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text }); });
    });
    request.once("error", reject);
    if (body !== undefined && chunked) {
      const whole = Buffer.from(body);
      for (let at = 0; at < whole.length; at += 64 * 1024) request.write(whole.subarray(at, at + 64 * 1024));
    } else if (body !== undefined) request.write(body);
    request.end();
  });
}

function raw(port: number, bytes: string): Promise<string> {
  return new Promise((resolve) => {
    let back = "";
    const socket = net.connect(port, "127.0.0.1", () => socket.write(bytes));
    socket.on("data", (piece) => { back += piece.toString(); });
    socket.on("error", () => undefined);
    socket.on("close", () => { resolve(back); });
  });
}

/** Waits until `there` gives something, for what is written once an answer is out. */
export async function until<T>(there: () => T | undefined | false): Promise<T> {
  for (let n = 0; n < 300; n += 1) {
    const found = there();
    if (found !== undefined && found !== false) return found;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error("expected it within three seconds");
}
