/**
 * Packs as the trade writes them. "4/5 lb" is a case of 4 of 5 lb each, "6/102 oz can" six cans, "80 ct" eighty pieces,
 * "case of 4 bags of 5 lb" the same in words, "13 1/2 lb, catch weight" a piece billed by what it weighs, "2/13# avg" two
 * of them, "12-14 lb avg" one of a range. A slash between two numbers is a count here, not a fraction; the few that a
 * kitchen also uses as fractions are asked about. A # behind a number is pounds; before one it names a can: what that
 * holds stands on its label, so "6/#10" is asked about and "6/#10 (102 oz)" is a pack.
 */
import {
  type Checked, type Exact, type Habits, type Kind, type Quantity, bad, exact, good, parseNumber, parseQuantity, printNumber, quantityText, quoted, ratio, toDecimal,
} from "@/lib/measure";
import { CAN_SIZES_SOURCE, canSizeOf } from "./can-sizes";
import type { Pack, PackLevel } from "./item";

const ANY_KIND: readonly Kind[] = ["mass", "volume", "count"];
const MOST_LEVELS = 4;
const LONGEST_CONTAINER = 40;
const FRACTIONS = new Set(["1/2", "1/3", "2/3", "1/4", "3/4", "1/8"]);
/** Sizes in which shrimp are sold, so many to a pound: "16/20 ct" says nothing of the pack. Usual trade sizes, no source. */
const PER_POUND = new Set(["8/12", "13/15", "16/20", "21/25", "26/30", "31/35", "31/40", "36/40", "41/50", "51/60", "61/70", "71/90"]);
const HOW = "write it as 40 lb, 4/5 lb, 6/102 oz can, 80 ct or case of 4 bags of 5 lb";
/** "#10", "No. 2 1/2", "#2.5 can": the number of a can's size. Behind a figure a # is pounds. */
const CAN = /(?<![\d\p{L}])(?:#|no\. ?|no (?=\d))(\d{1,3})( ?1[/⁄∕]2(?!\d)| ?½|\.5(?!\d))?(?![\d./])(?: ?cans?\b)?/iu;
const CONTENT_BEHIND = /^(?:\(([^()]*)\)|(?:of|,|@)? ?(\d[^()]*))$/i;
const IN_WORDS = /^(?:(an?|[^\p{L}/⁄∕#()]*\d) )?((?:#\d{1,3}½? )?\p{L}[\p{L} -]{0,30}?)( \([^()]{1,28}\))?$/iu;
const RANGE = /^([\d.,]+(?: \d+\/\d+)?) ?(?:-|–|to) ?([\d.,]+(?: \d+\/\d+)?) ?([^\d].*)$/i;
const SAYS_CATCH = /\bcatch[ -]?weight\b|\bc\/?w\b/i;
const SAYS_MEAN = /(?:\b|(?<=[\d#]))(?:avg|average|ave)\b\.?/i;

/** What a whole pack holds, as an exact quantity in the unit of its innermost size. */
export function packContent(pack: Pack): Quantity {
  const amount = pack.levels.reduce((total, level) => ratio.mul(total, ratio.fromExact(level.count)), ratio.fromExact(pack.size.amount));
  return { amount: ratio.toExact(amount), unit: pack.size.unit };
}

/**
 * Reads a pack. What is a question rather than a mistake has a code of its own: can-size (a size without what it holds),
 * two-readings, weight-range (a range that nobody said is billed by weight), no-unit.
 */
export function parsePack(text: string, habits: Habits): Checked<Pack> {
  if (text.length > 200) return bad("", "too-long", `A pack is told in a few words; this is ${text.length} characters: ${HOW}.`);
  const catchWeight = SAYS_CATCH.test(text) || SAYS_MEAN.test(text);
  const bare = text.replace(SAYS_CATCH, " ").replace(SAYS_MEAN, " ").replace(/\b(?:about|approx)\b\.?|~/gi, " ")
    .replace(/\s+/g, " ").replace(/(?: ?,)+ ?$/, "").replace(/ ,/g, ",").trim();
  if (bare === "") return bad("", "no-pack", `Say what the pack holds: ${HOW}.`);
  const cans = cansIn(bare, habits);
  const read = cans !== null ? inCans(text, cans, habits) : / of /i.test(` ${bare} `) ? inWords(bare, catchWeight, habits) : inNotation(bare, catchWeight, habits);
  return read.ok ? good({ ...read.value, catchWeight }) : read;
}

/**
 * A pack of cans told by their size alone, "6/#10", as far as that goes: so many cans, each counted as one. null where the
 * text is no such thing. For a price list, which keeps such a line readable until somebody says what a can holds.
 */
export function packOfCans(text: string, habits: Habits): Pack | null {
  if (text.length > 200) return null;
  const cans = cansIn(text.replace(/\s+/g, " ").trim(), habits);
  if (cans === null || !cans.levels.ok || cans.content !== null) return null;
  return { levels: cans.levels.value, size: { amount: exact("1"), unit: "each" }, catchWeight: false };
}

type Content = Omit<Pack, "catchWeight">;

interface Cans {
  readonly levels: Checked<readonly PackLevel[]>;
  /** What is written behind the size; null: nothing. */
  readonly content: string | null;
}

/** The levels and the content of a pack that names a can size in the trade's short form; null where it does not. */
function cansIn(text: string, habits: Habits): Cans | null {
  const match = CAN.exec(text);
  if (match === null) return null;
  const before = text.slice(0, match.index).trim();
  const behind = text.slice(match.index + match[0].length).trim();
  const content = behind === "" ? null : CONTENT_BEHIND.exec(behind);
  // Further steps in words behind the can are told apart there.
  if (behind !== "" && (content === null || / of /i.test(content[2] ?? ""))) return null;
  const container = `#${match[1] ?? ""}${match[2] === undefined ? "" : "½"} can`;
  const words = before === "" ? [] : before.split(/ of /i).map((step) => step.trim());
  const counts = words.pop() ?? "";
  const levels: PackLevel[] = [];
  for (const step of words) {
    const level = levelIn(step, habits);
    if (!level.ok) return { levels: level, content: null };
    levels.push(level.value);
  }
  if (levels.length === 0) levels.push({ count: exact("1"), container: "case" });
  const steps = counts.replace(/ ?[/x×]$/i, "").split(/ ?(?:\/|(?<=\d) ?[x×] ?(?=\d)) ?/i);
  for (const [index, step] of steps.entries()) {
    const count = countOf(step === "" && steps.length === 1 ? undefined : step, habits);
    if (!count.ok) return { levels: count, content: null };
    levels.push({ count: count.value, container: index === steps.length - 1 ? container : "pack" });
  }
  return { levels: good(levels), content: content === null ? null : (content[1] ?? content[2] ?? "").trim() };
}

function inCans(text: string, { levels, content }: Cans, habits: Habits): Checked<Content> {
  if (!levels.ok) return levels;
  if (content !== null) return sized(levels.value, content, habits);
  const size = canSizeOf(levels.value.at(-1)?.container ?? "");
  const [from, to] = size === null ? ["", ""] : [quantityText(size.from, habits), quantityText(size.to, habits)];
  const usual = size === null ? "" : ` A ${size.name} can usually holds ${from === to ? from : `${from} to ${to}`} (${CAN_SIZES_SOURCE}).`;
  const example = habits.measures === "us" ? "102 oz" : quantityText({ amount: exact("2.9"), unit: "kg" }, habits);
  const number = /^#(\d+) can$/.exec(levels.value.at(-1)?.container ?? "")?.[1];
  if (size === null && number !== undefined && levels.value.length === 2 && ratio.compare(ratio.fromExact(levels.value[1]?.count ?? exact("1")), ratio.ONE) === 0) {
    return bad("", "can-size", `A # before a number names a can size, behind it pounds: write ${number}# or ${number} lb if those are meant, else what the can holds, such as 6/#10 (${example}).`);
  }
  return bad("", "can-size", `${quoted(text.trim())} names a can size, and what a can holds stands on its label: write it behind, such as 6/#10 (${example}), or 6/#10 (1 each) where it is costed by the can.${usual}`);
}

/** One step of a pack in words: a count and a container. */
function levelIn(step: string, habits: Habits): Checked<PackLevel> {
  const match = IN_WORDS.exec(step);
  if (!match) return bad("", "not-a-pack", `${quoted(step)} is not a number of containers: ${HOW}.`);
  const count = countOf(match[1], habits);
  if (!count.ok) return count;
  return good({ count: count.value, container: `${singular(match[2] ?? "case")}${match[3] ?? ""}` });
}

/** "case of 4 bags of 5 lb": every step but the last is a count of containers. */
function inWords(text: string, catchWeight: boolean, habits: Habits): Checked<Content> {
  const steps = text.split(/ of /i).map((step) => step.trim());
  const last = steps.pop() ?? "";
  const levels: PackLevel[] = [];
  for (const step of steps) {
    const level = levelIn(step, habits);
    if (!level.ok) return level;
    levels.push(level.value);
  }
  return ranged(levels, last, catchWeight, habits);
}

/** "6/102 oz can", "12 x 1 qt", "40 lb". */
function inNotation(text: string, catchWeight: boolean, habits: Habits): Checked<Content> {
  const steps = text.split(/\s*(?:\/|(?<=\d)\s*[x×]\s*(?=\d))\s*/i);
  const last = steps.pop() ?? "";
  if (/^#/.test(last)) {
    return bad("", "can-size", `In ${quoted(text)} the # stands before the number, which names a can size; pounds are written with it behind, such as 40#: ${HOW}.`);
  }
  const pair = `${steps[0] ?? ""}/${/^\d+/.exec(last)?.[0] ?? ""}`;
  if (steps.length === 1 && FRACTIONS.has(pair)) {
    return bad("", "two-readings", `${quoted(text)} could be a count or a fraction: write ${steps[0] ?? ""} x ${last}, or the amount as a decimal.`);
  }
  if (steps.length === 1 && PER_POUND.has(pair) && text.includes("/") && /^\d+ ?(?:ct|count)\b\.?$/i.test(last)) {
    return bad("", "two-readings", `${quoted(text)} could be ${steps[0] ?? ""} packs of ${last}, or a size of which so many go to a pound: write ${steps[0] ?? ""} x ${last}, or what the pack weighs, and put the size in the specification.`);
  }
  const word = / ([\p{L}]{3,20})$/u.exec(last);
  const alone = RANGE.test(last) && catchWeight ? null : parseQuantity(last, habits, { kinds: ANY_KIND });
  const container = word && (alone === null ? !endsInUnit(last, habits) : !alone.ok) ? singular(word[1] ?? "") : null;
  const size = container === null ? last : last.slice(0, -(word?.[0].length ?? 0));
  const each = catchWeight && steps.length > 0 ? "piece" : "pack";
  const levels: PackLevel[] = [];
  for (const [index, step] of steps.entries()) {
    const count = countOf(step, habits);
    if (!count.ok) return count;
    levels.push({ count: count.value, container: index === steps.length - 1 ? container ?? each : "pack" });
  }
  const outer: PackLevel = { count: exact("1"), container: steps.length === 0 && container !== null ? container : "case" };
  return ranged([outer, ...levels], size, catchWeight, habits);
}

/** Whether the last word of a range is its unit and no container: "12-14 pounds". */
function endsInUnit(text: string, habits: Habits): boolean {
  const range = RANGE.exec(text);
  return range !== null && parseQuantity(`${range[2] ?? ""} ${range[3] ?? ""}`, habits, { kinds: ANY_KIND }).ok;
}

/** "12-14 lb": where it is billed by weight, the mean is the estimate, and the range stays with the container's name. */
function ranged(levels: readonly PackLevel[], text: string, catchWeight: boolean, habits: Habits): Checked<Content> {
  const range = RANGE.exec(text);
  const [least, most] = [parseNumber(range?.[1] ?? "", habits), parseNumber(range?.[2] ?? "", habits)];
  const end = range === null ? null : parseQuantity(`${range[2] ?? ""} ${range[3] ?? ""}`, habits, { kinds: ANY_KIND });
  // 18-6 lb is eighteen pounds six.
  if (range === null || end === null || !end.ok || !least.ok || !most.ok || ratio.compare(ratio.fromExact(least.value), ratio.fromExact(most.value)) >= 0) return sized(levels, text, habits);
  if (!catchWeight) {
    return bad("", "weight-range", `${quoted(text)} is a range: write ${text} avg where it is billed by what it weighs, or what the pack holds.`);
  }
  const mean = ratio.toExact(ratio.div(ratio.add(ratio.fromExact(least.value), ratio.fromExact(most.value)), ratio.of(2n)));
  const [printedLeast, printedMost] = [least.value, most.value].map((end) => printNumber(toDecimal(end), habits));
  const words = ` (${printedLeast ?? ""} to ${printedMost ?? ""} ${end.value.unit})`;
  const last = levels.at(-1);
  const told = last === undefined ? [{ count: exact("1"), container: "piece" }] : levels;
  return sized(told.map((level, index) => {
    if (index !== told.length - 1) return level;
    const name = level.container === "case" && told.length === 1 ? "piece" : level.container;
    return { ...level, container: name.length + words.length <= LONGEST_CONTAINER && !name.includes("(") ? name + words : name };
  }), `${printNumber(toDecimal(mean), habits)} ${end.value.unit}`, habits);
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

/** Of a container with its range the word before it: "pieces (12 to 14 lb)". */
function plural(container: string): string {
  const at = container.indexOf(" (");
  const [word, range] = at < 0 ? [container, ""] : [container.slice(0, at), container.slice(at)];
  return `${/(?:x|ch|sh|s)$/.test(word) ? `${word}es` : `${word}s`}${range}`;
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
