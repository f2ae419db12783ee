/**
 * What is turned away before the app sees it: addresses that cannot be read, methods nobody uses, and changes that do
 * not come from one of our own pages. Each refusal says what is wrong and what would be right.
 */

/**
 * @typedef {object} Refusal
 * @property {number} status
 * @property {string} code For the log.
 * @property {string} title
 * @property {string} sentence
 * @property {Record<string, string>} [headers]
 */

/** Longer than any address the app gives; a search box's words fit many times. */
const LONGEST_ADDRESS = 4096;

const reading = ["GET", "HEAD"];
const changing = ["POST", "PUT", "PATCH", "DELETE"];

/**
 * Files and questions of machines. The framework keeps its answers for some of these, whoever asked: what it would say to
 * a POST it went on saying to everybody.
 */
const onlyRead = /^\/(?:_next\/|icon\.svg|favicon\.ico|block-worker\.js|healthz|readyz)/;

/**
 * Routes that take no cookie but a key of their own in the Authorization header (app/api/): a page elsewhere cannot make a
 * browser send one, so they need not come from our pages.
 * @type {readonly RegExp[]}
 */
const withAKeyOfTheirOwn = [/^\/api\/v1\//];

/**
 * @param {import("node:http").IncomingMessage} request
 * @param {import("./caller.mjs").Caller} caller
 * @returns {Refusal | null}
 */
export function refusalOf(request, caller) {
  return againstMethod(request.method ?? "", request.url ?? "") ?? againstAddress(request.url ?? "") ?? againstHost(caller) ?? againstStranger(request, caller);
}

/**
 * @param {string} method
 * @param {string} url
 * @returns {Refusal | null}
 */
function againstMethod(method, url) {
  const answered = onlyRead.test(url) ? reading : [...reading, ...changing];
  if (answered.includes(method)) return null;
  return { status: 405, code: "method", title: "That cannot be done here", sentence: `The request’s method is not one that this app answers.`, headers: { Allow: answered.join(", ") } };
}

/**
 * @param {string} url
 * @returns {Refusal | null}
 */
function againstAddress(url) {
  if (url.length > LONGEST_ADDRESS) {
    return { status: 414, code: "address-too-long", title: "The address is too long", sentence: `The address is ${url.length.toLocaleString("en")} characters long; at most ${LONGEST_ADDRESS.toLocaleString("en")} are read.` };
  }
  const mistyped = { status: 400, code: "address", title: "The address cannot be read", sentence: "The address in the browser’s bar is mistyped or was cut off: a part of it, after a % sign perhaps, stands for no letter." };
  const [path = ""] = url.split("?", 1);
  // A question is read leniently ("?find=100%" is what somebody types), but nothing is ever looked for with a NUL.
  if (!url.startsWith("/") || /%00/.test(url)) return mistyped;
  try {
    // Pages that the framework keeps for itself, the one of a failure among them.
    if (/^\/+_(?:global-error|not-found|error)(?:\/|$)/i.test(decodeURIComponent(path))) return { status: 404, code: "inside", title: "There is no such page", sentence: "No page of this app has that address." };
    return null;
  } catch {
    return mistyped;
  }
}

/**
 * @param {import("./caller.mjs").Caller} caller
 * @returns {Refusal | null}
 */
function againstHost(caller) {
  return caller.origin === null ? { status: 400, code: "host", title: "The request cannot be read", sentence: "The request does not say which address it is meant for (its Host header)." } : null;
}

/**
 * A change must come from one of our own pages; otherwise a page elsewhere could make a signed-in browser send one.
 * Browsers say where it comes from (Origin) with every such request.
 * @param {import("node:http").IncomingMessage} request
 * @param {import("./caller.mjs").Caller} caller
 * @returns {Refusal | null}
 */
function againstStranger({ method = "", url = "", headers }, caller) {
  if (reading.includes(method)) return null;
  const [path = ""] = url.split("?", 1);
  if (withAKeyOfTheirOwn.some((route) => route.test(path)) && headers.cookie === undefined && headers.authorization !== undefined) return null;
  const { origin } = headers;
  const from = origin !== undefined && URL.canParse(origin) ? new URL(origin).origin : null;
  const site = headers["sec-fetch-site"] ?? "same-origin";
  if (from === caller.origin && !["cross-site", "same-site"].includes(String(site))) return null;
  return {
    status: 403, code: origin === undefined ? "no-origin" : "origin", title: "This came from somewhere else",
    sentence: `Changes are taken from this app’s own pages only, and this one came from another address. Nothing was saved. Open ${caller.origin} and do it again there.`,
  };
}
