/** Exact fractions of whole numbers: nothing is rounded. For half-cent ties, break-even prices and proof. */
import { type Ratio, ratio } from "@/lib/measure";
import type { Calculator } from "./calculator";

export const fractions: Calculator<Ratio> = {
  zero: ratio.ZERO,
  fromRatio: (n, d) => ratio.of(n, d),
  add: ratio.add,
  multiplyAdd: (sum, a, b) => ratio.add(sum, ratio.mul(a, b)),
  settle: (sum) => sum,
  divide: ratio.div,
  compare: ratio.compare,
  toDecimal: ratio.toDecimal,
  toRatio: (a) => a,
};
