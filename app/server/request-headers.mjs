/**
 * The headers that the app is given: those that only we may write are taken off whatever the client sent, and written
 * afresh. So the app may trust `x-request-id`; `x-trimledger-address`, where the request comes from; -`scheme`, how;
 * -`path`, what it asks for, query included.
 */
import { randomUUID } from "node:crypto";
import routerState from "next/dist/server/app-render/parse-and-validate-flight-router-state.js";

const ours = /^(x-trimledger-|x-middleware-|x-forwarded-|x-invoke-|x-nonce$|x-request-id$|x-real-ip$|x-matched-path$|x-now-route-matches$|x-prerender-revalidate|x-next-resume|next-resume$|forwarded$|content-security-policy)/;

/**
 * Next sometimes asks itself (the page that an action leads to), handing on the headers it was given. Such a request is
 * known by this, which no client ever sees.
 */
const inside = randomUUID();

/**
 * What one of our own requests to ourselves says about the request it belongs to; null for everybody else's.
 * @param {import("node:http").IncomingMessage} request
 */
export function askedFromInside({ headers }) {
  if (headers["x-trimledger-inside"] !== inside) return null;
  const said = (/** @type {string} */ name) => String(headers[name] ?? "");
  const scheme = said("x-forwarded-proto") === "https" ? /** @type {const} */ ("https") : /** @type {const} */ ("http");
  const host = said("x-forwarded-host");
  return { requestId: said("x-request-id"), caller: { address: said("x-trimledger-address"), scheme, host, origin: new URL(`${scheme}://${host}`).origin } };
}

/**
 * @param {import("node:http").IncomingMessage} request Its headers are changed in place.
 * @param {{ readonly requestId: string, readonly policy: string, readonly caller: import("./caller.mjs").Caller }} of
 */
export function giveHeaders({ headers, url = "/" }, { requestId, policy, caller }) {
  for (const name of Object.keys(headers)) if (ours.test(name)) delete headers[name];
  if (!isRouterState(headers["next-router-state-tree"])) delete headers["next-router-state-tree"];
  headers["x-request-id"] = requestId;
  headers["content-security-policy"] = policy;
  headers["x-trimledger-address"] = caller.address;
  headers["x-trimledger-scheme"] = caller.scheme;
  headers["x-trimledger-path"] = asTyped(url);
  headers["x-trimledger-inside"] = inside;
  headers["x-forwarded-for"] = caller.address;
  headers["x-forwarded-host"] = caller.host;
  headers["x-forwarded-proto"] = caller.scheme;
}

/**
 * Where the browser's router says it stands. Next fails on one that it cannot read; without one it sends the whole page.
 * @param {string | string[] | undefined} told
 */
function isRouterState(told) {
  try {
    return routerState.parseAndValidateFlightRouterState(told) !== undefined;
  } catch {
    return false;
  }
}

/**
 * An address as a person would type it: without what Next adds when it fetches a page's pieces.
 * @param {string} url
 */
function asTyped(url) {
  const [path = "/", query = ""] = url.split(/\?(.*)/s, 2);
  const asked = query.split("&").filter((part) => part !== "" && !part.startsWith("_rsc="));
  return asked.length === 0 ? path : `${path}?${asked.join("&")}`;
}
