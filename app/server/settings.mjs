/**
 * What whoever runs the app may set about its being reached: PUBLIC_URL, the one address people open; TRUST_PROXY, how
 * many proxies stand before the app; LOG, how it writes its log. Whatever is set wrongly is told in a sentence at the
 * start, rather than half believed.
 */

/** A sentence for whoever set it. */
export class SettingProblem extends Error {}

/**
 * @typedef {object} Settings
 * @property {URL | null} publicUrl The origin people open, where it is not the one that requests arrive with.
 * @property {number} proxies How many proxies stand before the app and append to X-Forwarded-For; 0 where people come straight.
 * @property {"pretty" | "json"} log
 */

/**
 * @param {Readonly<Record<string, string | undefined>>} env
 * @param {{ readonly terminal: boolean }} where Whether a person is likely to be looking on.
 * @returns {Settings}
 */
export function readSettings(env, { terminal }) {
  return { publicUrl: readPublicUrl(env.PUBLIC_URL?.trim() ?? ""), proxies: readProxies(env.TRUST_PROXY?.trim() ?? ""), log: readLog(env.LOG?.trim() ?? "", terminal) };
}

/** @param {string} text */
function readPublicUrl(text) {
  if (text === "") return null;
  const url = URL.canParse(text) ? new URL(text) : null;
  if (url === null || !["http:", "https:"].includes(url.protocol) || url.pathname !== "/" || url.search !== "" || url.hash !== "" || url.username !== "") {
    throw new SettingProblem(`PUBLIC_URL is "${text}", and should be the address people open, without a path: https://kitchen.example`);
  }
  return url;
}

/** @param {string} text */
function readProxies(text) {
  if (text === "") return 0;
  if (!/^\d$/.test(text)) throw new SettingProblem(`TRUST_PROXY is "${text}", and should be how many proxies stand before the app: 0 for none, 1 for one.`);
  return Number(text);
}

/**
 * @param {string} text
 * @param {boolean} terminal
 * @returns {"pretty" | "json"}
 */
function readLog(text, terminal) {
  if (text === "") return terminal ? "pretty" : "json";
  if (text !== "pretty" && text !== "json") throw new SettingProblem(`LOG is "${text}", and should be "pretty" (short lines to read) or "json" (one object a line).`);
  return text;
}
