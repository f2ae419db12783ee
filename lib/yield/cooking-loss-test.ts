/**
 * The cooking-loss test: for what is portioned after cooking. What is carried in is the net cost of an earlier test
 * (after its by-products were credited), never the invoice: a posted textbook exercise carries the gross figure and
 * overstates the portion by a fifth. Two yields are told apart, of the process (cooked over trimmed) and overall
 * (saleable over what was first bought), and the ratios of the form stand on the original weight. The saleable weight is
 * what was served: weight served beats weight on the board, and the difference is carving loss.
 */
import { type Checked, type Problem, type Rate, type Ratio, bad, good, ratio } from "@/lib/measure";
import { type YieldFigures, figuresOf } from "./figures";
import { costFactor } from "./formulas";
import { type JointCostMethod } from "./joint-cost";
import { type Sheet, quantityInBase, readRate } from "./sheet";

/** Where the piece came from, when an earlier test worked it first. */
export interface CarriedIn {
  /** Share of the originally billed weight that the earlier stages left, above 0: the product of their yields. */
  readonly yield: Ratio;
  /** Dealer's price of what was first bought; null when not known. The sheet's own price is then the net cost carried in. */
  readonly dealerPrice: Rate | null;
}

/** A weight of the form and its ratio to the original weight. */
export interface OnOriginal {
  readonly weight: Ratio;
  readonly ratio: Ratio;
}

export interface CookingFigures extends YieldFigures {
  /** What was first bought: the billed weight of this sheet, or what it stood for before earlier stages. Base units. */
  readonly original: Ratio;
  readonly trimmed: OnOriginal;
  readonly lossInTrimming: OnOriginal;
  readonly cooked: OnOriginal;
  readonly lossInCooking: OnOriginal;
  /** What was weighed at the board and is not saleable. */
  readonly bonesAndTrim: OnOriginal;
  readonly carvingLoss: OnOriginal;
  readonly saleable: OnOriginal;
  /** cooked/trimmed. */
  readonly processYield: Ratio;
  /** Saleable over the original weight. */
  readonly overallYield: Ratio;
  /** Cost per saleable unit over the dealer's price of what was first bought; null when that is 0 or not known. */
  readonly factorOnDealerPrice: Ratio | null;
}

/**
 * Loss in trimming = original − trimmed; loss in cooking = trimmed − cooked; saleable S = cooked − bones and trim (and carving
 * loss); cost per saleable unit = net value carried in / S, less what bones and trim are worth. `carried` tells of an
 * earlier test on the same piece; null when this sheet starts from the invoice.
 * Problems: as `figuresOf`; wrong-test; a carried yield that is not above 0. Source: Dittmer & Keefe, ch. 6.
 */
export function cookingLossTest(sheet: Sheet, carried: CarriedIn | null = null, joint: JointCostMethod = "sales-value"): Checked<CookingFigures> {
  if (sheet.kind !== "cooking") return bad("kind", "wrong-test", `This is a ${sheet.kind} test, not a cooking-loss test.`);
  if (carried !== null && ratio.sign(carried.yield) <= 0) {
    return bad("carried", "no-yield", "The earlier test must have left something to cook: its yield must be above zero.");
  }
  const checked = figuresOf(sheet, joint);
  if (!checked.ok) return checked;
  const figures = checked.value;
  if (sheet.cooking === null) throw new Error("expected a checked cooking sheet to carry its trimmed and cooked weights");
  const dealer = readRate(carried === null ? sheet.price : carried.dealerPrice, figures.measure, "price", "The dealer's price");
  if (!dealer.ok) return dealer;

  const original = carried === null ? figures.billed : ratio.div(figures.billed, carried.yield);
  const trimmed = quantityInBase(sheet.cooking.trimmed);
  const cooked = quantityInBase(sheet.cooking.cooked);
  const board = ratio.sum(figures.parts.filter((part) => part.role === "by-product" || part.role === "discard").map((part) => part.weight));
  const onOriginal = (weight: Ratio): OnOriginal => ({ weight, ratio: ratio.div(weight, original) });
  const cost = figures.money?.costPerUnit ?? null;
  return good({
    ...figures,
    original,
    trimmed: onOriginal(trimmed),
    lossInTrimming: onOriginal(atLeastNone(ratio.sub(original, trimmed))),
    cooked: onOriginal(cooked),
    lossInCooking: onOriginal(lossNamed(figures, "cooking")),
    bonesAndTrim: onOriginal(board),
    carvingLoss: onOriginal(lossNamed(figures, "carving")),
    saleable: onOriginal(figures.usable),
    processYield: ratio.div(cooked, trimmed),
    overallYield: ratio.div(figures.usable, original),
    factorOnDealerPrice: cost === null || dealer.value === null ? null : costFactor(cost, dealer.value),
    notes: [...figures.notes, ...carriedNotes(sheet, carried)],
  });
}

function lossNamed(figures: YieldFigures, key: "cooking" | "carving"): Ratio {
  return figures.losses.find((loss) => loss.key === key)?.weight ?? ratio.ZERO;
}

function atLeastNone(weight: Ratio): Ratio {
  return ratio.sign(weight) < 0 ? ratio.ZERO : weight;
}

/** A net cost carried in that is below the dealer's price although weight was lost is usually the invoice price taken again. */
function carriedNotes(sheet: Sheet, carried: CarriedIn | null): readonly Problem[] {
  if (carried === null || carried.dealerPrice === null || sheet.price === null) return [];
  if (sheet.price.per !== carried.dealerPrice.per || sheet.price.amount !== carried.dealerPrice.amount) return [];
  if (ratio.compare(carried.yield, ratio.ONE) === 0) return [];
  return [{ path: "price", code: "invoice-carried-in", sentence: "The cost carried in equals the dealer's price: carry in the net cost per usable unit of the earlier test." }];
}
