/**
 * What a careful colleague would ask about a sheet that is possible but unlikely. Warnings, never refusals: the test
 * stands. Published tests lose 0.6 to 0.7 % in cutting (a rib, a veal leg) and once 4.2 % (a lamb loin, Dittmer & Keefe);
 * ordinary drip in the bag is 1 to 2 %, and without a row of its own it hides in the loss and the cutter is blamed for
 * the packer. The thresholds are common practice.
 */
import { type Problem, type Ratio, ratio } from "@/lib/measure";
import { type Loss } from "./losses";
import { type BaseSheet } from "./sheet";
import { type StageKind, type StageRanges, STAGE_RANGES, stageWarning } from "./stages";
import { sayMoney, sayShare, sayWeight } from "./words";

/** Loss in cutting above this share is asked about where no purge was weighed. */
export const LOSS_WITHOUT_PURGE = ratio.of(2n, 100n);
/** Loss in cutting above this share is always asked about. */
export const LOSS_ALWAYS = ratio.of(5n, 100n);

/** Warnings on the loss in cutting of a sheet whose parts were weighed: too high, or exactly none. */
export function lossWarnings(sheet: BaseSheet, losses: readonly Loss[]): readonly Problem[] {
  const loss = losses.find((each) => each.key === "cutting");
  if (loss === undefined) return [];
  const share = ratio.div(loss.weight, sheet.billed);
  const purged = sheet.parts.some((part) => part.role === "purge");
  if (ratio.compare(share, LOSS_ALWAYS) > 0 || (!purged && ratio.compare(share, LOSS_WITHOUT_PURGE) > 0)) {
    const ask = purged ? "Was a part not weighed?" : "Purge? A part not weighed?";
    return [{ path: "parts", code: purged || ratio.compare(share, LOSS_ALWAYS) > 0 ? "loss-high" : "loss-without-purge", sentence: `${sayWeight(loss.weight, sheet.unit)} (${sayShare(share)}) is unaccounted for. ${ask}` }];
  }
  if (ratio.sign(loss.weight) === 0 && ratio.sign(loss.forgiven) === 0) {
    return [{ path: "parts", code: "loss-none", sentence: "No loss at all is rare: was one part worked out instead of weighed?" }];
  }
  return [];
}

/** A by-product that is worth as much per unit as the whole piece cost, or more. Values and price per base unit; `per` shows them per that many. */
export function dearByProducts(
  parts: readonly { readonly name: string; readonly path: string; readonly value: Ratio | null }[],
  price: Ratio,
  per: { readonly size: Ratio; readonly unit: string },
): readonly Problem[] {
  return parts.flatMap((part) => {
    if (part.value === null || ratio.sign(part.value) === 0 || ratio.compare(part.value, price) < 0) return [];
    const shown = (value: Ratio): string => sayMoney(ratio.mul(value, per.size));
    return [{ path: `${part.path}.value`, code: "by-product-dear", sentence: `${part.name} at ${shown(part.value)} per ${per.unit} is not cheaper than the piece at ${shown(price)}: is that right?` }];
  });
}

const STAGE_OF_KIND = { drained: "drain", hydration: "hydrate" } as const satisfies Partial<Record<BaseSheet["kind"], StageKind>>;

/** A yield outside the believable range of its stage: cooked over trimmed, saleable over cooked, drained, hydrated. */
export function yieldWarnings(sheet: BaseSheet, usable: Ratio, ranges: StageRanges = STAGE_RANGES): readonly Problem[] {
  const found: (Problem | null)[] = [];
  if (sheet.kind === "drained" || sheet.kind === "hydration") {
    found.push(stageWarning(STAGE_OF_KIND[sheet.kind], ratio.div(usable, sheet.billed), "parts", ranges));
  }
  if (sheet.kind === "cooking" && sheet.cooking !== null) {
    found.push(stageWarning("cook", atMostOne(ratio.div(sheet.cooking.cooked, sheet.cooking.trimmed)), "cooking.cooked", ranges));
    found.push(stageWarning("carve", atMostOne(ratio.div(usable, sheet.cooking.cooked)), "parts", ranges));
  }
  return found.flatMap((warning) => (warning === null ? [] : [warning]));
}

/** A hair over 1 that the scale's step explains has been forgiven already. */
function atMostOne(stageYield: Ratio): Ratio {
  return ratio.compare(stageYield, ratio.ONE) > 0 ? ratio.ONE : stageYield;
}
