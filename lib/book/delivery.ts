/**
 * A delivery as its dealer bills it: an invoice, or a credit memo that takes something back. What was received is weighed
 * at the door beside what was billed: the difference is a claim on the dealer and no part of the yield. All money is in
 * the kitchen's currency. Prices on an invoice become the dealer's price only when somebody says so.
 */
import { type Exact, type Money, type Quantity, type Ratio, type Unit, baseFactor, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";

export interface Delivery {
  readonly id: string;
  readonly dealerId: string;
  /** As printed; "" where there is none. */
  readonly number: string;
  readonly kind: "invoice" | "credit";
  /** The day on the paper. */
  readonly on: string;
  readonly lines: readonly DeliveryLine[];
  readonly note: string;
}

export interface DeliveryLine {
  readonly key: string;
  readonly itemId: string;
  /** How many packs; null: not counted. Told where the price is per pack. */
  readonly packs: Exact | null;
  /** What was billed in all: a catch weight as printed, else packs times what a pack holds. */
  readonly billed: Quantity;
  readonly price: Money;
  readonly per: "pack" | Unit;
  /** The line's total as printed; null: not read off. */
  readonly amount: Money | null;
  /** What the scale read at the door, or what was counted; null: not weighed. */
  readonly received: Quantity | null;
  /** Lot or batch on the carton, for tracing; "" where there is none. */
  readonly lot: string;
  readonly useBy: string | null;
  readonly note: string;
}

/** Price × packs, or price × billed, money. A credit memo's lines are told above zero as well: they are taken back. */
export function lineValue({ packs, billed, price, per }: DeliveryLine): Ratio {
  const amount = ratio.fromExact(price.amount);
  if (per === "pack") return ratio.mul(amount, packs === null ? ratio.ZERO : ratio.fromExact(packs));
  return ratio.mul(amount, ratio.div(quantityInBase(billed), ratio.fromExact(baseFactor(per))));
}

/** What the lines come to: as printed where that was read off, else as reckoned. */
export function deliveryTotal(delivery: Delivery): Ratio {
  return delivery.lines.reduce((sum, line) => ratio.add(sum, line.amount === null ? lineValue(line) : ratio.fromExact(line.amount.amount)), ratio.ZERO);
}
