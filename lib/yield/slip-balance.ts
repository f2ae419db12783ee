/**
 * The balance of a sheet as the search for slips strikes it, over and over: every weight by its place, every whole with
 * what was weighed of it, and whether what is left is usual. Changing one weight changes what is left by as much, so a
 * correction is judged without adding the sheet up again.
 */
import { type Quantity, type Ratio, type ScaleReading, baseFactor, kindOf, ratio } from "@/lib/measure";
import { scaleTolerance } from "./balance";
import { type SheetRole, type WeighedPart, type WeighedSheet, quantityInBase } from "./sheet";
import { UNUSUAL_BEFORE, USUAL_SHARE } from "./slip-points";
import { type Usual, type UsualLoss, leftBy, usualLossOf } from "./usual-loss";

/** What is known beside the sheet; all of it may be left out. */
export interface KnownAtTheBlock {
  /** How the scale reads; null where nobody has said. */
  readonly scale?: ScaleReading | null | undefined;
  /** What the kitchen's empty tubs weigh. */
  readonly tares?: readonly Quantity[] | undefined;
  /** Keys of the parts that were weighed without a tare being taken off; where given, only their tubs are doubted. */
  readonly untared?: ReadonlySet<string> | undefined;
  /** How often the scale was read for a part, by key; else once for it or each of its pieces. */
  readonly weighings?: ReadonlyMap<string, number> | undefined;
  /** What earlier tests of the same thing say. */
  readonly usual?: Usual | null | undefined;
  /** False while parts are still being weighed: then only too much weight is a sign of a slip. */
  readonly finished?: boolean | undefined;
}

/** A weight on the sheet, in base units. */
export interface Entry {
  readonly path: string;
  readonly name: string;
  readonly role: SheetRole | "whole";
  readonly key: string | null;
  readonly told: Quantity;
  readonly weight: Ratio;
  readonly weighings: number;
}

/** One whole and what was weighed of it, by place in the entries. A cooking sheet has three, one for each loss. */
export interface Ledger {
  readonly whole: number;
  readonly parts: readonly number[];
  readonly usual: UsualLoss | null;
  /** What it leaves as the sheet stands, in base units. */
  readonly left: Ratio;
  /** What the steps of the scale explain: m·d/2 for its m readings; none where the step was not said. */
  readonly tolerance: Ratio;
}

export interface Weighed {
  readonly sheet: WeighedSheet;
  readonly entries: readonly Entry[];
  readonly ledgers: readonly Ledger[];
  /** The scale's step in base units, or null where it was not said or measures something else. */
  readonly step: Ratio | null;
  readonly known: KnownAtTheBlock;
}

/** The sheet laid out for its balance; null where its weights cannot be compared (none, zero, of another kind). */
export function weighedOf(sheet: WeighedSheet, known: KnownAtTheBlock): Weighed | null {
  const entries = entriesOf(sheet, known);
  if (entries === null) return null;
  const step = sheet.scaleStep === null || kindOf(sheet.scaleStep.unit) !== kindOf(sheet.billed.unit) ? null : quantityInBase(sheet.scaleStep);
  return { sheet, entries, ledgers: ledgersOf(sheet, entries, step, known), step, known };
}

function entriesOf(sheet: WeighedSheet, known: KnownAtTheBlock): readonly Entry[] | null {
  const measure = kindOf(sheet.billed.unit);
  const whole = (path: string, name: string, quantity: Quantity): Entry => ({ path, name, role: "whole", key: null, told: quantity, weight: quantityInBase(quantity), weighings: 1 });
  const entries = [
    whole("billed", "the whole piece", sheet.billed),
    ...(sheet.cooking === null ? [] : [whole("cooking.trimmed", "the trimmed weight", sheet.cooking.trimmed), whole("cooking.cooked", "the cooked weight", sheet.cooking.cooked)]),
    ...sheet.parts.map((part, index): Entry => ({
      path: `parts.${index}.weight`, name: part.name.trim() === "" ? `Part ${index + 1}` : part.name, role: part.role, key: part.key,
      told: part.weight, weight: quantityInBase(part.weight), weighings: known.weighings?.get(part.key) ?? Math.max(1, part.pieces.length),
    })),
  ];
  const readable = sheet.parts.length > 0 && entries.every((entry) => kindOf(entry.told.unit) === measure && ratio.sign(entry.weight) > 0);
  return readable ? entries : null;
}

function ledgersOf(sheet: WeighedSheet, entries: readonly Entry[], step: Ratio | null, known: KnownAtTheBlock): readonly Ledger[] {
  const places = (wanted: (part: WeighedPart) => boolean): readonly number[] => sheet.parts.flatMap((part, index) => (wanted(part) ? [entries.length - sheet.parts.length + index] : []));
  const ledger = (whole: number, parts: readonly number[], usual: UsualLoss | null): Ledger => {
    const left = ratio.sub(entries[whole]?.weight ?? ratio.ZERO, ratio.sum(parts.map((place) => entries[place]?.weight ?? ratio.ZERO)));
    const readings = [whole, ...parts].reduce((count, place) => count + (entries[place]?.weighings ?? 1), 0);
    return { whole, parts, usual, left, tolerance: step === null ? ratio.ZERO : scaleTolerance(readings, step) };
  };
  const unfinished = known.finished === false;
  if (sheet.cooking === null) {
    const usual = known.usual?.loss ?? usualLossOf(sheet);
    // Until all is weighed, what is left says nothing; and a sheet that takes up water cannot be judged at all.
    const judged = unfinished ? (sheet.kind === "hydration" ? { low: ratio.of(-100n), high: ratio.ONE, believable: ratio.ONE } : null) : usual;
    return [ledger(0, places(() => true), judged)];
  }
  return [
    ledger(0, [1, ...places((part) => part.role === "purge")], null),
    ledger(1, [2], leftBy("cook")),
    ledger(2, places((part) => part.role !== "purge"), unfinished ? null : leftBy("carve")),
  ];
}

/** What a ledger leaves when some weights are other ones, in base units. */
export function leftWith({ entries }: Weighed, ledger: Ledger, change: Change): Ratio {
  return change.places.reduce((left, place, index) => {
    const more = ratio.sub(change.weights[index] ?? ratio.ZERO, entries[place]?.weight ?? ratio.ZERO);
    return ledger.whole === place ? ratio.add(left, more) : ledger.parts.includes(place) ? ratio.sub(left, more) : left;
  }, ledger.left);
}

/** The weight of a ledger's whole when some weights are other ones. */
export function wholeWith({ entries }: Weighed, ledger: Ledger, change: Change): Ratio {
  const index = change.places.indexOf(ledger.whole);
  return (index < 0 ? entries[ledger.whole]?.weight : change.weights[index]) ?? ratio.ZERO;
}

/** Other weights at some places, in base units. */
export interface Change {
  readonly places: readonly number[];
  readonly weights: readonly Ratio[];
}
export const NO_CHANGE: Change = { places: [], weights: [] };

/**
 * Whether every ledger leaves what is usual. Without a usual loss anything from none to all of the whole may be left. A
 * ledger whose parts were too heavy may, once mended, leave what is believable.
 */
export function closes(weighed: Weighed, change: Change): boolean {
  return weighed.ledgers.every((ledger) => {
    const whole = wholeWith(weighed, ledger, change);
    const left = leftWith(weighed, ledger, change);
    const low = ratio.sub(ratio.mul(whole, ledger.usual?.low ?? ratio.ZERO), ledger.tolerance);
    const most = ledger.usual === null ? ratio.ONE : change !== NO_CHANGE && ratio.sign(ledger.left) < 0 ? ledger.usual.believable : ledger.usual.high;
    const high = ledger.usual === null ? whole : ratio.add(ratio.mul(whole, most), ledger.tolerance);
    return ratio.compare(left, low) >= 0 && ratio.compare(left, high) <= 0;
  });
}

/** True where most weights of the sheet are whole steps of the scale, so that one between two steps stands out. */
export function keepsToStep({ entries, step }: Weighed): boolean {
  return step !== null && entries.filter((entry) => ratio.div(entry.weight, step).d === 1n).length * 2 > entries.length;
}

export function partPlaces({ entries }: Weighed): readonly number[] {
  return entries.flatMap((entry, place) => (entry.role === "whole" ? [] : [place]));
}

const QUARTER = ratio.of(1n, 4n);
const TWO_POINTS = ratio.of(2n, 100n);

/** How a part's share of the whole compares with what it usually is, before and after. */
export function sharePoints({ sheet, known }: Weighed, entry: Entry, weight: Ratio): number {
  if (entry.key === null) return 0;
  const usual = known.usual?.shares.get(entry.key)?.share;
  if (usual === undefined) return 0;
  const whole = quantityInBase(sheet.billed);
  const near = (share: Ratio): boolean => {
    const off = ratio.sub(share, usual);
    const size = ratio.sign(off) < 0 ? ratio.neg(off) : off;
    const allowed = ratio.mul(usual, QUARTER);
    return ratio.compare(size, ratio.compare(allowed, TWO_POINTS) < 0 ? allowed : TWO_POINTS) <= 0;
  };
  const before = near(ratio.div(entry.weight, whole));
  const after = near(ratio.div(weight, whole));
  return (after ? USUAL_SHARE : -USUAL_SHARE) + (before ? -UNUSUAL_BEFORE : UNUSUAL_BEFORE);
}

/** A weight told like another: pounds with their ounces where that one had them. */
export function inUnitOf(like: Quantity, weight: Ratio): Quantity {
  return { amount: ratio.toExact(ratio.div(weight, ratio.fromExact(baseFactor(like.unit)))), unit: like.unit };
}
