/**
 * A yield test: one working of one or more pieces of an item (or of a cut) at the block or the stove. It stores what
 * the scale read and what things were worth that day, never factors; losses are derived, never typed. The parts of a
 * test: main (what it was worked for; usually one), by-product (worth something to this house), discard (weighed,
 * worth nothing: it explains the yield), purge (liquid in the bag: it was billed).
 */
import type { Exact, Quantity, Rate } from "@/lib/measure";

export type TestKind = "butcher" | "trim" | "cooking" | "drained" | "hydration";
export type PartRole = "main" | "by-product" | "discard" | "purge";

/** What a test or a cut is made from: an item as purchased, or a cut that an earlier test yields (net carry-in). */
export type Origin = { readonly kind: "item"; readonly id: string } | { readonly kind: "cut"; readonly id: string };

/** What a by-product is worth: a typed rate, or the current cost of an item or recipe it takes the place of. */
export type PartValue =
  | { readonly kind: "typed"; readonly rate: Rate }
  | { readonly kind: "item"; readonly id: string }
  | { readonly kind: "recipe"; readonly id: string };

export interface TestPart {
  /** Stable within the test and shared by tests that are pooled: a slug of the name, "lean-trim". */
  readonly key: string;
  readonly name: string;
  readonly role: PartRole;
  readonly weight: Quantity;
  /** By-products only; null elsewhere. */
  readonly value: PartValue | null;
  /** Mains only, when there are several: what this part would cost bought ready trimmed (never a menu price). */
  readonly marketValue: Rate | null;
  /** Mains only: further cutting or curing cost per unit, for the net realizable value method. */
  readonly furtherCost: Rate | null;
  /** Mains only: weight of each piece where they were weighed apart; whole portions are counted piece by piece. */
  readonly pieces: readonly Quantity[];
}

/** What a cooking-loss test holds beside its parts. `trimmed` went in to the heat, `cooked` came out. */
export interface Cooking {
  readonly method: string;
  readonly temperature: string;
  readonly endPoint: string;
  readonly time: string;
  readonly trimmed: Quantity;
  readonly cooked: Quantity;
}

export interface YieldTest {
  readonly id: string;
  readonly kind: TestKind;
  readonly of: Origin;
  /** Whose goods these were; null when not known or when the origin is a cut. */
  readonly dealerId: string | null;
  /** Calendar day of the test, "2026-11-21". */
  readonly on: string;
  /** Who cut and weighed. */
  readonly cutter: string;
  /** How many pieces were worked together. */
  readonly pieces: Exact;
  /** Billed weight (as purchased); drained and hydration tests: what went in. Mass, or volume for a drained-volume test. */
  readonly billed: Quantity;
  /** Dealer's price that day per unit; null when the origin is a cut (its net cost is carried in). */
  readonly price: Rate | null;
  readonly parts: readonly TestPart[];
  /** Present exactly when kind is "cooking". */
  readonly cooking: Cooking | null;
  /** Smallest step of the scale; decides how much negative loss is forgiven. null when not said. */
  readonly scaleStep: Quantity | null;
  /** The test this one went on from with the same piece, so that ratios can be told on its billed weight; null if none. */
  readonly followsTestId: string | null;
  readonly note: string;
}
