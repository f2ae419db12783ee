/**
 * A line of an invoice that has been entered before: same dealer, invoice number, item, weight and price. A credit memo
 * takes back what a line billed, so it differs in its sign and is no repetition.
 */
import { type Habits, type Money, type Problem, type Quantity, printDay, ratio, sameWeight } from "@/lib/measure";

export interface InvoiceLine {
  readonly dealerId: string;
  /** As printed; "" where there is none, and then nothing can be told by it. */
  readonly number: string;
  readonly itemId: string;
  readonly quantity: Quantity;
  /** Below zero on a credit memo. */
  readonly amount: Money;
  /** The day it was entered, "2026-05-03". */
  readonly enteredOn: string;
}

/** "already entered on 3 May", for each line that repeats an earlier one; paths are "lines.<n>". Code: already-entered. */
export function repeatedLines(lines: readonly InvoiceLine[], earlier: readonly InvoiceLine[], habits: Pick<Habits, "locale">): readonly Problem[] {
  return lines.flatMap((line, index): readonly Problem[] => {
    const known = [...earlier, ...lines.slice(0, index)].find((other) => repeats(line, other));
    if (known === undefined) return [];
    return [{ path: `lines.${index}`, code: "already-entered", sentence: `This line of invoice ${line.number} is already entered, on ${printDay(known.enteredOn, habits)}: same item, weight and price. Leave it out, unless it was billed twice.` }];
  });
}

/** Two numbers as printed are of one paper, however they are spaced; papers without a number are never told to be. */
export function sameInvoice(one: string, other: string): boolean {
  const fold = (text: string): string => text.normalize("NFKC").replace(/[\s-]+/g, "").toLowerCase();
  return one.trim() !== "" && fold(one) === fold(other);
}

function repeats(one: InvoiceLine, other: InvoiceLine): boolean {
  return sameInvoice(one.number, other.number) && one.dealerId === other.dealerId && one.itemId === other.itemId
    && sameWeight(one.quantity, other.quantity) && ratio.compare(ratio.fromExact(one.amount.amount), ratio.fromExact(other.amount.amount)) === 0;
}
