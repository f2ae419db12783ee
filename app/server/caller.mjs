/**
 * Who is asking, and by which address of ours: from the connection itself, from PUBLIC_URL where that is set, and from
 * what a proxy says only where TRUST_PROXY says that there is one. Anybody can write an X-Forwarded-For; each proxy
 * appends the address it was called from, so with n proxies of ours the n-th entry from the end is the first that one
 * of ours wrote, and everything before it is hearsay.
 */
import net from "node:net";

/**
 * @typedef {object} Caller
 * @property {string} address Where the request comes from.
 * @property {"http" | "https"} scheme How the caller speaks to us, or to the proxy before us.
 * @property {string | null} origin Our own origin as the caller sees it; null when the request's Host makes no sense.
 * @property {string} host
 */

/**
 * @param {import("node:http").IncomingMessage} request
 * @param {Pick<import("./settings.mjs").Settings, "publicUrl" | "proxies">} settings
 * @returns {Caller}
 */
export function callerOf(request, { publicUrl, proxies }) {
  const scheme = publicUrl === null ? schemeOf(request, proxies) : publicUrl.protocol === "https:" ? "https" : "http";
  const host = publicUrl?.host ?? request.headers.host ?? "";
  return { address: addressOf(request, proxies), scheme, host, origin: publicUrl?.origin ?? originOf(scheme, host) };
}

/**
 * @param {import("node:http").IncomingMessage} request
 * @param {number} proxies
 */
function addressOf(request, proxies) {
  const direct = plain(request.socket.remoteAddress ?? "");
  const said = plain(writtenByOurs(request.headers["x-forwarded-for"], proxies) ?? "");
  return net.isIP(said) === 0 ? direct : said;
}

/**
 * @param {import("node:http").IncomingMessage} request
 * @param {number} proxies
 * @returns {"http" | "https"}
 */
function schemeOf(request, proxies) {
  return writtenByOurs(request.headers["x-forwarded-proto"], proxies)?.toLowerCase() === "https" ? "https" : "http";
}

/**
 * The entry of a forwarded list that the outermost of our proxies wrote; where the list is shorter than our row of
 * proxies (one of them sets it afresh), its first.
 * @param {string | readonly string[] | undefined} header
 * @param {number} proxies
 */
function writtenByOurs(header, proxies) {
  if (proxies === 0 || header === undefined) return undefined;
  const entries = (typeof header === "string" ? header : header.join(",")).split(",").map((entry) => entry.trim());
  return entries[Math.max(0, entries.length - proxies)];
}

/**
 * An address without its port, its brackets and its IPv6 clothing.
 * @param {string} text
 */
function plain(text) {
  const bare = /^\[([^\]]+)\](?::\d+)?$/.exec(text)?.[1] ?? /^([\d.]+):\d+$/.exec(text)?.[1] ?? text;
  return bare.replace(/^::ffff:(?=\d+\.)/i, "");
}

/**
 * @param {string} scheme
 * @param {string} host
 */
function originOf(scheme, host) {
  const text = `${scheme}://${host}`;
  if (/[\s/@?#\\]/.test(host) || !URL.canParse(text)) return null;
  return new URL(text).origin;
}
