/**
 * The butcher test: a piece is cut into one main part (or several), by-products that this house uses or sells, and parts
 * with no outlet. By-products are credited at what the house would pay its dealer today for that part; the main part
 * takes the rest of the cost. Its lighter forms share the arithmetic: the trim test (edible portion over as purchased,
 * trim usually without value), the drained-weight test (a can or bag freed of its liquid) and the hydration test
 * (rice, pulses, starch: the yield is over 1, and what was gained is water).
 */
import { type Checked, type Ratio, bad, ratio } from "@/lib/measure";
import { type YieldFigures, figuresOf } from "./figures";
import { type JointCostMethod } from "./joint-cost";
import { type Sheet, type SheetKind } from "./sheet";

/**
 * Butcher test by the by-product value method: C = (W·P − Σ w_k·v_k)/U; several main parts share the cost by `joint`.
 * Problems: as `figuresOf`. Source: Dittmer & Keefe, ch. 6; Gisslen, raw yield test.
 */
export function butcherTest(sheet: Sheet, joint: JointCostMethod = "sales-value"): Checked<YieldFigures> {
  return ofKind("butcher", sheet, joint);
}

/**
 * Trim test: Y = EP/AP, C = P/Y when trim has no value (with value, as a butcher test). What was not weighed is trim. A
 * yield over 1 is refused. Source: BC Cook Articulation Committee; Wall, Trade Calculations.
 */
export function trimTest(sheet: Sheet, joint: JointCostMethod = "sales-value"): Checked<YieldFigures> {
  return ofKind("trim", sheet, joint);
}

/**
 * Drained-weight test: cost per drained unit = what was paid / drained weight; liquid that is used is a by-product. By
 * weight or by volume, whichever was billed. A yield over 1 is refused. Source: The Book of Yields; BC Cook Articulation Committee.
 */
export function drainedTest(sheet: Sheet): Checked<YieldFigures> {
  return ofKind("drained", sheet, "sales-value");
}

/**
 * Hydration test: Y = cooked/raw, usually over 1; raw needed = cooked needed / Y; cost per cooked unit = P/Y. The loss is
 * negative: water taken up. Source: The Book of Yields.
 */
export function hydrationTest(sheet: Sheet): Checked<YieldFigures> {
  return ofKind("hydration", sheet, "sales-value");
}

/** Edible-portion factor: as-purchased units for one edible unit, 1/Y. For buying; it is the cost factor only when trim has no value. */
export function purchaseFactor(figures: YieldFigures): Ratio {
  return ratio.div(figures.billed, figures.usable);
}

function ofKind(kind: SheetKind, sheet: Sheet, joint: JointCostMethod): Checked<YieldFigures> {
  if (sheet.kind !== kind) return bad("kind", "wrong-test", `This is a ${sheet.kind} test, not a ${kind} test.`);
  return figuresOf(sheet, joint);
}
