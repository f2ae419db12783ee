/** Deliveries with their lines, in tables. */
import {
  maybeExactColumns, maybeExactIn, maybeExactRow, maybeMoneyColumns, maybeMoneyIn, maybeMoneyRow, maybeQuantityColumns, maybeQuantityIn, maybeQuantityRow,
  moneyColumns, moneyIn, moneyRow, quantityColumns, quantityIn, quantityRow,
} from "./figures";
import { perFrom } from "./larder";
import { idIn, keyOf, only, shape, wordIn } from "./shape";
import { table } from "./table";

const KINDS = ["invoice", "credit"] as const;

export const deliveryShape = shape(
  "delivery",
  {
    delivery: table("delivery", { dealer: "text", number: "text", delivery_kind: "text", billed_on: "day", note: "text" }),
    lines: table("delivery_line", {
      position: "int", key: "text", item: "text", ...maybeExactColumns("packs"), ...quantityColumns("billed"), ...moneyColumns("price"), per: "text",
      ...maybeMoneyColumns("amount"), ...maybeQuantityColumns("received"), lot: "text", use_by: "day?", note: "text",
    }),
  },
  (delivery) => ({
    delivery: [{ dealer: keyOf({ kind: "dealer", id: delivery.dealerId }), number: delivery.number, delivery_kind: delivery.kind, billed_on: delivery.on, note: delivery.note }],
    lines: delivery.lines.map((line, position) => ({
      position, key: line.key, item: keyOf({ kind: "item", id: line.itemId }), ...maybeExactRow("packs", line.packs), ...quantityRow("billed", line.billed),
      ...moneyRow("price", line.price), per: line.per, ...maybeMoneyRow("amount", line.amount), ...maybeQuantityRow("received", line.received),
      lot: line.lot, use_by: line.useBy, note: line.note,
    })),
  }),
  (id, rows) => {
    const delivery = only(rows.delivery);
    return {
      id, dealerId: idIn(delivery.dealer), number: delivery.number, kind: wordIn(delivery.delivery_kind, KINDS), on: delivery.billed_on,
      lines: rows.lines.map((line) => ({
        key: line.key, itemId: idIn(line.item), packs: maybeExactIn(line, "packs"), billed: quantityIn(line, "billed"), price: moneyIn(line, "price"),
        per: perFrom(line.per), amount: maybeMoneyIn(line, "amount"), received: maybeQuantityIn(line, "received"), lot: line.lot, useBy: line.use_by, note: line.note,
      })),
      note: delivery.note,
    };
  },
);
