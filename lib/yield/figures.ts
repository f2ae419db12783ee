/**
 * The figures of one sheet: the ratio of every part and loss to the billed weight, the yield, and, where the price and
 * every by-product's value are known, what the usable part costs. All exact ratios; they become decimals when shown.
 * Unknown is not zero: a figure that lacks a price is null and `missing` says what it lacks, while the weights stand.
 */
import { type Checked, type Kind, type Problem, type Quantity, type Ratio, type Unit, baseFactor, good, ratio } from "@/lib/measure";
import { amountPaid, byProductValue, costFactor, costPerUsableUnit, portionCost, portionFactor, ratioToTotal, usableValue, yieldOf } from "./formulas";
import { type JointCostMethod, type JointPart, jointCost } from "./joint-cost";
import { type Loss, lossesOf, usableWeight } from "./losses";
import { type BaseSheet, type Sheet, type SheetKind, type SheetRole, quantityInBase, readRate, readWeights } from "./sheet";
import { withLikeliestSlip } from "./slips";
import { dearByProducts, lossWarnings, yieldWarnings } from "./warnings";

export interface PartFigures {
  readonly key: string;
  readonly name: string;
  readonly role: SheetRole;
  /** Base units (g, mL, each). */
  readonly weight: Ratio;
  /** w/W, 1 being the whole. */
  readonly ratio: Ratio;
  /** Money: a by-product's worth, a main part's (share of the) cost; 0 for discard and purge; null when not known. */
  readonly value: Ratio | null;
  /** Money per base unit: what a by-product is worth, what a main part costs; null when not known. */
  readonly perUnit: Ratio | null;
  /** Mains: cost per unit over the dealer's price, F; null when the price is 0 or not known, and for other roles. */
  readonly factor: Ratio | null;
}

export interface LossFigures extends Loss {
  /** Over the billed weight. With the parts' ratios they add to exactly 1, but for what the scale's step forgave. */
  readonly ratio: Ratio;
}

export interface MoneyFigures {
  /** P, money per base unit. */
  readonly price: Ratio;
  /** A = W·P. */
  readonly paid: Ratio;
  /** V = Σ w·v. */
  readonly credits: Ratio;
  /** A − V, shared among main parts. */
  readonly usableValue: Ratio;
  /** C = (A − V)/U over all main parts together, money per base unit. */
  readonly costPerUnit: Ratio;
  /** F = C/P; null (undefined, not zero) when the price is 0. */
  readonly factor: Ratio | null;
}

export interface YieldFigures {
  readonly kind: SheetKind;
  readonly measure: Kind;
  /** The unit the billed weight was told in. */
  readonly unit: Unit;
  readonly billed: Ratio;
  /** U, or S after cooking: all main parts together. */
  readonly usable: Ratio;
  /** U/W; over 1 only where water is taken up. */
  readonly yield: Ratio;
  readonly parts: readonly PartFigures[];
  readonly losses: readonly LossFigures[];
  /** null while the price or a by-product's value is not known. */
  readonly money: MoneyFigures | null;
  /** What the missing figures lack, each with its path. */
  readonly missing: readonly Problem[];
  /** What was forgiven and what should be asked about; the test stands. */
  readonly notes: readonly Problem[];
}

/**
 * The figures of a sheet of any kind; `joint` shares the cost when there are several main parts.
 * Problems (the sheet gives no figures): those of reading, of balance, and credits-exceed-cost.
 */
export function figuresOf(sheet: Sheet, joint: JointCostMethod = "sales-value"): Checked<YieldFigures> {
  const read = readWeights(sheet);
  if (!read.ok) return read;
  const base = read.value;
  const lost = lossesOf(base);
  const worth = readWorth(sheet, base);
  if (!lost.ok) return { ok: false, problems: withLikeliestSlip(lost.problems, sheet) };
  if (!worth.ok) return worth;

  const usable = usableWeight(base);
  const missing: Problem[] = [...worth.value.missing];
  let money: MoneyFigures | null = null;
  const costs = new Map<string, { readonly value: Ratio; readonly perUnit: Ratio }>();
  const { price } = worth.value;
  const credited = base.parts.flatMap((part) => {
    const value = worth.value.values.get(part.key) ?? null;
    return part.role === "by-product" && value !== null ? [{ weight: part.weight, value }] : [];
  });
  if (price !== null && missing.length === 0) {
    const paid = amountPaid(base.billed, price);
    const credits = byProductValue(credited);
    const value = usableValue(paid, credits);
    const cost = costPerUsableUnit(paid, credits, usable);
    if (!value.ok) return value;
    if (!cost.ok) return cost;
    money = { price, paid, credits, usableValue: value.value, costPerUnit: cost.value, factor: costFactor(cost.value, price) };
    const shares = jointCost(joint, value.value, worth.value.mains);
    if (shares.ok) for (const share of shares.value) costs.set(share.key, { value: share.value, perUnit: share.costPerUnit });
    else missing.push(...shares.problems);
  }

  const parts = base.parts.map((part): PartFigures => {
    const own = { key: part.key, name: part.name, role: part.role, weight: part.weight, ratio: ratioToTotal(part.weight, base.billed) };
    if (part.role === "main") {
      const cost = costs.get(part.key) ?? null;
      return { ...own, value: cost?.value ?? null, perUnit: cost?.perUnit ?? null, factor: cost === null || price === null ? null : costFactor(cost.perUnit, price) };
    }
    const perUnit = part.role === "by-product" ? (worth.value.values.get(part.key) ?? null) : ratio.ZERO;
    return { ...own, value: perUnit === null ? null : ratio.mul(part.weight, perUnit), perUnit, factor: null };
  });
  const dear = price === null ? [] : dearByProducts(
    base.parts.flatMap((part, index) => (part.role === "by-product" ? [{ name: part.name, path: `parts.${index}`, value: worth.value.values.get(part.key) ?? null }] : [])),
    price,
    { size: ratio.fromExact(baseFactor(base.unit)), unit: base.unit },
  );
  return good({
    kind: base.kind,
    measure: base.measure,
    unit: base.unit,
    billed: base.billed,
    usable,
    yield: yieldOf(usable, base.billed),
    parts,
    losses: lost.value.losses.map((loss) => ({ ...loss, ratio: ratioToTotal(loss.weight, base.billed) })),
    money,
    missing,
    notes: [...lost.value.notes, ...lossWarnings(base, lost.value.losses), ...dear, ...yieldWarnings(base, usable)],
  });
}

interface Worth {
  readonly price: Ratio | null;
  readonly values: ReadonlyMap<string, Ratio | null>;
  readonly mains: readonly JointPart[];
  readonly missing: readonly Problem[];
}

/** Price, by-product values and market values of a sheet per base unit, with what is not known. */
function readWorth(sheet: Sheet, base: BaseSheet): Checked<Worth> {
  const problems: Problem[] = [];
  const missing: Problem[] = [];
  const values = new Map<string, Ratio | null>();
  const take = (rate: Checked<Ratio | null>): Ratio | null => {
    if (rate.ok) return rate.value;
    problems.push(...rate.problems);
    return null;
  };
  const price = take(readRate(sheet.price, base.measure, "price", "The price"));
  if (sheet.price === null) missing.push({ path: "price", code: "price-missing", sentence: "The price is not known yet, so there are yields but no costs." });
  const mains: JointPart[] = [];
  sheet.parts.forEach((part, index) => {
    const read = base.parts[index];
    if (read === undefined) return;
    const path = `parts.${index}`;
    if (part.role === "by-product") {
      values.set(part.key, take(readRate(part.value, base.measure, `${path}.value`, `The value of ${read.name}`)));
      if (part.value === null) {
        missing.push({ path: `${path}.value`, code: "value-missing", sentence: `What ${read.name} is worth is not known yet: give its value, or count it as discard.` });
      }
    } else if (part.role === "main") {
      mains.push({
        key: part.key,
        name: read.name,
        weight: read.weight,
        marketValue: take(readRate(part.marketValue, base.measure, `${path}.marketValue`, `The market value of ${read.name}`)),
        furtherCost: take(readRate(part.furtherCost, base.measure, `${path}.furtherCost`, `The further cost of ${read.name}`)),
      });
    }
  });
  return problems.length > 0 ? { ok: false, problems } : good({ price, values, mains, missing });
}

/** A cost per base unit restated for a quantity: of 1 lb, 1 oz, 1 kg, 100 g. Both of one kind. */
export function costOfQuantity(costPerBase: Ratio, quantity: Quantity): Ratio {
  return ratio.mul(costPerBase, quantityInBase(quantity));
}

/** A cost per base unit restated per one of a unit of the same kind. */
export function costPer(costPerBase: Ratio, unit: Unit): Ratio {
  return ratio.mul(costPerBase, ratio.fromExact(baseFactor(unit)));
}

export interface PortionFigures {
  /** c = C·s, money. */
  readonly cost: Ratio;
  /** f = c/P for a price per one of `per`: as-purchased units paid per portion; null when the price is 0. */
  readonly factor: Ratio | null;
  readonly per: Unit;
}

/**
 * Portion cost and factor per portion by weight. costPerBase and price per base unit; size of the same kind; `per` the
 * unit the dealer's price is told in, since a factor per portion holds for one unit only.
 */
export function portionByWeight(costPerBase: Ratio, price: Ratio, size: Quantity, per: Unit): PortionFigures {
  const cost = portionCost(costPerBase, quantityInBase(size));
  return { cost, factor: portionFactor(cost, costPer(price, per)), per };
}

/** All losses together over the billed weight. */
export function totalLoss(figures: Pick<YieldFigures, "losses">): Ratio {
  return ratio.sum(figures.losses.map((loss) => loss.ratio));
}

/** A weight in base units (g, mL, each) as a quantity in a unit of the same kind, exactly. */
export function weightIn(weight: Ratio, unit: Unit): Quantity {
  return { amount: ratio.toExact(ratio.div(weight, ratio.fromExact(baseFactor(unit)))), unit };
}
