/**
 * A cut whose by-products are credited for more than was paid costs less than nothing, and no factor follows from it. A
 * change that would bring a cut there is a slip, in a price or in what a by-product is worth, and is told as one.
 */
import type { Problem } from "@/lib/measure";
import type { Ripple } from "./node";

/** The cuts that a change would bring to nothing or below, and the by-products that would be worth less than nothing, as problems; [] when there are none. */
export function belowNothing(ripple: Ripple): readonly Problem[] {
  return ripple.moved.flatMap(({ ref, name, before, after }): readonly Problem[] => {
    if (ref.kind === "item" && after !== null && after.missing.length === 0 && after.amount.lt(0) && !(before !== null && before.missing.length === 0 && before.amount.lt(0))) {
      return [{
        path: "", code: "transfer-below-nothing",
        sentence: `${name} would be worth less than nothing: the work still to be done to it would come to more than what it takes the place of costs. Then it is better thrown away: give it a price of 0, or check the work.`,
      }];
    }
    if (ref.kind !== "cut" || after === null || after.missing.length > 0 || after.amount.gt(0)) return [];
    if (before !== null && before.missing.length === 0 && !before.amount.gt(0)) return [];
    return [{
      path: "", code: "credits-exceed-cost",
      sentence: `${name} would cost less than nothing: its by-products would be worth more than what is paid for it. Check the price, and what the by-products are worth.`,
    }];
  });
}
