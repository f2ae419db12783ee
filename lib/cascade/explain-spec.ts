/**
 * A portion spec opened. By weight, c = C·s, as the textbooks do. In whole portions, pieces cannot be pooled: each
 * gives as many as fit in it and leaves an end, so c = (C·ΣU_j − Σ r_j·v_r)/Σ n_j, with the pieces and their ends told
 * one by one; C·s is its lower bound. The cost factor per portion f = c/P is a hidden weight: what is paid for as purchased
 * with each portion.
 */
import { type PortionSpec, cutWeight } from "@/lib/book";
import { type Quantity, type Ratio, type Unit, Decimal, baseFactor, ratio, toDecimal } from "@/lib/measure";
import { oldestFirst, rateInBase, wholePortionLine } from "@/lib/yield";
import { takenFrom } from "./explain-lines";
import { type Sources, KIND_OF_BASE, behind, exactCount, knowsNothing, missingFact, one, perOne, ratePer, rootItem, told, unitToTell } from "./explain-sources";
import type { AboutSpec, PieceTold, Step } from "./explain-types";
import { nameOf } from "./names";
import type { Missing, NodeRef } from "./node";
import { adoptedTests } from "./rows/cut";

export interface OpenedSpec {
  readonly steps: readonly Step[];
  readonly divisor: Quantity | null;
  readonly about: AboutSpec;
}

export function openSpec(sources: Sources, spec: PortionSpec): OpenedSpec {
  const cut: NodeRef = { kind: "cut", id: spec.cutId };
  const byWeight = takenFrom(sources, { key: spec.id, of: { kind: "cut", id: spec.cutId }, quantity: cutWeight(spec), note: "" });
  const about: AboutSpec = {
    kind: "spec",
    cut,
    cutName: nameOf(sources.book, cut),
    size: cutWeight(spec),
    costing: spec.costing,
    pieces: [],
    portions: null,
    byWeight: byWeight.missing.length > 0 ? null : byWeight.amount,
    factor: factorPerPortion(sources, spec),
  };
  const sizeStep: Step = {
    key: "size", kind: "size", name: about.cutName, quantity: cutWeight(spec), converted: byWeight.converted,
    rate: byWeight.rate && ratePer({ amount: byWeight.rate, per: spec.size.unit }, unitOf(sources, spec)), amount: byWeight.amount, share: null,
    ref: byWeight.cost ? cut : null, behind: behind(sources.book, cut), missing: byWeight.missing, borrowed: byWeight.cost?.borrowed ?? [], detail: null,
  };
  return spec.costing === "by-weight" ? { steps: [sizeStep], divisor: null, about } : openWhole(sources, spec, sizeStep, about);
}

function openWhole(sources: Sources, spec: PortionSpec, sizeStep: Step, about: AboutSpec): OpenedSpec {
  const cut = sources.book.shelves.cut.get(spec.cutId);
  const tests = cut ? adoptedTests(sources.book, cut) : null;
  const line = cut && tests ? wholePortionLine(tests, cut.partKey, cutWeight(spec)) : null;
  const cost = sources.costOf(about.cut);
  if (!tests || !line?.ok || !cost) {
    // How many portions a piece gives is not known.
    const lack: Missing = { what: "yield", of: { kind: "spec", id: spec.id }, name: spec.name };
    const missing = [lack, ...(cost?.missing ?? [missingFact(about.cut)])];
    return { steps: [{ ...sizeStep, converted: null, rate: null, amount: null, missing }], divisor: null, about };
  }
  const { counted, usablePerPortion } = line.value;
  const unit = unitOf(sources, spec);
  const usable = ratio.mul(usablePerPortion, ratio.of(counted.portions));
  const nothingKnown = knowsNothing(cost);
  const endValue = spec.endValue ? ratio.toDecimal(rateInBase(spec.endValue)) : new Decimal(0);
  const steps: Step[] = [
    {
      ...sizeStep, key: "pieces", kind: "pieces", quantity: told(usable, unit), converted: null,
      rate: nothingKnown ? null : { amount: perOne(cost.amount, unit), per: unit },
      amount: nothingKnown ? null : ratio.toDecimal(usable).mul(cost.amount),
      missing: cost.missing,
    },
    {
      key: "end", kind: "end", name: about.cutName, quantity: told(counted.ends, unit), converted: null,
      rate: { amount: perOne(endValue, unit), per: unit }, amount: ratio.toDecimal(counted.ends).mul(endValue).neg(),
      share: null, ref: null, behind: null, missing: [], borrowed: [], detail: null,
    },
  ];
  const pieces = counted.pieces.map((each): PieceTold => ({
    weight: told(each.piece, unit), portions: exactCount(each.portions), left: told(each.end, unit),
  }));
  const portions = exactCount(counted.portions);
  return { steps, divisor: { amount: portions, unit: "portion" }, about: { ...about, pieces, portions } };
}

/** What the cut's page is told in, so that its pieces and rates read the same here: the unit its tests were billed in. */
function unitOf(sources: Sources, spec: PortionSpec): Unit {
  const cut = sources.book.shelves.cut.get(spec.cutId);
  const tests = cut ? adoptedTests(sources.book, cut) : null;
  return oldestFirst(tests ?? [])[0]?.billed.unit ?? spec.size.unit;
}

/** f = c/P, told in the unit a kitchen buys in. null while either is not wholly known, or P is zero. */
function factorPerPortion(sources: Sources, spec: PortionSpec): AboutSpec["factor"] {
  const { book } = sources;
  const root = rootItem(book, { kind: "spec", id: spec.id });
  const cost = sources.costOf({ kind: "spec", id: spec.id });
  const price = root && sources.costOf(root);
  if (!root || !cost || cost.missing.length > 0 || !price || price.missing.length > 0 || !price.amount.gt(0)) return null;
  const unit = priceUnit(sources, root.id, price.per);
  return unit && { perPortion: cost.amount.div(price.amount).div(toDecimal(baseFactor(unit))), unit, item: root, name: nameOf(book, root) };
}

/** The unit a dealer's price is asked per, else the kitchen's own large one. */
function priceUnit(sources: Sources, itemId: string, per: string): Unit | null {
  const quoted = behind(sources.book, { kind: "item", id: itemId });
  if (quoted?.kind === "quote" && quoted.quote.per !== "pack") return quoted.quote.per;
  if (per !== "g" && per !== "mL" && per !== "each") return null;
  const much: Ratio = ratio.of(1_000_000n);
  return one(unitToTell(sources.book, much, KIND_OF_BASE[per])).unit;
}
