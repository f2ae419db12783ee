/** What a changed portion gives from each piece, before and after, and which dishes may promise its weight (components/spec/portions-view.ts). */
import { type Book, type FactOf, type PortionSpec, cutWeight, kitchenOf } from "@/lib/book";
import { type Cascade, costOf, dishesAbove } from "@/lib/cascade";
import { moneyFigure, printNumber, printShare, quantityText, ratio } from "@/lib/measure";
import { weightIn, wholePortionLine } from "@/lib/yield";
import type { PortionsRow, PortionsView, PromisedDish } from "@/components/spec/portions-view";
import { currencySign } from "../change-flow/ripple-view";
import { sameQuantity } from "./spec-values";

type Kitchen = FactOf["kitchen"];

/** Figures of one state of a portion, printed; null where they are not known. */
interface Told {
  readonly cutAt: string;
  readonly portions: string | null;
  readonly aPiece: string | null;
  readonly left: string | null;
  readonly leftShare: string | null;
  readonly cost: string | null;
}

export function portionsView(before: Cascade, after: Cascade, specId: string, kitchen: Kitchen, seesMoney: boolean): PortionsView | null {
  const spec = after.book.shelves.spec.get(specId);
  if (spec === undefined) return null;
  const was = before.book.shelves.spec.get(specId);
  const now = told(after, spec, kitchen);
  const then = was === undefined ? null : told(before, was, kitchen);
  const row = (what: string, of: (state: Told) => string | null, unit: string): PortionsRow[] => {
    const one = { what, before: then === null ? null : of(then), after: of(now), unit };
    return one.before === null && one.after === null ? [] : [one];
  };
  const resized = was !== undefined && !sameQuantity(was.size, spec.size);
  return {
    kind: "portions",
    isNew: was === undefined,
    rows: [
      ...row("Weight of a portion as cut", (state) => state.cutAt, ""),
      ...row("Whole portions from the pieces tested", (state) => state.portions, ""),
      ...row("Portions a piece, on average", (state) => state.aPiece, ""),
      ...row("Left over in all", (state) => state.left, ""),
      ...row("Left over, of the pieces", (state) => state.leftShare, "%"),
      ...(seesMoney ? row(`A portion costs${now.cost === null || then?.cost === null ? ", as far as it is known" : ""}`, (state) => state.cost, currencySign(kitchen)) : []),
    ],
    uncounted: now.portions === null ? counted(after.book, spec)?.problem ?? null : null,
    notes: [
      ...(resized && was.meanCut !== null && spec.meanCut === null
        ? [`The mean weight of ${quantityText(was.meanCut.weight, kitchen)} was weighed when the size was ${quantityText(was.size, kitchen)}, so it falls away: weigh some again at the new size.`] : []),
      ...(spec.costing === "by-weight" && now.left !== null ? ["Its cost is told by weight, so what is left over is not in it."] : []),
    ],
    promise: resized ? promise(after.book, was, spec, kitchen) : null,
  };
}

function counted(book: Book, spec: PortionSpec) {
  const cut = book.shelves.cut.get(spec.cutId);
  const tests = cut?.testIds.flatMap((id) => book.shelves.test.get(id) ?? []) ?? [];
  if (cut === undefined || tests.length === 0) return null;
  const line = wholePortionLine(tests, cut.partKey, cutWeight(spec));
  return line.ok ? { line: line.value, problem: null } : { line: null, problem: line.problems[0]?.sentence ?? null };
}

function told(cascade: Cascade, spec: PortionSpec, kitchen: Kitchen): Told {
  const cost = costOf(cascade, { kind: "spec", id: spec.id });
  const found = counted(cascade.book, spec)?.line ?? null;
  const pieces = found?.counted.pieces ?? [];
  return {
    cutAt: quantityText(cutWeight(spec), kitchen),
    portions: found === null ? null : found.counted.portions.toString(),
    aPiece: found === null || pieces.length < 2 ? null : printNumber(ratio.toDecimal(ratio.of(found.counted.portions, BigInt(pieces.length))), kitchen, { places: 1 }),
    left: found === null ? null : quantityText(weightIn(found.counted.ends, spec.size.unit), kitchen),
    leftShare: found === null ? null : printShare(ratio.toDecimal(ratio.div(found.counted.ends, ratio.sum(pieces.map(({ piece }) => piece)))), kitchen),
    cost: cost === null || cost.missing.length > 0 ? null : moneyFigure(cost.amount, kitchen),
  };
}

/** The menu must follow the size. Dishes are named, those first that say the old weight themselves. */
function promise(book: Book, was: PortionSpec, spec: PortionSpec, kitchen: Kitchen): NonNullable<PortionsView["promise"]> {
  const old = quantityText(was.size, kitchen);
  const dishes = promisedDishes(book, was);
  return {
    sentence: `The size goes from ${old} to ${quantityText(spec.size, kitchen)}: ${dishes.length === 0 ? "where a menu promises the weight, it must follow." : `the weight promised on the menu must follow. Look at the text of ${dishes.length === 1 ? "this dish" : `these ${dishes.length} dishes`}:`}`,
    dishes,
  };
}

/** The dishes that a portion goes into, each with the words in which it says the portion's weight, if it does. */
export function promisedDishes(book: Book, spec: PortionSpec): readonly PromisedDish[] {
  const weight = quantityText(spec.size, kitchenOf(book)).toLowerCase();
  const says = (dishId: string): string | null => {
    const dish = book.shelves.dish.get(dishId);
    return dish !== undefined && `${dish.name} ${dish.note}`.toLowerCase().replace(/(\d)-?\s*(?=[a-z])/g, "$1 ").includes(weight) ? `“${weight}” itself` : null;
  };
  const dishes = dishesAbove(book, { kind: "spec", id: spec.id }).map(({ ref, name }) => ({ name, href: `/dishes/${encodeURIComponent(ref.id)}`, says: says(ref.id) }));
  return [...dishes.filter((dish) => dish.says !== null), ...dishes.filter((dish) => dish.says === null)];
}
