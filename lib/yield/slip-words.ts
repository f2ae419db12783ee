/**
 * What a cook is asked about a slip: the part, what was typed, what it would be, and what would then be left. A question
 * or a condition, never a statement: nobody but the scale knows what it showed.
 */
import { type Quantity, type Ratio, type Unit, ratio } from "@/lib/measure";
import { quantityInBase } from "./sheet";
import type { SlipKind } from "./slip-points";
import type { SlipAt } from "./slips";
import { sayShare, sayWeight } from "./words";

export interface SlipWords {
  readonly kind: SlipKind;
  readonly at: readonly SlipAt[];
  readonly tub: Quantity | null;
  /** In base units; below zero within the scale's tolerance. */
  readonly left: Ratio;
  readonly whole: Ratio;
  /** What sentences are told in. */
  readonly unit: Unit;
  /** A usual part that is not on the sheet. */
  readonly missing: string | null;
  readonly purged: boolean;
}

export function saySlip(words: SlipWords): string {
  const { kind, at, tub } = words;
  const [first] = at;
  const name = first?.name ?? "";
  const typed = asWritten(first?.typed ?? null);
  const wouldBe = asWritten(first?.wouldBe ?? null);
  const then = leaves(words);
  switch (kind) {
    case "ounces-as-decimals": return `Were ounces typed behind the point in ${name}? With ${wouldBe} and not ${typed}, ${then}`;
    case "decimals-as-ounces": return `Was a decimal taken for ounces in ${name}? With ${wouldBe} and not ${typed}, ${then}`;
    case "wrong-unit": return `If ${name} was read in ${many(first?.wouldBe?.unit)} but entered as ${many(first?.typed.unit)}, the sheet would close: with ${wouldBe} and not ${typed}, ${then}`;
    case "digits-swapped": return `Are two figures changed over in ${name}? With ${wouldBe} and not ${typed}, ${then}${or(at)}`;
    case "decimal-point": return `Is the point in its place in ${name}? With ${wouldBe} and not ${typed}, ${then}`;
    case "digit-dropped": return `Is a figure missing in ${name}? With ${wouldBe}, say, and not ${typed}, ${then}${or(at)}`;
    case "digit-doubled": return `Was a figure typed twice in ${name}? With ${wouldBe} and not ${typed}, ${then}${or(at)}`;
    case "tub-not-tared": return `Was the ${tub === null ? "" : `${sayTold(tub)} `}tub not tared under ${any(at)}? Without it, ${at.length === 1 ? `${name} is ${sayTold(first?.wouldBe ?? null)} and ` : ""}${then}`;
    case "no-tub-tared": return `Was no tub tared? If each of the ${at.length} parts was weighed in a tub of ${tub === null ? "one weight" : sayTold(tub)}, ${then}`;
    case "tare-taken-twice": return `Was the ${tub === null ? "" : `${sayTold(tub)} `}tub taken off twice from ${any(at)}, on the scale and again by hand? With it put back, ${then}`;
    case "weighed-twice": return `Was ${name} (${typed}) weighed twice, once with another part? Without its row, ${then}`;
    case "not-weighed": {
      const amount = `${sayWeight(words.left, words.unit)} (${sayShare(ratio.div(words.left, words.whole))}) is unaccounted for.`;
      if (words.missing !== null) return `${amount} ${words.missing} is not on this sheet, and earlier tests have it: was it weighed?`;
      return `${amount} ${words.purged ? "Was a part not weighed?" : "Purge? A part not weighed?"}`;
    }
  }
}

/** "3 oz (0.6 %) would be left." */
function leaves({ left, whole, unit }: SlipWords): string {
  if (ratio.sign(left) === 0) return "nothing would be left over.";
  if (ratio.sign(left) < 0) return `the parts would be ${sayWeight(left, unit)} over, which the scale's steps explain.`;
  return `${sayWeight(left, unit)} (${sayShare(ratio.div(left, whole))}) would be left.`;
}

/** The second row it could be in: " Or in Bones: 2.1 lb and not 1.2 lb." */
function or(at: readonly SlipAt[]): string {
  const other = at[1];
  if (other === undefined) return "";
  return ` Or in ${other.name}: ${asWritten(other.wouldBe)} and not ${asWritten(other.typed)}.`;
}

/** "Fat", "Fat or Bones", "one part (Fat, Bones, Lean trim …)". */
function any(at: readonly SlipAt[]): string {
  const names = at.map((each) => each.name);
  if (names.length <= 2) return names.join(" or ");
  return `one part (${names.slice(0, 3).join(", ")}${names.length > 3 ? " …" : ""})`;
}

function sayTold(told: Quantity | null): string {
  return told === null ? "" : sayWeight(quantityInBase(told), told.unit);
}

/** As it stands on a sheet: what was typed, or a plain number with its unit. */
function asWritten(told: Quantity | null): string {
  if (told === null) return "";
  if (told.typed !== undefined) return /[\p{L}#]/u.test(told.typed) ? told.typed : `${told.typed} ${told.unit}`;
  return /^\d+(?:\.\d{1,4})?$/.test(told.amount) ? `${told.amount} ${told.unit}` : sayTold(told);
}

const MANY: Readonly<Partial<Record<Unit, string>>> = { lb: "pounds", kg: "kilos", oz: "ounces", g: "grams" };

function many(unit: Unit | undefined): string {
  return unit === undefined ? "" : MANY[unit] ?? unit;
}
