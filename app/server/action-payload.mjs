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
  const called = headers["next-action"] !== undefined;
  if (method !== "POST") return called ? NOT_OURS : null;
  if (!/^multipart\/form-data\b/i.test(type)) return called || /^application\/x-www-form-urlencoded\b/i.test(type) && body.includes("ACTION_") ? NOT_OURS : null;
  /** @type {FormData} */
  let form;
  try {
    form = await new Response(new Uint8Array(body), { headers: { "content-type": type } }).formData();
  } catch {
    return NOT_OURS;
  }
  return (called ? isCall(form) : isForm(form)) ? null : NOT_OURS;
}

/**
 * Called by a script: the arguments stand in the part "0", a form among them in parts that begin with its number.
 * @param {FormData} form
 */
function isCall(form) {
  const root = form.getAll("0").length === 1 ? form.get("0") : null;
  if (!isReply(root, "0")) return false;
  // Every action takes a form, last; a state may come before it.
  const last = /** @type {unknown[]} */ (parsed(root)).at(-1);
  return typeof last === "string" && last.startsWith("$K");
}

/**
 * Sent without a script: the form names its action in a hidden part, with what is bound to it in two more.
 * @param {FormData} form
 */
function isForm(form) {
  const names = [...form.keys()].filter((name) => name.startsWith("$ACTION_") && name !== "$ACTION_KEY");
  let actions = 0;
  for (const name of names) {
    if (/^\$ACTION_ID_[0-9a-f]{42}$/.test(name)) {
      actions += 1;
      continue;
    }
    const [, ref, of] = /^\$ACTION_(?:REF_(\d{1,4})|(\d{1,4}):[01])$/.exec(name) ?? [];
    if (of !== undefined && names.includes(`$ACTION_REF_${of}`)) continue;
    if (ref === undefined || !isReference(form.getAll(`$ACTION_${ref}:0`)) || !isBound(form.getAll(`$ACTION_${ref}:1`))) return false;
    actions += 1;
  }
  return actions === 1 || names.length === 0;
}

/** @param {readonly unknown[]} told */
function isReference(told) {
  const read = told.length === 1 ? parsed(told[0]) : undefined;
  return typeof read === "object" && read !== null && "id" in read && typeof read.id === "string" && /^[0-9a-f]{42}$/.test(read.id)
    && "bound" in read && read.bound === "$@1" && Object.keys(read).length === 2;
}

/** @param {readonly unknown[]} told */
function isBound(told) {
  return told.length === 1 && isReply(told[0], "1");
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
