/**
 * The body of a request, read whole before the app sees any of it: a body that is too long, too slow or cut off never
 * becomes half a change. What is read is handed on in a request of the same kind.
 */
import { IncomingMessage } from "node:http";

const MEBIBYTE = 1024 * 1024;

/** Forms are small. */
const USUAL = MEBIBYTE;
/** Where files are sent to: photos, dealers' price lists and whole kitchens, with a form around them. Each has a limit of its own. */
const roomy = /** @type {const} */ ([
  [/^\/photos(?:\/|$)/, 12 * MEBIBYTE],
  [/^\/lists\/file$/, 20 * MEBIBYTE + 65_536],
  // A whole kitchen’s record of years (lib/exchange/whole/kitchen-file.ts).
  [/^\/kitchens\/file$/, 64 * MEBIBYTE + 65_536],
]);

/** @param {string} path */
export function bodyLimit(path) {
  return roomy.find(([place]) => place.test(path))?.[1] ?? USUAL;
}

/** @param {IncomingMessage} request */
export function hasBody({ headers }) {
  return headers["transfer-encoding"] !== undefined || Number(headers["content-length"] ?? 0) > 0;
}

/** @param {number} limit @returns {import("./refuse.mjs").Refusal} */
export function tooLong(limit) {
  return { status: 413, code: "body-too-long", title: "That is too much at once", sentence: `At most ${Math.floor(limit / MEBIBYTE)} MiB can be sent to this address at once. Nothing was saved.` };
}

/**
 * Reads the whole body. "too long" once it is known to be longer than `limit` (by what it says of itself, or by what
 * has come); "cut" when it ends before its end.
 * @param {IncomingMessage} request
 * @param {number} limit
 * @returns {Promise<Buffer | "too long" | "cut">}
 */
export function readBody(request, limit) {
  if (Number(request.headers["content-length"] ?? 0) > limit) return Promise.resolve("too long");
  return new Promise((resolve) => {
    /** @type {Buffer[]} */
    const pieces = [];
    let length = 0;
    /** @param {Buffer} piece */
    const take = (piece) => {
      length += piece.length;
      if (length <= limit) pieces.push(piece);
      else done("too long");
    };
    /** @param {Buffer | "too long" | "cut"} result */
    const done = (result) => {
      request.off("data", take);
      resolve(result);
    };
    request.on("data", take);
    request.once("end", () => { done(Buffer.concat(pieces)); });
    request.once("close", () => { done("cut"); });
    request.once("error", () => { done("cut"); });
  });
}

/**
 * What still comes of a body that nobody wants is read and dropped for a moment, so that a client that is busy sending
 * gets to read the answer; then the connection is cut.
 * @param {IncomingMessage} request
 */
export function dropRest(request) {
  if (request.complete) return;
  request.resume();
  const timer = setTimeout(() => request.socket.destroy(), 2_000);
  request.once("end", () => { clearTimeout(timer); });
  request.once("close", () => { clearTimeout(timer); });
}

/**
 * The same request with its body already here.
 * @param {IncomingMessage} request
 * @param {Buffer} body
 */
export function withBody(request, body) {
  const again = new IncomingMessage(request.socket);
  const { method, url, httpVersion, httpVersionMajor, httpVersionMinor, rawHeaders } = request;
  Object.assign(again, { method, url, httpVersion, httpVersionMajor, httpVersionMinor, rawHeaders, headers: request.headers, complete: true });
  delete again.headers["transfer-encoding"];
  delete again.headers.expect;
  again.headers["content-length"] = String(body.length);
  again.push(body);
  again.push(null);
  return again;
}
