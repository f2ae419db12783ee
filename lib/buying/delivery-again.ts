/** Deliveries that were entered before: the paper as a whole, or lines of it. */
import { type Book, type Delivery, type InvoiceLine, lineValue, repeatedLines, sameInvoice } from "@/lib/book";
import { type Habits, type Problem, printDay, ratio } from "@/lib/measure";

/** Codes: already-entered. Lines of the same paper are compared too. */
export function enteredBefore(delivery: Delivery, book: Book, habits: Habits): readonly Problem[] {
  const others = [...book.shelves.delivery.values()].filter((other) => other.id !== delivery.id && other.dealerId === delivery.dealerId && sameInvoice(delivery.number, other.number));
  const whole = others.find((other) => other.kind === delivery.kind && other.lines.length === delivery.lines.length);
  const lines = repeatedLines(invoiceLines(delivery), others.flatMap(invoiceLines), habits);
  // Where every line is there already it is said once, of the paper.
  if (whole !== undefined && lines.length >= delivery.lines.length) {
    return [{ path: "number", code: "already-entered", sentence: `${delivery.kind === "credit" ? "Credit memo" : "Invoice"} ${delivery.number} of this dealer is already entered, for ${printDay(whole.on, habits)}, with the same lines: open that one instead, unless it was billed twice.` }];
  }
  return lines;
}

function invoiceLines(delivery: Delivery): readonly InvoiceLine[] {
  return delivery.lines.map((line) => {
    const amount = line.amount === null ? lineValue(line) : ratio.fromExact(line.amount.amount);
    return { dealerId: delivery.dealerId, number: delivery.number, itemId: line.itemId, quantity: line.billed, amount: { amount: ratio.toExact(delivery.kind === "credit" ? ratio.neg(amount) : amount) }, enteredOn: delivery.on };
  });
}
