/**
 * The whole plate as a tree of money: what each thing on it adds, opened again and again until the dealer's price or the
 * scale stands at the leaf. Every branch tells what it adds to one plate, not to its own batch or pound, so the leaves under
 * a branch add to it and all of them to the plate. A node opened (`explain`) has steps that sum to its own total T; on
 * a plate to which the node adds A, a step of amount a adds a·A/T.
 */
import { type Cascade, type Explanation, type NodeRef, type Step, type StepKind, explain, priceThenAndNow } from "@/lib/cascade";
import type { Decimal } from "@/lib/measure";
import { type StaleReason, daysBetween, stalenessOf } from "@/lib/yield";

/** The most branches that are laid open; what would come after them is opened at its own page. */
const MOST_BRANCHES = 600;

export interface CostBranch {
  /** Unique in the tree: the way down to it. */
  readonly key: string;
  /** The step as its own page tells it: its amount there is for its own batch or pound. */
  readonly step: Step;
  /** What it adds to one plate, money, signed; null: unknown. A lower bound when something is missing. */
  readonly amount: Decimal | null;
  /** Its part of the plate cost, a ratio; null when either is unknown or nothing. */
  readonly share: Decimal | null;
  /** Largest first; empty at the leaves. */
  readonly branches: readonly CostBranch[];
  /** It is made of more than is laid open here. */
  readonly goesOn: boolean;
  /** How old what stands behind it is; null where nothing dated does. */
  readonly age: Age | null;
}

/**
 * The day of what a figure rests on and how many days ago that was (below 0: to come): since when the dealer asks that
 * price, when a transfer price was decided, when the newest test was made, when a by-product's worth was typed, when a yield was taken up.
 */
export interface Age {
  readonly of: "price" | "transfer" | "test" | "worth" | "borrowed";
  readonly on: string;
  readonly days: number;
  /** Why a test no longer stands as it did, as far as its day and its price say; what else changed since stands at its cut. */
  readonly stale: readonly StaleReason[];
}

/** The tree of a dish, largest first; null when the book has no such dish. */
export function costTree(cascade: Cascade, dishId: string): readonly CostBranch[] | null {
  const plate = explain(cascade, { kind: "dish", id: dishId });
  if (plate === null) return null;
  const opened = new Map<string, Explanation | null>();
  let left = MOST_BRANCHES;

  const open = (ref: NodeRef): Explanation | null => {
    const key = `${ref.kind}:${ref.id}`;
    let known = opened.get(key);
    if (known === undefined) opened.set(key, (known = explain(cascade, ref)));
    return known;
  };

  const grow = (of: Explanation, adds: Decimal | null, way: string): CostBranch[] => {
    // Level by level would share the room more evenly; this way what is largest is opened first and wholly.
    const scaled = of.steps.filter((step) => !WEIGHED_ONLY.has(step.kind)).map((step) => ({ step, amount: onPlate(step, of, adds) }));
    scaled.sort((a, b) => (a.amount && b.amount ? b.amount.comparedTo(a.amount) : Number(a.amount === null) - Number(b.amount === null)));
    left -= scaled.length;
    return scaled.map(({ step, amount }): CostBranch => {
      const key = `${way}/${step.key}`;
      // An item's own page tells the pack: for the plate its price of the day is the leaf.
      const below = step.ref === null || step.ref.kind === "item" ? null : open(step.ref);
      const goesOn = below !== null && left <= 0;
      return {
        key, step, amount,
        share: amount !== null && plate.cost.amount.gt(0) ? amount.div(plate.cost.amount) : null,
        branches: below === null || goesOn ? [] : grow(below, amount, key),
        goesOn,
        age: ageOf(cascade, step),
      };
    });
  };
  return grow(plate, plate.cost.amount, "plate");
}

/** What is weighed and bears no money; it stands with the cut. */
const WEIGHED_ONLY: ReadonlySet<StepKind> = new Set(["discard", "purge", "loss", "borrowed"]);

/** Said of whoever doubts a test by looking at one plate. */
const TOLD_HERE: ReadonlySet<StaleReason["code"]> = new Set(["old", "dated-ahead", "price-moved"]);

function ageOf(cascade: Cascade, { behind, detail, ref }: Step): Age | null {
  const { book } = cascade;
  const aged = (of: Age["of"], on: string, stale: readonly StaleReason[] = []): Age => ({ of, on, days: daysBetween(on, book.on), stale });
  if (detail?.of === "credit" && detail.value?.kind === "typed") return aged("worth", detail.value.on);
  if (behind === null) return null;
  switch (behind.kind) {
    case "quote": return behind.provenance === null ? null : aged("price", behind.provenance.validFrom);
    case "transfer": return aged("transfer", behind.transfer.on);
    case "borrowed": return aged("borrowed", behind.borrowed.on);
    case "tests": {
      const cut = ref?.kind === "cut" ? book.shelves.cut.get(ref.id) : ref?.kind === "spec" ? book.shelves.cut.get(book.shelves.spec.get(ref.id)?.cutId ?? "") : undefined;
      const newest = cut?.testIds.map((id) => book.shelves.test.get(id)).find((test) => test?.on === behind.newestOn);
      const price = cut === undefined || newest === undefined ? null : priceThenAndNow(cascade, cut, newest);
      return aged("test", behind.newestOn, stalenessOf({ testedOn: behind.newestOn, today: book.on, tests: behind.count, changes: [], price, chart: null }).filter(({ code }) => TOLD_HERE.has(code)));
    }
  }
}

/** a·A/T; on the plate itself A = T, and the step stands as it is. An allowance of money beside shares of the whole, too. */
function onPlate(step: Step, of: Explanation, adds: Decimal | null): Decimal | null {
  if (step.amount === null) return null;
  if (of.ref.kind === "dish") return step.amount;
  if (adds === null || !of.summed) return null;
  return of.total.isZero() ? of.total : step.amount.mul(adds).div(of.total);
}
