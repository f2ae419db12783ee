/**
 * Packs as the trade writes them. "4/5 lb" is a case of 4 of 5 lb each, "6/102 oz can" six cans, "80 ct" eighty pieces,
 * "case of 4 bags of 5 lb" the same in words, "13 1/2 lb, catch weight" a piece billed by what it weighs. A slash
 * between two numbers is a count here, not a fraction; the few that a kitchen also uses as fractions are asked about.
 */
import {
  type Checked, type Exact, type Habits, type Kind, type Quantity, bad, exact, good, parseNumber, parseQuantity, printNumber, quantityText, quoted, ratio, toDecimal,
} from "@/lib/measure";
import type { Pack, PackLevel } from "./item";

const ANY_KIND: readonly Kind[] = ["mass", "volume", "count"];
const MOST_LEVELS = 4;
const FRACTIONS = new Set(["1/2", "1/3", "2/3", "1/4", "3/4", "1/8"]);
const HOW = "write it as 40 lb, 4/5 lb, 6/102 oz can, 80 ct or case of 4 bags of 5 lb";

/** What a whole pack holds, as an exact quantity in the unit of its innermost size. */
export function packContent(pack: Pack): Quantity {
  const amount = pack.levels.reduce((total, level) => ratio.mul(total, ratio.fromExact(level.count)), ratio.fromExact(pack.size.amount));
  return { amount: ratio.toExact(amount), unit: pack.size.unit };
}

export function parsePack(text: string, habits: Habits): Checked<Pack> {
  if (text.length > 200) return bad("", "too-long", `A pack is told in a few words; this is ${text.length} characters: ${HOW}.`);
  const catchWeight = /\bcatch[ -]?weight\b|\bc\/?w\b/i.test(text);
  const bare = text.replace(/,? *\b(?:catch[ -]?weight|c\/?w)\b/i, "").replace(/\babout\b/gi, "").replace(/\s+/g, " ").trim().replace(/,$/, "");
  if (bare === "") return bad("", "no-pack", `Say what the pack holds: ${HOW}.`);
  const read = / of /i.test(` ${bare} `) ? inWords(bare, habits) : inNotation(bare, habits);
  return read.ok ? good({ ...read.value, catchWeight }) : read;
}

type Content = Omit<Pack, "catchWeight">;

/** "case of 4 bags of 5 lb": every step but the last is a count of containers. */
function inWords(text: string, habits: Habits): Checked<Content> {
  const steps = text.split(/ of /i).map((step) => step.trim());
  const last = steps.pop() ?? "";
  const levels: PackLevel[] = [];
  for (const step of steps) {
    const match = /^(?:(an?|[^\p{L}/⁄∕]*\d) )?([\p{L}][\p{L} -]{0,30})$/iu.exec(step);
    if (!match) return bad("", "not-a-pack", `${quoted(step)} is not a number of containers: ${HOW}.`);
    const count = countOf(match[1], habits);
    if (!count.ok) return count;
    levels.push({ count: count.value, container: singular(match[2] ?? "case") });
  }
  return sized(levels, last, habits);
}

/** "6/102 oz can", "12 x 1 qt", "40 lb". */
function inNotation(text: string, habits: Habits): Checked<Content> {
  const steps = text.split(/\s*(?:\/|(?<=\d)\s*[x×]\s*(?=\d))\s*/i);
  const last = steps.pop() ?? "";
  if (/^#/.test(last)) {
    return bad("", "can-size", `${quoted(text)} names a can size, which says nothing exact about its weight: read the label and write, for example, 6/102 oz can.`);
  }
  if (steps.length === 1 && FRACTIONS.has(`${steps[0] ?? ""}/${/^\d+/.exec(last)?.[0] ?? ""}`)) {
    return bad("", "two-readings", `${quoted(text)} could be a count or a fraction: write ${steps[0] ?? ""} x ${last}, or the amount as a decimal.`);
  }
  const word = / ([\p{L}]{3,20})$/u.exec(last);
  const quantityAlone = parseQuantity(last, habits, { kinds: ANY_KIND });
  const container = !quantityAlone.ok && word ? singular(word[1] ?? "") : null;
  const size = container === null ? last : last.slice(0, -(word?.[0].length ?? 0));
  const levels: PackLevel[] = [];
  for (const [index, step] of steps.entries()) {
    const count = countOf(step, habits);
    if (!count.ok) return count;
    levels.push({ count: count.value, container: index === steps.length - 1 && container !== null ? container : "pack" });
  }
  const outer: PackLevel = { count: exact("1"), container: steps.length === 0 && container !== null ? container : "case" };
  return sized([outer, ...levels], size, habits);
}

function sized(levels: readonly PackLevel[], text: string, habits: Habits): Checked<Content> {
  if (levels.length > MOST_LEVELS) return bad("", "too-deep", `A pack nests at most ${MOST_LEVELS} deep: ${HOW}.`);
  const size = parseQuantity(text, habits, { kinds: ANY_KIND });
  if (!size.ok) {
    return /^[\d.,]+$/.test(text)
      ? bad("", "no-unit", `${quoted(text)} has no unit: say whether it is lb, oz, kg, L or each; ${HOW}.`)
      : size;
  }
  if (ratio.sign(ratio.fromExact(size.value.amount)) <= 0) return bad("", "not-above-zero", "What a pack holds is above zero.");
  return good({ levels, size: size.value });
}

function countOf(text: string | undefined, habits: Habits): Checked<Exact> {
  if (text === undefined || /^an?$/i.test(text)) return good(exact("1"));
  const number = parseNumber(text, habits);
  if (!number.ok || ratio.sign(ratio.fromExact(number.value)) <= 0) return bad("", "not-a-count", `${quoted(text)} is not a number of containers: ${HOW}.`);
  return number;
}

/** "bags" → "bag": what a level is called one at a time. */
function singular(word: string): string {
  const lower = word.trim().toLowerCase();
  if (/(?:x|ch|sh|ss)es$/.test(lower)) return lower.slice(0, -2);
  return /[^s]s$/.test(lower) ? lower.slice(0, -1) : lower;
}

function plural(word: string): string {
  return /(?:x|ch|sh|s)$/.test(word) ? `${word}es` : `${word}s`;
}

/** The pack in words that `parsePack` reads back: "case of 4 bags of 5 lb", "case of 80 each", "piece of about 13 lb, catch weight". */
export function printPack(pack: Pack, habits: Habits): string {
  const levels = pack.levels.map((level, index) => {
    const one = ratio.compare(ratio.fromExact(level.count), ratio.ONE) === 0;
    if (one) return index === 0 ? level.container : `1 ${level.container}`;
    return `${printNumber(toDecimal(level.count), habits)} ${plural(level.container)}`;
  });
  const size = `${pack.catchWeight ? "about " : ""}${quantityText(pack.size, habits)}`;
  return `${[...levels, size].join(" of ")}${pack.catchWeight ? ", catch weight" : ""}`;
}
