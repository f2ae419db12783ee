/** Tests as the forms that pool them show them: which, what it yielded of how much, whose goods, who cut. */
import { type Book, type MatchingTest, factName, kitchenOf } from "@/lib/book";
import { printDay, printShare, quantityText, ratio } from "@/lib/measure";
import { testYield } from "@/lib/yield";
import type { PoolChoice } from "@/components/cut/PoolFields";
import { KINDS } from "@/components/yield-test/kinds";

export function poolChoices(book: Book, partKey: string, tests: readonly MatchingTest[]): readonly PoolChoice[] {
  const kitchen = kitchenOf(book);
  return tests.map(({ test, standing }) => {
    const own = testYield(test.id, test, partKey);
    return {
      testId: test.id, label: `${KINDS[test.kind].name}, ${printDay(test.on, kitchen)}`, behind: standing.kind === "behind", reason: standing.kind === "left-out" ? standing.reason : "",
      note: [
        own.ok ? `${printShare(ratio.toDecimal(own.value.yield), kitchen)} % usable of ${quantityText(test.billed, kitchen)}` : quantityText(test.billed, kitchen),
        test.dealerId === null ? "" : factName(book, "dealer", test.dealerId), test.cutter,
      ].filter((word) => word !== "").join(", "),
    };
  });
}
