/**
 * A cut on a borrowed yield opened: one unit as purchased at what that costs now, over what the yield says is usable of it.
 * C = P/Y, the trim worth nothing (BC Cook Articulation Committee, 2015). What is lost, or taken up where the yield is
 * more than the whole, is a step of its own, which names the source.
 */
import { type Cut, borrowedInUse, cutKind } from "@/lib/book";
import { type Quantity, BASE_UNIT, baseFactor, ratio, toDecimal } from "@/lib/measure";
import { costFactor } from "./explain-cost-factor";
import { takenFrom } from "./explain-lines";
import { NOTHING, plainStep } from "./explain-sheet";
import { type Sources, behind, one, told, unitToTell } from "./explain-sources";
import type { AboutCut, Step } from "./explain-types";
import { nameOf } from "./names";
import { perOriginOf } from "./rows/cut";

/** A kilo or so: of what a kitchen tells in its larger unit. */
const MUCH = ratio.of(1_000_000n);

export function openBorrowed(sources: Sources, cut: Cut): { readonly steps: readonly Step[]; readonly divisor: Quantity; readonly about: AboutCut } | null {
  const borrowed = borrowedInUse(cut);
  const kind = borrowed === null ? null : cutKind(sources.book, cut.id);
  if (borrowed === null || kind === null) return null;
  const origin = { kind: cut.of.kind, id: cut.of.id } as const;
  const unit = kind === "count" ? BASE_UNIT.count : unitToTell(sources.book, MUCH, kind);
  const bought = one(unit);
  const taken = takenFrom(sources, { key: "billed", of: origin, quantity: bought, note: "" });
  const share = ratio.fromExact(borrowed.share);
  const gains = ratio.compare(share, ratio.ONE) > 0;
  const lost = ratio.mul(ratio.sub(ratio.ONE, share), ratio.fromExact(baseFactor(unit)));
  const steps: Step[] = [
    {
      ...plainStep("billed", "billed", nameOf(sources.book, origin)),
      quantity: bought,
      converted: taken.converted,
      rate: taken.rate && { amount: taken.rate, per: unit },
      amount: taken.amount,
      ref: taken.cost ? origin : null,
      behind: behind(sources.book, origin),
      missing: taken.missing,
      borrowed: taken.cost?.borrowed ?? [],
    },
    {
      ...plainStep("borrowed", "borrowed", gains ? "taken up" : "lost"),
      quantity: told(gains ? ratio.neg(lost) : lost, unit),
      rate: { amount: NOTHING, per: unit },
      detail: { of: "borrowed", borrowed },
    },
  ];
  return {
    steps,
    divisor: { amount: borrowed.share, unit },
    about: {
      kind: "cut", cut, origin: { ref: origin, name: nameOf(sources.book, origin), behind: behind(sources.book, origin) },
      tests: [], borrowed, unit, yield: toDecimal(borrowed.share), perOrigin: ratio.toDecimal(perOriginOf(borrowed)),
      factor: costFactor(sources, cut.id, unit), repricing: null, joint: null,
    },
  };
}
