/**
 * The durable result of a test is not its factor but the line C(P, v) = (W/U)·P − Σ (w_k/U)·v_k: constants that turn any
 * dealer price and any by-product prices into the cost per usable unit. Here those constants are read off one or
 * several pooled tests, with a main part's share of the joint cost folded in, as exact ratios. They are what a costing of
 * a whole book is built from, and what a slow exact costing judges the fast one by.
 */
import { type Checked, type Kind, type Quantity, type Ratio, type Unit, bad, good, kindOf, ratio } from "@/lib/measure";
import { type JointCostMethod, jointCost } from "./joint-cost";
import { usableWeight } from "./losses";
import { type Prices, oldestFirst, piecesOf, pool, poolWeights } from "./pool";
import { type WholePortions, wholePortions } from "./portions";
import { type BaseSheet, type Sheet, type WeighedSheet, quantityInBase, rateInBase, readRate, readWeights } from "./sheet";

export interface YieldLine {
  /** What the weights measure: costs are per g, mL or each of it. */
  readonly measure: Kind;
  /** share·W/U: units of the origin paid for in one usable unit of this part. */
  readonly perOrigin: Ratio;
  /** share·w_k/U for each by-product, in the order of the sheet: units of it that one usable unit is credited with. */
  readonly credits: readonly { readonly key: string; readonly name: string; readonly perUsable: Ratio }[];
  /** This part's share of the joint cost: 1 when it is the only main part. */
  readonly share: Ratio;
  /** This part's own weight over the billed weight, for buying (never for costing). */
  readonly yield: Ratio;
}

export interface WholePortionLine {
  readonly counted: WholePortions;
  /** ΣU/Σn: cost per portion = usablePerPortion·C − endPerPortion·(value of an end per unit). */
  readonly usablePerPortion: Ratio;
  /** Σr/Σn. */
  readonly endPerPortion: Ratio;
}

interface Pooled {
  readonly sheet: WeighedSheet;
  readonly base: BaseSheet;
}

/**
 * The constants of a main part's cost line over one or several pooled tests. Needs no prices.
 * C = (share·W/U)·P − Σ (share·w_k/U)·v_k, P and v_k money per base unit.
 * Problems: those of pooling and of joint cost; part-missing when no test has the part as a main one.
 */
export function yieldLine(tests: readonly WeighedSheet[], partKey: string, joint: JointCostMethod): Checked<YieldLine> {
  const pooled = pooledWeights(tests);
  return pooled.ok ? lineOf(pooled.value, partKey, joint) : pooled;
}

/**
 * F = C/P of a main part over one or several pooled tests, all valued at one date's prices, as an exact ratio, for
 * repricing by the factor. By-products without an outlet belong to other roles: a by-product whose value is not known
 * leaves the factor unknown. Problems: as `yieldLine`; price-missing; value-missing; factor-undefined (the price is 0);
 * credits-exceed-cost.
 */
export function factorLine(tests: readonly Sheet[], partKey: string, joint: JointCostMethod, at: Prices): Checked<Ratio> {
  const sheet = pool(tests, at);
  if (!sheet.ok) return sheet;
  const line = yieldLine([sheet.value], partKey, joint);
  if (!line.ok) return line;
  const price = readRate(at.price, line.value.measure, "price", "The price");
  if (!price.ok) return price;
  if (price.value === null) return bad("price", "price-missing", "The price of the day is not known, so there is no cost factor.");
  if (ratio.sign(price.value) === 0) return bad("price", "factor-undefined", "At a price of zero the cost is zero and the cost factor is undefined.");
  let cost = ratio.mul(line.value.perOrigin, price.value);
  for (const credit of line.value.credits) {
    const path = `values.${credit.key}`;
    const value = readRate(at.values.get(credit.key) ?? null, line.value.measure, path, `The value of ${credit.name}`);
    if (!value.ok) return value;
    if (value.value === null) return bad(path, "value-missing", `What ${credit.name} is worth is not known, so there is no cost factor.`);
    cost = ratio.sub(cost, ratio.mul(credit.perUsable, value.value));
  }
  if (ratio.sign(cost) <= 0) {
    return bad("parts", "credits-exceed-cost", "By-products are credited with as much as was paid: the usable part would cost nothing or less. Check what the by-products are worth.");
  }
  return good(ratio.div(cost, price.value));
}

/**
 * The constants of a whole-portion cost over the pieces of one or several tests: cost per portion =
 * (ΣU/Σn)·C − (Σr/Σn)·v_end. U is the part's weight in the tests and n, r are counted on its pieces; weight that is in no
 * piece is paid for and leaves no end. Problems: those of pooling; part-missing; pieces-not-weighed; wrong-kind;
 * pieces-exceed-part; portion-larger-than-piece.
 */
export function wholePortionLine(tests: readonly WeighedSheet[], partKey: string, size: Quantity): Checked<WholePortionLine> {
  const pooled = pooledWeights(tests);
  if (!pooled.ok) return pooled;
  const { base } = pooled.value;
  const part = base.parts.find((candidate) => candidate.key === partKey && candidate.role === "main");
  if (part === undefined) return partMissing();
  if (kindOf(size.unit) !== base.measure) {
    return bad("size", "wrong-kind", `A portion in ${size.unit} cannot be counted from pieces told in ${base.unit}: give its size in a unit of the same kind.`);
  }
  const pieces = oldestFirst(tests).map((test) => piecesOf(test, partKey));
  const known = pieces.flatMap((each) => each ?? []);
  if (pieces.some((each) => each === null) || known.length === 0) {
    return bad("pieces", "pieces-not-weighed", `Whole portions are counted piece by piece, and not every test weighed the pieces of ${part.name} apart: weigh them apart, or cost the portion by weight.`);
  }
  const counted = wholePortions(known.map(quantityInBase), quantityInBase(size), sentenceUnit(size.unit, base.unit));
  if (!counted.ok) return counted;
  const portions = ratio.of(counted.value.portions);
  return good({ counted: counted.value, usablePerPortion: ratio.div(part.weight, portions), endPerPortion: ratio.div(counted.value.ends, portions) });
}

/** Cost per base unit of a part from its line at given prices, money; credits in the line's own order. */
export function costOfLine(line: YieldLine, price: Ratio, values: readonly Ratio[]): Ratio {
  return line.credits.reduce(
    (cost, credit, index) => ratio.sub(cost, ratio.mul(credit.perUsable, values[index] ?? ratio.ZERO)),
    ratio.mul(line.perOrigin, price),
  );
}

function pooledWeights(tests: readonly WeighedSheet[]): Checked<Pooled> {
  const sheet = poolWeights(tests);
  if (!sheet.ok) return sheet;
  const base = readWeights(sheet.value);
  return base.ok ? good({ sheet: sheet.value, base: base.value }) : base;
}

function lineOf(pooled: Pooled, partKey: string, joint: JointCostMethod): Checked<YieldLine> {
  const { sheet, base } = pooled;
  const mains = base.parts.filter((part) => part.role === "main");
  const part = mains.find((candidate) => candidate.key === partKey);
  if (part === undefined) return partMissing();
  const shares = jointCost(
    joint,
    ratio.ONE,
    mains.map((main) => {
      const told = sheet.parts.find((candidate) => candidate.key === main.key);
      const market = told?.marketValue ?? null;
      const further = told?.furtherCost ?? null;
      return {
        key: main.key,
        name: main.name,
        weight: main.weight,
        marketValue: market === null ? null : rateInBase(market),
        furtherCost: further === null ? null : rateInBase(further),
      };
    }),
  );
  if (!shares.ok) return shares;
  const share = shares.value.find((each) => each.key === partKey)?.share ?? ratio.ONE;
  const perUsable = ratio.div(share, part.weight);
  return good({
    measure: base.measure,
    perOrigin: ratio.mul(perUsable, base.billed),
    credits: base.parts
      .filter((each) => each.role === "by-product")
      .map((each) => ({ key: each.key, name: each.name, perUsable: ratio.mul(perUsable, each.weight) })),
    share,
    yield: ratio.div(part.weight, base.billed),
  });
}

function partMissing(): ReturnType<typeof bad> {
  return bad("partKey", "part-missing", "No adopted test has this part as a main one: choose a part that the tests were worked for.");
}

function sentenceUnit(size: Unit, pieces: Unit): Unit {
  return size === "oz" || size === "lb" ? size : pieces;
}

/** The usable weight over the billed weight of one or several pooled tests, all main parts together: Ŷ = ΣU/ΣW. */
export function pooledYield(tests: readonly WeighedSheet[]): Checked<Ratio> {
  const pooled = pooledWeights(tests);
  return pooled.ok ? good(ratio.div(usableWeight(pooled.value.base), pooled.value.base.billed)) : pooled;
}
