/**
 * A by-product on the sheet of a cut: credited at what it is worth to this house, which is either what a thing of the
 * book costs now or what somebody typed beside a test. Credit and charge are the same number: trim credited at the
 * grind's cost is charged at the grind's cost where the grind is used. A by-product of the house is credited for no more
 * than is used of it.
 */
import type { Book, Cut, PartValue, YieldTest } from "@/lib/book";
import { type Decimal, type Ratio, ratio, toDecimal } from "@/lib/measure";
import { type WeighedPart, quantityInBase, rateInBase } from "@/lib/yield";
import { takenFrom } from "./explain-lines";
import { type PooledSheet, plainStep } from "./explain-sheet";
import { type Sources, behind, perOne, provenanceOf, ratePer } from "./explain-sources";
import type { CreditCap, Step, ValueSource } from "./explain-types";
import { nameOf } from "./names";
import type { Missing } from "./node";
import { shareCredited } from "./rows/cut";

/** What typed values move with by the factor: the dealer's price at the newest test, and now as far as it is known. */
export interface PriceMove {
  /** Money per base unit, above zero. */
  readonly then: Ratio;
  /** Money per base unit; null: unknown, for want of `missing`. */
  readonly now: Decimal | null;
  readonly missing: readonly Missing[];
}

/**
 * A by-product as a credit. Linked: at what it is linked to costs now. Typed: as typed at the newest test that tells
 * it, or, by the factor, moved in step with the dealer's price P′/P since the newest test (`move`, null: held).
 */
export function creditStep(
  sources: Sources, cut: Cut, pooled: PooledSheet, part: WeighedPart, value: PartValue | undefined, move: PriceMove | null,
): Step {
  const step = { ...plainStep(part.key, "by-product", part.name), quantity: part.weight };
  if (!value) {
    const missing: Missing[] = [{ what: "price", of: { kind: "cut", id: cut.id }, name: cut.name }];
    return { ...step, amount: null, missing, detail: { of: "credit", value: null, cap: null } };
  }
  if (value.kind !== "typed") {
    const ref = { kind: value.kind, id: value.id } as const;
    const taken = takenFrom(sources, { key: part.key, of: ref, quantity: part.weight, note: "" });
    const cap = capOf(sources.book, value);
    const credited = (amount: Decimal): Decimal => (cap === null ? amount : amount.mul(cap.share));
    return {
      ...step,
      converted: taken.converted,
      rate: taken.rate && ratePer({ amount: credited(taken.rate), per: part.weight.unit }, pooled.unit),
      amount: taken.amount && credited(taken.amount).neg(),
      ref: taken.cost ? ref : null,
      behind: behind(sources.book, ref),
      missing: taken.missing,
      borrowed: taken.cost?.borrowed ?? [],
      detail: { of: "credit", value: { kind: "linked", ref, name: nameOf(sources.book, ref) }, cap },
    };
  }
  const typed = rateInBase(value.rate);
  const perBase = move === null ? ratio.toDecimal(typed) : move.now && ratio.toDecimal(ratio.div(typed, move.then)).mul(move.now);
  return {
    ...step,
    rate: perBase && { amount: perOne(perBase, pooled.unit), per: pooled.unit },
    amount: perBase && ratio.toDecimal(quantityInBase(part.weight)).mul(perBase).neg(),
    missing: move?.missing ?? [],
    detail: { of: "credit", value: typedAt(sources, pooled.tests, part.key, value, move !== null), cap: null },
  };
}

/** What holds a credit to less than the whole worth: no more is used. null where the whole is credited. */
function capOf(book: Book, value: PartValue): CreditCap | null {
  const use = value.kind === "item" ? book.shelves.item.get(value.id)?.transfer?.use ?? null : null;
  const share = shareCredited(book, value);
  return use === null || ratio.compare(share, ratio.ONE) === 0 ? null : { share: ratio.toDecimal(share), use };
}

/** Which test a typed value is of: the newest that tells one under this key. */
function typedAt(
  sources: Sources, tests: readonly YieldTest[], key: string, value: PartValue & { kind: "typed" }, movesWithPrice: boolean,
): ValueSource | null {
  const test = tests.findLast((each) => each.parts.some((part) => part.key === key && part.role === "by-product" && part.value !== null));
  return test ? {
    kind: "typed", testId: test.id, on: test.on, provenance: provenanceOf(sources.book, "test", test.id),
    typed: { amount: toDecimal(value.rate.amount), per: value.rate.per }, movesWithPrice,
  } : null;
}
