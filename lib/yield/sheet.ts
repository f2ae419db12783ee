/**
 * The sheet of a yield test as this room reads it: what the scale read and what things were worth, as plain records.
 * A recorded test fits `WeighedSheet` as it stands (weights alone decide yields); with each by-product's worth resolved
 * to a rate it is a `Sheet`, from which money follows. Reading a sheet checks everything a person can get wrong about
 * single figures (nothing weighed, a negative price, litres among pounds) and turns every weight into an exact ratio
 * of the measure's base unit (gram, millilitre, each), so that the formulas meet one unit only.
 */
import {
  type Checked, type Exact, type Kind, type Problem, type Quantity, type Rate, type Ratio, type Unit,
  baseFactor, good, kindOf, ratio,
} from "@/lib/measure";
import { scaleTolerance } from "./balance";
import { sayWeight } from "./words";

export type SheetKind = "butcher" | "trim" | "cooking" | "drained" | "hydration";
/**
 * main: what the piece was worked for. by-product: worth something to this house. discard: weighed and worth nothing;
 * it explains the yield. purge: liquid in the bag; it was billed.
 */
export type SheetRole = "main" | "by-product" | "discard" | "purge";

export interface WeighedPart {
  /** Stable within the sheet, shared by sheets that are pooled. */
  readonly key: string;
  readonly name: string;
  readonly role: SheetRole;
  readonly weight: Quantity;
  /** Mains only: what this part would cost bought ready trimmed. Never a menu price. */
  readonly marketValue: Rate | null;
  /** Mains only: further cutting or curing cost per unit. */
  readonly furtherCost: Rate | null;
  /** Mains only: each piece where they were weighed apart. */
  readonly pieces: readonly Quantity[];
}

export interface WeighedSheet {
  readonly kind: SheetKind;
  /** Day of the test, "2026-11-21"; the newest of several tells what things are worth. */
  readonly on?: string | undefined;
  /** How many pieces were worked together. */
  readonly pieces: Exact;
  /** What was billed (as purchased), or what went in. */
  readonly billed: Quantity;
  readonly parts: readonly WeighedPart[];
  /** Present exactly when kind is "cooking": what went in to the heat and what came out. */
  readonly cooking: { readonly trimmed: Quantity; readonly cooked: Quantity } | null;
  /** Smallest step of the scale. */
  readonly scaleStep: Quantity | null;
}

export interface SheetPart extends WeighedPart {
  /** By-products: what one unit is worth to this house today; null when not known. Ignored for other roles. */
  readonly value: Rate | null;
}

export interface Sheet extends WeighedSheet {
  /** Dealer's price per unit that day, or the net cost carried in from an earlier stage; null when not known. */
  readonly price: Rate | null;
  readonly parts: readonly SheetPart[];
}

/** A part's weights in the base unit of the sheet's measure. */
export interface BasePart {
  readonly key: string;
  readonly name: string;
  readonly role: SheetRole;
  readonly weight: Ratio;
  readonly pieces: readonly Ratio[];
}

/** A sheet's weights in the base unit (g, mL or each) of its one measure. */
export interface BaseSheet {
  readonly kind: SheetKind;
  readonly measure: Kind;
  /** The unit the billed weight was told in: what sentences about this sheet are told in. */
  readonly unit: Unit;
  readonly pieces: Ratio;
  readonly billed: Ratio;
  readonly parts: readonly BasePart[];
  readonly cooking: { readonly trimmed: Ratio; readonly cooked: Ratio } | null;
  readonly step: Ratio | null;
}

const CUSTOMARY: Record<Kind, string> = { mass: "lb, kg", volume: "qt, L", count: "each, dozen" };
const MEASURED: Record<Kind, string> = { mass: "weight", volume: "volume", count: "count" };

/** A quantity in its kind's base unit, exactly. */
export function quantityInBase(quantity: Quantity): Ratio {
  return ratio.mul(ratio.fromExact(quantity.amount), ratio.fromExact(baseFactor(quantity.unit)));
}

/** Money per base unit (g, mL, each) of a rate, exactly. */
export function rateInBase(rate: Rate): Ratio {
  return ratio.div(ratio.fromExact(rate.amount), ratio.fromExact(baseFactor(rate.per)));
}

/**
 * Reads a sheet's weights. Problems: nothing billed; a part with no weight or less; a unit of the wrong kind; two parts
 * under one key; no main part; a cooking sheet without its two weights. Paths are those of the sheet ("parts.2.weight").
 */
export function readWeights(sheet: WeighedSheet): Checked<BaseSheet> {
  const problems: Problem[] = [];
  const measure = kindOf(sheet.billed.unit);
  const say = (path: string, code: string, sentence: string): void => {
    problems.push({ path, code, sentence });
  };
  const read = (quantity: Quantity, path: string, what: string, zeroAllowed = false): Ratio => {
    const amount = quantityInBase(quantity);
    if (kindOf(quantity.unit) !== measure) {
      say(path, "wrong-kind", `${what} is in ${quantity.unit}, but what was billed is a ${MEASURED[measure]} in ${sheet.billed.unit}: give it as a ${MEASURED[measure]}.`);
    } else if (ratio.sign(amount) < 0 || (!zeroAllowed && ratio.sign(amount) === 0)) {
      say(path, "not-above-zero", `${what} must be above zero.`);
    }
    return amount;
  };

  const billed = read(sheet.billed, "billed", "The billed weight");
  const pieces = ratio.fromExact(sheet.pieces);
  if (ratio.sign(pieces) <= 0) say("pieces", "not-above-zero", "At least one piece was worked: give the number of pieces.");
  const step = sheet.scaleStep === null ? null : read(sheet.scaleStep, "scaleStep", "The step of the scale");

  const seen = new Map<string, string>();
  const parts = sheet.parts.map((part, index): BasePart => {
    const path = `parts.${index}`;
    const name = part.name.trim() === "" ? `Part ${index + 1}` : part.name;
    const sameKey = seen.get(part.key);
    if (sameKey !== undefined) say(`${path}.key`, "part-twice", `${name} stands twice on the sheet: weigh it into one row, or give the second its own name.`);
    seen.set(part.key, name);
    // A main part of nothing is told below, as a test without usable weight.
    const weight = read(part.weight, `${path}.weight`, `The weight of ${name}`, part.role === "main");
    const own = part.role === "main" ? part.pieces : [];
    const each = own.map((piece, at) => read(piece, `${path}.pieces.${at}`, `Piece ${at + 1} of ${name}`));
    const excess = ratio.sub(ratio.sum(each), weight);
    if (ratio.compare(excess, step === null ? ratio.ZERO : scaleTolerance(each.length + 1, step)) > 0 && each.length > 0) {
      say(`${path}.pieces`, "pieces-exceed-part", `The pieces of ${name} add to ${sayWeight(ratio.sum(each), sheet.billed.unit)} but the part weighed ${sayWeight(weight, sheet.billed.unit)}: weigh the pieces or the part again.`);
    }
    return { key: part.key, name, role: part.role, weight, pieces: each };
  });

  const mains = parts.filter((part) => part.role === "main");
  if (mains.length === 0) {
    say("parts", "no-main-part", "No usable part: at least one part must be what the piece was worked for.");
  } else if (problems.length === 0 && ratio.sign(ratio.sum(mains.map((part) => part.weight))) === 0) {
    say("parts", "no-usable-weight", "The usable weight is zero, so there is no test: weigh the usable part.");
  } else {
    parts.forEach((part, index) => {
      if (mains.length > 1 && part.role === "main" && ratio.sign(part.weight) === 0) {
        say(`parts.${index}.weight`, "not-above-zero", `The weight of ${part.name} must be above zero.`);
      }
    });
  }

  let cooking: BaseSheet["cooking"] = null;
  if (sheet.kind === "cooking") {
    if (sheet.cooking === null) {
      say("cooking", "no-cooking-weights", "A cooking-loss test needs the trimmed weight that went in to the heat and the cooked weight that came out.");
    } else {
      cooking = {
        trimmed: read(sheet.cooking.trimmed, "cooking.trimmed", "The trimmed weight"),
        cooked: read(sheet.cooking.cooked, "cooking.cooked", "The cooked weight"),
      };
    }
  }
  if (problems.length > 0) return { ok: false, problems };
  return good({ kind: sheet.kind, measure, unit: sheet.billed.unit, pieces, billed, parts, cooking, step });
}

/**
 * Money per base unit of a rate that prices something of the given measure; null stays null.
 * Problems: a rate per a unit of another kind; a negative rate.
 */
export function readRate(rate: Rate | null, measure: Kind, path: string, what: string): Checked<Ratio | null> {
  if (rate === null) return good(null);
  if (kindOf(rate.per) !== measure) {
    return { ok: false, problems: [{ path, code: "wrong-kind", sentence: `${what} is per ${rate.per}, but the sheet is told by ${MEASURED[measure]}: give it per ${CUSTOMARY[measure]} or another unit of ${MEASURED[measure]}.` }] };
  }
  const perBase = rateInBase(rate);
  if (ratio.sign(perBase) < 0) {
    return { ok: false, problems: [{ path, code: "negative", sentence: `${what} cannot be below zero.` }] };
  }
  return good(perBase);
}
