/**
 * A try-out on the screen: its moves, what they do to the whole menu, and what came of changing it. Plain text throughout;
 * figures are printed on the server, where they are exact.
 */
import type { DishMoveView } from "@/components/change/state";
import type { Values } from "@/components/form/FormContext";
import type { Problem } from "@/lib/measure";

export interface MoveView {
  readonly key: string;
  readonly what: string;
  readonly href: string | null;
  /** "8 % dearer". */
  readonly says: string;
  /** What the book says today; null where it is not of one figure. */
  readonly today: string | null;
  /** "Chef, Wed 25 Nov 2026, 10:20". */
  readonly added: string | null;
  /** The figure that can be changed in place: its name to those who hear it, and as one would type it. */
  readonly figure: { readonly label: string; readonly value: string } | null;
  /** Why it does nothing any more. */
  readonly problem: string | null;
  readonly overtaken: readonly OvertakenView[];
}

/** A fact that somebody has changed since the move was added. */
export interface OvertakenView {
  readonly key: string;
  /** "Sous chef changed Beef striploin from Harbour Meats on Wed 25 Nov 2026, 10:20". */
  readonly said: string;
  /** "Price $10.85 / lb → $11.10 / lb". */
  readonly lines: readonly string[];
}

/** What a try-out does to the whole menu. */
export interface TriedMenuView {
  /** "2 dishes cross over target." */
  readonly crossing: string | null;
  readonly adverse: boolean;
  readonly rest: string;
  readonly facts: readonly MenuFact[];
  readonly rows: readonly TriedDishView[];
  /** How many dishes move, and how many of them come before the ones shown. */
  readonly of: number;
  readonly before: number;
  readonly currency: string;
  /** Why there are no figures. */
  readonly problems: readonly string[];
}

export interface MenuFact {
  readonly key: string;
  readonly label: string;
  readonly before: string | null;
  readonly after: string;
  readonly unit: string;
  readonly words: string;
}

export interface TriedDishView {
  readonly dish: DishMoveView;
  /** What it leaves over more (or less) in a usual week, "+$61"; null where that is not known. */
  readonly aWeek: string | null;
}

/** What is answered while somebody types. */
export interface DeskAnswer {
  readonly menu: TriedMenuView;
  /** What is typed and not kept yet, in words. */
  readonly drafts: readonly string[];
  readonly problems: readonly Problem[];
}

export type DeskState =
  | { readonly status: "editing" }
  | { readonly status: "refused"; readonly problems: readonly Problem[]; readonly values: Values }
  /** Somebody else was faster: `version` is what now stands. */
  | { readonly status: "stale"; readonly sentence: string; readonly version: number; readonly values: Values }
  | { readonly status: "kept"; readonly told: string; readonly version: number; readonly values: Values };

export const AT_THE_DESK: DeskState = { status: "editing" };
export type DeskAction = (state: DeskState, formData: FormData) => Promise<DeskState>;
