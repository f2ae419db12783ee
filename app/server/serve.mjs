/**
 * The server: Next's own makes the pages, everything around them is ours (handle.mjs). Pages are made ready first, which
 * opens the database (instrumentation.ts); then the port is opened. When the process is told to stop, instrumentation.ts
 * asks for `drain`: no new connections, what is under way is let finish, and then the database is closed.
 */
import http from "node:http";
import next from "next";
import { makeHandler } from "./handle.mjs";
import { makeLog } from "./log.mjs";

/**
 * What the app and its server know of each other. Next bundles the app's modules several times over; the process is one.
 * @typedef {object} Shared
 * @property {import("./log.mjs").Log} [trimledgerLog] For app/log.ts.
 * @property {{ opened(): void, drain(): Promise<void> }} [trimledgerServer] For instrumentation.ts: the database is open; the process is to stop.
 * @property {string} [trimledgerGone] Set by lib/store/database when the database has died: why nothing can be answered any more.
 */
const shared = /** @type {Shared} */ (globalThis);

/** How long what is under way may take once we are told to stop, in milliseconds. */
const PATIENCE = 10_000;

/**
 * @param {object} of
 * @param {string} of.root
 * @param {number} of.port
 * @param {string | undefined} of.host
 * @param {boolean} of.dev
 * @param {import("./settings.mjs").Settings} of.settings
 */
export async function serve({ root, port, host, dev, settings }) {
  const log = makeLog(settings.log);
  shared.trimledgerLog = log;
  /** @type {ReturnType<typeof makeHandler>} */
  let handle;
  const { server, drain } = makeServer((request, answer) => handle(request, answer));
  /** @type {Promise<void>} */
  const opened = new Promise((resolve) => { shared.trimledgerServer = { opened: resolve, drain }; });

  // Where Next asks itself; see request-headers.mjs.
  process.env.__NEXT_PRIVATE_ORIGIN = `http://${loopback(host)}:${port}`;
  // Quiet: what goes wrong in a page is logged by instrumentation.ts, with its request's number and without secrets.
  // Next listens for upgrades of the server it is given, and leaves those it does not know hanging; only a developer's
  // browser has one to ask for (changed modules), so otherwise it is given a server that nobody calls.
  const app = next({ dev, dir: root, port, hostname: host ?? "localhost", httpServer: dev ? server : http.createServer(), quiet: !dev });
  await quietly(() => Promise.all([app.prepare(), opened]), dev);
  handle = makeHandler({ app: app.getRequestHandler(), settings, log, dev, gone: () => shared.trimledgerGone ?? null });

  await new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen({ port, host }, () => { resolve(undefined); });
  });
}

/**
 * A server with its limits, and the way to stop it. Times are in milliseconds.
 * @param {(request: http.IncomingMessage, answer: http.ServerResponse) => Promise<void>} handle
 * @param {{ headersTimeout?: number, requestTimeout?: number, patience?: number, checks?: number }} [limits]
 */
export function makeServer(handle, { headersTimeout = 15_000, requestTimeout = 120_000, patience = PATIENCE, checks = 5_000 } = {}) {
  let draining = false;
  /** @type {Set<http.ServerResponse>} */
  const underWay = new Set();
  const server = http.createServer({
    // Somebody who dawdles over their headers or their body is cut off; a photo over a kitchen's wireless takes a while.
    headersTimeout, requestTimeout, connectionsCheckingInterval: checks,
    // Longer than proxies keep theirs, so that it is never we who hang up on a request that is on its way.
    keepAliveTimeout: 65_000,
  });
  /** @type {http.RequestListener} */
  const take = (request, answer) => {
    underWay.add(answer);
    answer.once("close", () => {
      underWay.delete(answer);
      if (draining) server.closeIdleConnections();
    });
    if (draining) answer.setHeader("Connection", "close");
    void handle(request, answer);
  };
  server.on("request", take);
  // The body's length is judged before the client is told to go on; see handle.mjs.
  server.on("checkContinue", take);
  server.on("clientError", (/** @type {Error & { code?: string }} */ error, /** @type {import("node:net").Socket} */ socket) => {
    const [status, sentence] = { ERR_HTTP_REQUEST_TIMEOUT: ["408 Request Timeout", "The request took too long to arrive."], HPE_HEADER_OVERFLOW: ["431 Request Header Fields Too Large", "The request's headers are too long."] }[error.code ?? ""] ?? ["400 Bad Request", "The request cannot be read."];
    if (socket.writable && socket.bytesWritten === 0) {
      socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Type: text/plain; charset=utf-8\r\nContent-Length: ${Buffer.byteLength(sentence ?? "")}\r\n\r\n${sentence}`);
    } else socket.destroy();
  });

  return {
    server,
    /** Stops listening, ends the streams of events and waits for what else is under way, but not for ever. */
    async drain() {
      draining = true;
      server.close();
      server.closeIdleConnections();
      // What goes on until the page is left is not waited for: the browser comes back by itself, to whichever process is there.
      for (const answer of underWay) if (/^text\/event-stream/.test(String(answer.getHeader("content-type") ?? ""))) answer.destroy();
      const end = Date.now() + patience;
      while (underWay.size > 0 && Date.now() < end) await new Promise((resolve) => setTimeout(resolve, 20));
      server.closeAllConnections();
    },
  };
}

/**
 * Next tells how long it took to read its settings, in among what the app has to say.
 * @param {() => Promise<unknown>} work
 * @param {boolean} dev A developer may want to know.
 */
async function quietly(work, dev) {
  const log = console.log;
  if (!dev) console.log = (...words) => { if (!/next\.config/.test(words.join(" "))) log(...words); };
  await work().finally(() => { console.log = log; });
}

/** @param {string | undefined} host The address we listen on. */
function loopback(host) {
  if (host === undefined || host === "0.0.0.0" || host === "::") return "127.0.0.1";
  return host.includes(":") ? `[${host}]` : host;
}
