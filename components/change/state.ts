/**
 * The states of an edit form, from typing to the record. They travel between the server action and the browser, so
 * everything in them is plain text: figures are printed on the server, where they are exact.
 *
 *   editing → refused (problems by field; the ways out of a circle) or tried (the ripple shown, nothing saved)
 *           → recorded, or stale (somebody else was faster: theirs beside mine), or failed (our own fault)
 */
import type { LoopView } from "@/components/byproduct/loop-view";
import type { Values } from "@/components/form/FormContext";
import type { GaugeView } from "@/components/target/TargetGauge";
import type { Standing } from "@/components/target/StateWord";
import type { PortionsView } from "@/components/spec/portions-view";
import type { ResultView } from "@/components/yield-test/result-view";
import type { Problem } from "@/lib/measure";

/** For each fact that the form edits ("quote:abc"), the revision its editor had before them; null: not yet in the book. */
export type BasedOn = Readonly<Record<string, number | null>>;

export type ChangeState =
  | { readonly status: "editing" }
  /** `asked`: nothing is wrong for certain; whoever is sure may record it all the same. */
  | { readonly status: "refused"; readonly problems: readonly Problem[]; readonly asked?: boolean; readonly loop?: LoopView | null; readonly values: Values }
  | TriedState
  | { readonly status: "stale"; readonly stale: readonly StaleView[]; readonly basedOn: BasedOn; readonly values: Values }
  /** `basedOn`: the revisions it made, which a further change from the same page is based on. */
  | { readonly status: "recorded"; readonly changeNo: number; readonly basedOn: BasedOn; readonly sentence: string; readonly href: string | null; readonly next: string | null; readonly ripple: RippleView; readonly values: Values }
  /** Put in a try-out; the book is as it was. */
  | { readonly status: "kept"; readonly sentence: string; readonly name: string; readonly href: string; readonly values: Values }
  | { readonly status: "failed"; readonly sentence: string; readonly values: Values };

/** What a thing that was tried says by itself: a yield test its result, a portion what a piece gives. */
export type TriedView = ResultView | PortionsView;

/** Tried: what would move, and what the thing says by itself. */
export interface TriedState {
  readonly status: "tried";
  readonly ripple: RippleView;
  readonly result?: TriedView | null;
  /** A worth that went round in a circle, and the way out that was chosen. */
  readonly loop?: LoopView | null;
  /** The try-outs that it can be put in, the newest first; null where it cannot be. */
  readonly keep: readonly { readonly id: string; readonly name: string }[] | null;
  readonly values: Values;
}

export const EDITING: ChangeState = { status: "editing" };

/** A server action of an edit form. */
export type ChangeAction = (state: ChangeState, formData: FormData) => Promise<ChangeState>;

/** One thing that two people say differently about a fact. */
export interface Difference {
  readonly what: string;
  readonly mine: string;
  readonly theirs: string;
}

/** A fact that somebody else changed while it was being edited. */
export interface StaleView {
  readonly name: string;
  readonly by: string;
  /** In the kitchen's own time: "Wed 25 Nov 2026, 10:20". */
  readonly at: string;
  readonly removed: boolean;
  readonly differences: readonly Difference[];
}

/** A ripple for the screen. */
export interface RippleView {
  /** "2 dishes cross over target." null when none crosses. Told first. */
  readonly crossing: string | null;
  readonly adverse: boolean;
  /** "4 dishes move, 20 do not. At the last 12 weeks' sales that is $61 a week." */
  readonly rest: string;
  /** A change that applies on another day than today: "It will apply from Mon 30 Nov 2026; …". */
  readonly when: string | null;
  readonly chain: readonly ChainView[];
  /** Sections of the chain, and dishes, that are not shown because there are too many. */
  readonly dishes: readonly DishMoveView[];
  readonly dishesMore: number;
  /** "$", for the head of the plate cost column. */
  readonly currency: string;
}

export interface ChainView {
  /** "Prices", "Cuts", "Portion specs", "Recipes". */
  readonly title: string;
  readonly rows: readonly MovedView[];
}

export interface MovedView {
  readonly key: string;
  readonly name: string;
  readonly href: string;
  readonly before: string | null;
  readonly after: string | null;
  readonly unit: string;
  /** "missing the price of saffron", where the cost is a lower bound. */
  readonly missing: string | null;
  /** "on a borrowed yield of carrots, peeled", or that it no longer is; null where it never was. */
  readonly borrowed: string | null;
}

export interface DishMoveView {
  readonly id: string;
  readonly name: string;
  readonly href: string;
  /** "crosses over" or "back under"; null when it does not cross. */
  readonly crossing: Extract<Standing, "crosses over" | "back under"> | null;
  readonly over: boolean;
  readonly plate: { readonly before: string | null; readonly after: string | null };
  /** Menu price, when that is what moved; null otherwise. */
  readonly menuPrice: { readonly before: string | null; readonly after: string | null } | null;
  /** In percent. */
  readonly foodCost: { readonly before: string | null; readonly after: string | null };
  readonly gauge: GaugeView;
  /** "up 1.6 points, now over 29 %". */
  readonly words: string;
}
