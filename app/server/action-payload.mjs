/**
 * Whether a sent form is one that React could have made. Next and React take apart what a server action is called with
 * before any code of ours runs, and fail on what their own encoding never has: that is the sender's mistake, and is told as
 * one. Looked at is the encoding alone; what the fields say is judged where they are read.
 */

/** @type {import("./refuse.mjs").Refusal} */
const NOT_OURS = {
  status: 400, code: "form", title: "What was sent cannot be read",
  sentence: "What was sent is not what a form of this app sends. Nothing was saved. Open the page again and send it from there.",
};

/** Nested deeper than any state of a form is. */
const DEEPEST = 40;

/**
 * What is wrong with the body of a request that calls an action; null when nothing is, or when it calls none.
 * @param {import("node:http").IncomingMessage} request
 * @param {Buffer} body
 * @returns {Promise<import("./refuse.mjs").Refusal | null>}
 */
export async function refusalOfAction({ method, headers }, body) {
  const type = String(headers["content-type"] ?? "");
  const called = headers["next-action"];
  if (called !== undefined) {
    const takes = argumentsOf(called);
    if (method !== "POST" || takes === null) return NOT_OURS;
    // Without a form among its arguments a call is the bare list.
    if (takes === 0 && /^text\/plain\b/i.test(type)) return isReply(body.toString(), "0") ? null : NOT_OURS;
  }
  if (method !== "POST") return null;
  if (!/^multipart\/form-data\b/i.test(type)) return called !== undefined || /^application\/x-www-form-urlencoded\b/i.test(type) && body.includes("ACTION_") ? NOT_OURS : null;
  /** @type {FormData} */
  let form;
  try {
    form = await new Response(new Uint8Array(body), { headers: { "content-type": type } }).formData();
  } catch {
    return NOT_OURS;
  }
  return (called !== undefined ? isCall(form, argumentsOf(called) ?? 0) : isForm(form)) ? null : NOT_OURS;
}

/**
 * How many arguments an action takes. Next writes it into the first two digits of its id: a bit for each, the first of them
 * the second highest. null for what is no id.
 * @param {unknown} id
 * @returns {number | null}
 */
function argumentsOf(id) {
  if (typeof id !== "string" || !/^[0-9a-f]{42}$/.test(id)) return null;
  const bits = (Number.parseInt(id.slice(0, 2), 16) >> 1) & 0b111111;
  return [32, 16, 8, 4, 2, 1].findLastIndex((bit) => (bits & bit) !== 0) + 1;
}

/**
 * Called by a script: the arguments stand in the part "0", a form among them in parts that begin with its number. Every
 * action that takes anything takes a form last, with a state before it or none.
 * @param {FormData} form
 * @param {number} takes
 */
function isCall(form, takes) {
  const root = form.getAll("0").length === 1 ? form.get("0") : null;
  if (!isReply(root, "0")) return false;
  if (takes === 0) return true;
  const list = /** @type {unknown[]} */ (parsed(root));
  const last = list.at(-1);
  return list.length === takes && typeof last === "string" && last.startsWith("$K");
}

/**
 * Sent without a script: the form names its action in a hidden part, with what is bound to it in two more.
 * @param {FormData} form
 */
function isForm(form) {
  const names = [...form.keys()].filter((name) => name.startsWith("$ACTION_") && name !== "$ACTION_KEY");
  let actions = 0;
  for (const name of names) {
    if (name.startsWith("$ACTION_ID_")) {
      if ((argumentsOf(name.slice("$ACTION_ID_".length)) ?? 2) > 1) return false;
      actions += 1;
      continue;
    }
    const [, ref, of] = /^\$ACTION_(?:REF_(\d{1,4})|(\d{1,4}):[01])$/.exec(name) ?? [];
    if (of !== undefined && names.includes(`$ACTION_REF_${of}`)) continue;
    const takes = ref === undefined ? null : argumentsOf(idIn(form.getAll(`$ACTION_${ref}:0`)));
    if (takes === null || !isBound(form.getAll(`$ACTION_${ref}:1`), takes - 1)) return false;
    actions += 1;
  }
  return actions === 1 || names.length === 0;
}

/** @param {readonly unknown[]} told @returns {unknown} */
function idIn(told) {
  const read = told.length === 1 ? parsed(told[0]) : undefined;
  return typeof read === "object" && read !== null && "id" in read && "bound" in read && read.bound === "$@1" && Object.keys(read).length === 2 ? read.id : undefined;
}

/** What goes before the form, which Next puts last. @param {readonly unknown[]} told @param {number} many */
function isBound(told, many) {
  return told.length === 1 && isReply(told[0], "1") && /** @type {unknown[]} */ (parsed(told[0])).length === many;
}

/**
 * A list of arguments in React's encoding, as far as forms use it: plain data, in which text that begins with a $ is written
 * with two, "$undefined" is nothing, "$K1" the form whose parts begin with 1_, and "$0:1:values" something that stands in
 * the list (itself the part 0) already.
 * @param {unknown} text
 * @param {string} part
 */
function isReply(text, part) {
  const root = parsed(text);
  if (!Array.isArray(root)) return false;
  /** @type {{ readonly value: unknown, readonly depth: number }[]} */
  const waiting = [{ value: root, depth: 0 }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const { value, depth } = next;
    if (depth > DEEPEST) return false;
    if (typeof value === "string" && value.startsWith("$") && !isWord(value, root, part)) return false;
    if (typeof value !== "object" || value === null) continue;
    if (Object.hasOwn(value, "__proto__")) return false;
    for (const one of Object.values(value)) waiting.push({ value: one, depth: depth + 1 });
  }
  return true;
}

/** @param {string} word @param {unknown} root @param {string} part */
function isWord(word, root, part) {
  if (word.startsWith("$$") || /^\$(?:undefined|NaN|-?Infinity|-0|K[0-9a-f]{1,4})$/.test(word)) return true;
  const [number, ...steps] = word.slice(1).split(":");
  if (number !== part) return false;
  let there = root;
  for (const step of steps) {
    if (typeof there !== "object" || there === null || !Object.hasOwn(there, step)) return false;
    there = /** @type {Record<string, unknown>} */ (there)[step];
  }
  return typeof there === "object" && there !== null && there !== root;
}

/** @param {unknown} text @returns {unknown} */
function parsed(text) {
  if (typeof text !== "string") return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
