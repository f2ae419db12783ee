/**
 * An order: what a plan needs, dealer by dealer, in whole packs, with what each dealer's part comes to and whether it reaches
 * the least that he delivers. What has no price is in nobody's part.
 */
import { type Book, boughtFrom, exchangeRate } from "@/lib/book";
import type { Cascade } from "@/lib/cascade";
import { type Ratio, ratio } from "@/lib/measure";
import { type OrderNeeds, orderNeeds } from "./order-needs";
import { type OrderedItem, orderedItem } from "./order-packs";
import type { OrderPlan } from "./order-plan";

export interface DealerOrder {
  /** null: what nobody asks a price for. */
  readonly dealerId: string | null;
  readonly name: string;
  readonly ordering: string;
  readonly lines: readonly OrderedItem[];
  /** Money as asked, of all whose price is known. */
  readonly total: Ratio;
  /** Something in it has no known price, or its quantity is at least so much. */
  readonly atLeast: boolean;
  /** Weights are billed as they come, so the total is not for certain. */
  readonly estimate: boolean;
  /** The least an order comes to, and by how much this one stays below it; `short` null where it does not. */
  readonly minimum: { readonly least: Ratio; readonly short: Ratio | null } | null;
}

export interface Order {
  readonly needs: OrderNeeds;
  readonly dealers: readonly DealerOrder[];
  /** Money as asked, of all dealers. */
  readonly total: Ratio;
  readonly atLeast: boolean;
  readonly estimate: boolean;
  /** What is bought beyond the need, money. */
  readonly overCost: Ratio;
  /** Needed, and in the house in full. */
  readonly covered: readonly OrderedItem[];
}

export function orderOf(cascade: Cascade, plan: OrderPlan): Order {
  const { book } = cascade;
  const needs = orderNeeds(cascade, plan);
  const ordered = needs.items.map((need) => orderedItem(book, need));
  const covered = ordered.filter(({ toBuy, need }) => ratio.sign(toBuy) === 0 && need.missing.length === 0);
  const dealers = byDealer(book, ordered.filter((line) => !covered.includes(line)));
  return {
    needs, dealers, covered,
    total: ratio.sum(dealers.map(({ total }) => total)),
    atLeast: dealers.some(({ atLeast }) => atLeast) || needs.missing.length > 0 || needs.empty.length > 0,
    estimate: dealers.some(({ estimate }) => estimate),
    overCost: ratio.sum(ordered.flatMap(({ packs }) => (typeof packs === "string" || packs.overCost === null ? [] : [packs.overCost]))),
  };
}

function byDealer(book: Book, lines: readonly OrderedItem[]): readonly DealerOrder[] {
  const parts = new Map<string | null, OrderedItem[]>();
  for (const line of lines) {
    const dealerId = typeof line.packs === "string" ? boughtFrom(book, line.need.itemId) : line.packs.quote.dealerId;
    parts.set(dealerId, [...(parts.get(dealerId) ?? []), line]);
  }
  const orders = [...parts].map(([dealerId, own]): DealerOrder => {
    const dealer = dealerId === null ? undefined : book.shelves.dealer.get(dealerId);
    const total = ratio.sum(own.flatMap(({ packs }) => (typeof packs === "string" || packs.cost === null ? [] : [packs.cost])));
    const least = dealer?.minimumOrder === null || dealer === undefined ? null : ratio.fromExact(dealer.minimumOrder.amount);
    return {
      dealerId, name: dealer?.name ?? "Nobody’s price", ordering: dealer?.ordering ?? "", total,
      lines: [...own].sort((a, b) => (a.need.name < b.need.name ? -1 : a.need.name > b.need.name ? 1 : 0)),
      atLeast: own.some(({ packs, need }) => typeof packs === "string" || packs.cost === null || need.missing.length > 0),
      estimate: own.some(({ packs }) => typeof packs !== "string" && packs.estimate),
      minimum: least === null ? null : { least, short: ratio.compare(total, least) < 0 ? ratio.sub(least, total) : null },
    };
  });
  return orders.sort((a, b) => (a.dealerId === null ? 1 : b.dealerId === null ? -1 : a.name < b.name ? -1 : 1));
}

/** Whether a quote asks in money whose worth here nobody has told. */
export function worthUnknown(book: Book, line: OrderedItem): boolean {
  return typeof line.packs !== "string" && exchangeRate(book, line.packs.quote) === null;
}
