/**
 * What happens to every request before and after the app: it gets its number, is judged, is given its headers, is
 * handed on with its body whole, and is written down.
 */
import { randomBytes, randomUUID } from "node:crypto";
import { refusalOfAction } from "./action-payload.mjs";
import { answerHeaders } from "./answer-headers.mjs";
import { bodyLimit, dropRest, hasBody, readBody, tooLong, withBody } from "./body.mjs";
import { callerOf } from "./caller.mjs";
import { contentSecurity } from "./content-security.mjs";
import { plainPage } from "./plain-page.mjs";
import { redactPath } from "./redact.mjs";
import { refusalOf } from "./refuse.mjs";
import { askedFromInside, giveHeaders } from "./request-headers.mjs";

/**
 * @typedef {import("node:http").IncomingMessage} Request
 * @typedef {import("node:http").ServerResponse} Answer
 * @typedef {import("./refuse.mjs").Refusal} Refusal
 */

/** Files that a page brings with it, and questions of machines: told only when something is wrong with them. */
const untold = /^\/(?:_next\/|icon\.svg$|favicon\.ico$|healthz$|readyz$)/;
/** A page listens here until it is left: it has no end that would be worth telling. */
const listening = /^\/live$/;

/** @type {Refusal} */
const ourFault = { status: 500, code: "failed", title: "This page could not be made", sentence: "The fault is ours, not yours. Nothing in the book was changed by it." };

/**
 * @param {object} of
 * @param {(request: Request, answer: Answer) => Promise<void>} of.app What makes the pages.
 * @param {Pick<import("./settings.mjs").Settings, "publicUrl" | "proxies">} of.settings
 * @param {import("./log.mjs").Log} of.log
 * @param {boolean} [of.dev]
 * @param {() => string | null} [of.gone] Why nothing can be answered any more, once that is so.
 * @returns {(request: Request, answer: Answer) => Promise<void>} Never rejects.
 */
export function makeHandler({ app, settings, log, dev = false, gone = () => null }) {
  return async (request, answer) => {
    const fromInside = askedFromInside(request);
    const requestId = fromInside?.requestId ?? randomUUID();
    const caller = fromInside?.caller ?? callerOf(request, settings);
    const nonce = randomBytes(16).toString("base64");
    const policy = contentSecurity(nonce, { dev });
    const told = tell(log, request, answer, { requestId, address: caller.address });

    for (const [name, value] of Object.entries(answerHeaders({ requestId, policy, scheme: caller.scheme, url: request.url }))) answer.setHeader(name, value);

    /** @param {Refusal} refusal */
    const refuse = (refusal) => {
      told.refused = refusal.code;
      if (answer.headersSent || answer.destroyed) {
        answer.destroy();
        return;
      }
      const html = /\btext\/html\b/.test(request.headers.accept ?? "");
      const page = html ? plainPage({ ...refusal, requestId, nonce }) : `${refusal.sentence}\n`;
      answer.writeHead(refusal.status, { "Content-Type": `text/${html ? "html" : "plain"}; charset=utf-8`, "Content-Length": Buffer.byteLength(page), ...refusal.headers });
      answer.end(request.method === "HEAD" ? undefined : page);
      dropRest(request);
    };

    try {
      const why = gone();
      if (why !== null) {
        refuse({ status: 503, code: "gone", title: "The app is stopping", sentence: why, headers: { "Retry-After": "10" } });
        return;
      }
      const refusal = refusalOf(request, caller);
      if (refusal !== null) {
        refuse(refusal);
        return;
      }
      giveHeaders(request, { requestId, policy, caller });
      if (!hasBody(request)) {
        const empty = await refusalOfAction(request, Buffer.alloc(0));
        if (empty !== null) {
          refuse(empty);
          return;
        }
        await app(request, answer);
        return;
      }
      const limit = bodyLimit(request.url?.split("?", 1)[0] ?? "");
      if (/^100-continue$/i.test(request.headers.expect ?? "") && Number(request.headers["content-length"] ?? 0) <= limit) answer.writeContinue();
      const body = await readBody(request, limit);
      if (body === "too long") refuse(tooLong(limit));
      else if (body !== "cut") {
        const unreadable = await refusalOfAction(request, body);
        if (unreadable === null) await app(withBody(request, body), answer);
        else refuse(unreadable);
      }
    } catch (error) {
      log.error({ err: error, request: requestId, method: request.method, path: redactPath(request.url ?? "") }, "A request could not be answered");
      refuse(ourFault);
    }
  };
}

/**
 * Writes a request down once its answer is out: never its query, its cookies or its body.
 * @param {import("./log.mjs").Log} log
 * @param {Request} request
 * @param {Answer} answer
 * @param {{ readonly requestId: string, readonly address: string }} of
 */
function tell(log, request, answer, { requestId, address }) {
  const began = performance.now();
  const before = request.socket.bytesWritten;
  const path = redactPath(request.url ?? "");
  const { method, socket } = request;
  /** @type {{ refused?: string }} */
  const told = {};
  answer.once("close", () => {
    const whole = answer.writableFinished;
    if (answer.statusCode < 400 && ((whole && untold.test(path)) || (answer.headersSent && listening.test(path)))) return;
    const level = answer.statusCode >= 500 ? "error" : "info";
    log[level](
      {
        request: requestId, method, path, status: answer.headersSent ? answer.statusCode : null,
        ms: Math.round((performance.now() - began) * 10) / 10, bytes: socket.bytesWritten - before, address,
        ...told, ...(whole ? {} : { cut: true }),
      },
      "answered",
    );
  });
  return told;
}
