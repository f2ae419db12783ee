/**
 * The likeliest slips on a sheet that does not balance. For every weight and every way in which weights go wrong at the
 * block, the one correction is made and the balance struck again: what closes it is proposed, what does not is
 * dropped. Nothing is ever changed here; a cook weighs again, or corrects the row. A sheet that closes has no slips.
 *
 * "Closes" means: what is left over lies within the usual loss (usual-loss.ts), widened on both sides by what the steps
 * of the scale explain, m·d/2 for m readings in steps of d (`scaleTolerance`). Proposals are ranked by points: how
 * often such a slip is made, whether the figure itself gives it away (a weight between two steps of the scale, a unit
 * that no other row has, two rows that weigh the same), and whether the part then has the share it usually has. The
 * points are common practice, no source; a seeded sample in tests/yield measures how often they find the slip.
 */
import { type Problem, type Quantity, type Ratio, type Unit, ratio } from "@/lib/measure";
import { UNKNOWN_CAUSE } from "./balance";
import { type WeighedSheet, quantityInBase } from "./sheet";
import { type Entry, type KnownAtTheBlock, type Weighed, NO_CHANGE, closes, inUnitOf, keepsToStep, leftWith, partPlaces, sharePoints, weighedOf, wholeWith } from "./slip-balance";
import { correctionsOf } from "./slip-corrections";
import { type Proposal, type SlipKind, ODD_UNIT, OFF_THE_STEP, OFTEN, OF_A_KIND, BEYOND_USUAL, SAME_WEIGHT, SCALES_UNIT, UNUSUAL_BEFORE, USUAL_SHARE } from "./slip-points";
import { tubSlips } from "./slip-tubs";
import { type SlipWords, saySlip } from "./slip-words";

/** A weight of the sheet that a slip would correct. */
export interface SlipAt {
  /** "parts.2.weight", "billed", "cooking.cooked". */
  readonly path: string;
  readonly name: string;
  /** What stands on the sheet. */
  readonly typed: Quantity;
  /** What it would be; null where the row would be taken out. */
  readonly wouldBe: Quantity | null;
}

export interface Slip {
  readonly kind: SlipKind;
  /** The rows it could be in, likeliest first. For "no-tub-tared" all of them together; for "not-weighed" none. */
  readonly at: readonly SlipAt[];
  /** What would then be left unaccounted for: of the whole, 1 being all of it; below zero within the scale's tolerance. */
  readonly left: Ratio;
  /** The same in the unit of the whole; its size where it is below zero. */
  readonly leftWeight: Quantity;
  /** What a cook is asked, with the part, what was typed, what it would be and what would be left. */
  readonly sentence: string;
}

/** At most so many are proposed: a cook with cold hands reads no more. */
export const MOST_SLIPS = 3;

/**
 * At most three single slips, likeliest first, each of which alone would close the balance; [] when it closes already,
 * or when nothing single would close it. Weights that cannot be read (none, zero, of another kind) are not judged.
 */
export function likeliestSlips(sheet: WeighedSheet, known: KnownAtTheBlock = {}): readonly Slip[] {
  const weighed = weighedOf(sheet, known);
  if (weighed === null || closes(weighed, NO_CHANGE)) return [];
  const tried = [...figureSlips(weighed), ...tubSlips(weighed), ...twice(weighed)].filter((proposal) => closes(weighed, proposal));
  // A known tub closes the balance by its own weight, wherever in the usual loss that lands.
  const points = (proposal: Proposal): Proposal => (proposal.tub !== null ? proposal : { ...proposal, points: proposal.points - awayFromUsual(weighed, proposal) });
  return best([...tried.map(points), ...forgotten(weighed)]).map((proposal) => told(weighed, proposal));
}

function figureSlips(weighed: Weighed): readonly Proposal[] {
  const { entries, known, step } = weighed;
  const onStep = keepsToStep(weighed) ? step : null;
  const scale = known.scale ?? null;
  return entries.flatMap((entry, place) => correctionsOf(entry.told, scale, onStep).map(({ slip, wouldBe }): Proposal => {
    let points = OFTEN[slip] + sharePoints(weighed, entry, quantityInBase(wouldBe));
    if (onStep !== null && ratio.div(entry.weight, onStep).d !== 1n) points += OFF_THE_STEP;
    if (slip === "wrong-unit") points += unitPoints(weighed, entry, wouldBe.unit);
    if (slip === "ounces-as-decimals" && scale === "decimal lb") points -= OFF_THE_STEP;
    if (slip === "decimals-as-ounces" && scale === "decimal lb") points += OFF_THE_STEP;
    if (slip === "ounces-as-decimals" && scale === "lb and oz") points += OFF_THE_STEP;
    return { kind: slip, places: [place], wouldBe: [wouldBe], weights: [quantityInBase(wouldBe)], points, tub: null };
  }));
}

/** Of several corrections that close the balance, the one that leaves what is most usual is the likeliest: 0 to 5 points, and 12 beyond the usual. */
function awayFromUsual(weighed: Weighed, proposal: Proposal): number {
  const [place] = proposal.places;
  const ledger = weighed.ledgers.find((each) => place !== undefined && (each.parts.includes(place) || each.whole === place));
  if (ledger === undefined || ledger.usual === null) return 0;
  const whole = wholeWith(weighed, ledger, proposal);
  const { low, high } = ledger.usual;
  const width = ratio.sub(high, low);
  if (ratio.sign(width) <= 0) return 0;
  const off = ratio.sub(ratio.div(leftWith(weighed, ledger, proposal), whole), ratio.div(ratio.add(low, high), ratio.of(2n)));
  const tenths = ratio.floor(ratio.div(ratio.mul(ratio.sign(off) < 0 ? ratio.neg(off) : off, ratio.of(10n)), width));
  return tenths > 5n ? BEYOND_USUAL : Number(tenths);
}

/** A unit that no other row has is the likelier to be wrong; the scale's own unit the likelier to be right. */
function unitPoints({ entries, known }: Weighed, entry: Entry, wouldBe: Unit): number {
  const others = entries.filter((other) => other !== entry);
  let points = 0;
  if (others.every((other) => other.told.unit === wouldBe)) points += ODD_UNIT;
  const scale = known.scale ?? null;
  const scales: Unit | null = scale === null ? null : scale === "lb and oz" || scale === "decimal lb" ? "lb" : scale;
  if (scales !== null && wouldBe === scales && entry.told.unit !== scales) points += SCALES_UNIT;
  if (scales !== null && entry.told.unit === scales) points -= SCALES_UNIT;
  return points;
}

/** A part weighed with another and once more by itself. The only main part is never doubted. */
function twice(weighed: Weighed): readonly Proposal[] {
  const { entries } = weighed;
  const mains = entries.filter((entry) => entry.role === "main").length;
  return partPlaces(weighed).flatMap((place): readonly Proposal[] => {
    const entry = entries[place];
    if (entry === undefined || (entry.role === "main" && mains === 1)) return [];
    const same = entries.some((other, at) => at !== place && other.role !== "whole" && ratio.compare(other.weight, entry.weight) === 0);
    const first = entries.findIndex((other) => other.role !== "whole" && ratio.compare(other.weight, entry.weight) === 0);
    // Of two rows that weigh the same, the later is the repeated one.
    if (same && first === place) return [];
    return [{ kind: "weighed-twice", places: [place], wouldBe: [null], weights: [ratio.ZERO], points: OFTEN["weighed-twice"] + (same ? SAME_WEIGHT : 0), tub: null }];
  });
}

/** More left over than is usual: a part that was never weighed. It closes every balance, and more so where a usual part is not on the sheet. */
function forgotten(weighed: Weighed): readonly Proposal[] {
  const lost = tooMuchLeft(weighed);
  if (lost === null) return [];
  const missing = missingPart(weighed, lost);
  return [{ kind: "not-weighed", places: [], wouldBe: [], weights: [], points: OFTEN["not-weighed"] + (missing === null ? 0 : USUAL_SHARE + UNUSUAL_BEFORE), tub: null }];
}

/** What is left of the first ledger that leaves more than usual; null where none does. */
function tooMuchLeft(weighed: Weighed): Ratio | null {
  if (weighed.sheet.kind === "hydration") return null;
  for (const ledger of weighed.ledgers) {
    if (ledger.usual === null) continue;
    const high = ratio.mul(wholeWith(weighed, ledger, NO_CHANGE), ledger.usual.high);
    if (ratio.compare(ledger.left, ratio.add(high, ledger.tolerance)) > 0) return ledger.left;
  }
  return null;
}

/** The usual part that is not on the sheet and whose share is about what is left; where none fits, null. */
function missingPart({ sheet, known }: Weighed, lost: Ratio): string | null {
  const usual = known.usual ?? null;
  if (usual === null) return null;
  const whole = quantityInBase(sheet.billed);
  const on = new Set(sheet.parts.map((part) => part.key));
  for (const [key, { name, share }] of usual.shares) {
    if (on.has(key)) continue;
    const expected = ratio.mul(share, whole);
    const most = ratio.add(ratio.mul(expected, ratio.of(3n, 2n)), ratio.mul(whole, usual.loss?.high ?? ratio.ZERO));
    if (ratio.compare(lost, ratio.div(expected, ratio.of(2n))) >= 0 && ratio.compare(lost, most) <= 0) return name;
  }
  return null;
}

/** Slips that the balance alone cannot place: one proposal names every row it could be in (a tub), or the two likeliest (a digit). */
const ROWS_TOGETHER: Readonly<Partial<Record<SlipKind, number>>> = {
  "tub-not-tared": 60, "tare-taken-twice": 60, "digits-swapped": 2, "digit-dropped": 2, "digit-doubled": 2,
};

/** The best of each kind of slip at each place, told together where the balance cannot place them; then the best three. */
function best(proposals: readonly Proposal[]): readonly Proposal[] {
  const byPoints = [...proposals].sort((a, b) => b.points - a.points);
  const kept: Proposal[] = [];
  for (const proposal of byPoints) {
    const [place] = proposal.places;
    const together = ROWS_TOGETHER[proposal.kind] ?? 1;
    const like = kept.findIndex((other) => other.kind === proposal.kind && other.tub === proposal.tub && (together > 1 || other.places[0] === place));
    const known = kept[like];
    if (known === undefined) kept.push(proposal);
    else if (place !== undefined && !known.places.includes(place) && known.places.length < together) {
      kept[like] = { ...known, places: [...known.places, place], wouldBe: [...known.wouldBe, ...proposal.wouldBe], weights: [...known.weights, ...proposal.weights] };
    }
  }
  const chosen: Proposal[] = [];
  const points = (proposal: Proposal): number => proposal.points - OF_A_KIND * chosen.filter((other) => other.kind === proposal.kind).length;
  while (chosen.length < MOST_SLIPS) {
    const rest = kept.filter((proposal) => !chosen.includes(proposal));
    const [first] = rest;
    if (first === undefined) break;
    chosen.push(rest.reduce((most, proposal) => (points(proposal) > points(most) ? proposal : most), first));
  }
  return chosen;
}

function told(weighed: Weighed, proposal: Proposal): Slip {
  const { entries, sheet } = weighed;
  const at = proposal.places.map((place, index): SlipAt => {
    const entry = entries[place];
    if (entry === undefined) throw new Error("expected a slip to stand at a weight of the sheet");
    return { path: entry.path, name: entry.name, typed: entry.told, wouldBe: proposal.wouldBe[index] ?? null };
  });
  const together = proposal.kind === "no-tub-tared";
  const change = together ? proposal : { places: proposal.places.slice(0, 1), weights: proposal.weights.slice(0, 1) };
  const ledger = weighed.ledgers.find((each) => proposal.places.some((place) => each.parts.includes(place) || each.whole === place)) ?? weighed.ledgers[0];
  if (ledger === undefined) throw new Error("expected a sheet to have a balance");
  const whole = wholeWith(weighed, ledger, change);
  const lost = tooMuchLeft(weighed);
  const left = proposal.kind === "not-weighed" && lost !== null ? lost : leftWith(weighed, ledger, change);
  const unit = sheet.billed.unit;
  const size = ratio.sign(left) < 0 ? ratio.neg(left) : left;
  const words: SlipWords = {
    kind: proposal.kind, at, tub: proposal.tub, left, whole, unit,
    missing: lost === null ? null : missingPart(weighed, lost), purged: sheet.cooking !== null || sheet.parts.some((part) => part.role === "purge"),
  };
  return { kind: proposal.kind, at, left: ratio.div(left, whole), leftWeight: inUnitOf(sheet.billed, size), sentence: saySlip(words) };
}

/**
 * The readings of a figure that has several ("2.12 lb, or 2 lb 12 oz?"), those first that close the balance of the
 * sheet they stand on at `path` ("parts.2.weight" or "billed"). Nothing is switched: a person still chooses.
 */
export function closingFirst<C extends { readonly quantity: Quantity }>(choices: readonly C[], sheet: WeighedSheet, path: string, known: KnownAtTheBlock = {}): readonly C[] {
  const closing = choices.filter((choice) => balances(putAt(sheet, path, choice.quantity), known));
  return [...closing, ...choices.filter((choice) => !closing.includes(choice))];
}

/** True when the sheet's weights leave what is usual, within the scale's tolerance; false too where they cannot be read. */
export function balances(sheet: WeighedSheet, known: KnownAtTheBlock = {}): boolean {
  const weighed = weighedOf(sheet, known);
  return weighed !== null && closes(weighed, NO_CHANGE);
}

/** The sheet with another weight at a path; as it was where the path names no weight. */
export function putAt(sheet: WeighedSheet, path: string, quantity: Quantity): WeighedSheet {
  if (path === "billed") return { ...sheet, billed: quantity };
  if (sheet.cooking !== null && path === "cooking.trimmed") return { ...sheet, cooking: { ...sheet.cooking, trimmed: quantity } };
  if (sheet.cooking !== null && path === "cooking.cooked") return { ...sheet, cooking: { ...sheet.cooking, cooked: quantity } };
  const index = /^parts\.(\d+)\.weight$/.exec(path)?.[1];
  return index === undefined ? sheet : { ...sheet, parts: sheet.parts.map((part, place) => (String(place) === index ? { ...part, weight: quantity } : part)) };
}

/** The refusal of a sheet whose parts exceed its whole, with the likeliest slip in the place of the usual two. */
export function withLikeliestSlip(problems: readonly Problem[], sheet: WeighedSheet): readonly Problem[] {
  if (!problems.some((problem) => problem.sentence.endsWith(UNKNOWN_CAUSE))) return problems;
  // Without the kitchen's tubs a tub's weight is a guess, and no better than the usual two causes.
  const slip = likeliestSlips(sheet).find((each) => each.kind !== "no-tub-tared" && each.kind !== "tub-not-tared");
  if (slip === undefined) return problems;
  return problems.map((problem) => ({ ...problem, sentence: problem.sentence.replace(UNKNOWN_CAUSE, slip.sentence) }));
}
