/** An order as a sheet, CSV or workbook: one dealer's part, or all of them one under the other. */
import { type OrderedItem, orderOf } from "@/lib/buying";
import { type Cell, listWorkbook, numberCell } from "@/lib/exchange";
import { Decimal, type Habits, type Ratio, UNITS, type Unit, baseFactor, customaryUnit, kindOf, moneyPlaces, ratio } from "@/lib/measure";
import { paperSize } from "@/components/paper/paper-size";
import { pathId } from "../../../path-id";
import { kitchenSheet, saySheet } from "../../../sheet-answer";
import { rowOf } from "../../view";

export async function GET(request: Request, { params }: { readonly params: Promise<{ readonly order: string }> }): Promise<Response> {
  const id = pathId((await params).order);
  return kitchenSheet(request, "see money", async (open, search) => {
    const { store, kitchenId, kitchen, live } = open;
    const kept = await store.readOrderPlan(kitchenId, id);
    if (kept === null) return saySheet(404, "There is no such order in this kitchen.");
    const dealers = orderOf(live.cascade, kept.plan).dealers.filter(({ dealerId }) => search["dealer"] === undefined || search["dealer"] === dealerId);
    if (dealers.length === 0) return saySheet(404, "Nothing is ordered from that dealer.");
    const rows = dealers.flatMap((part) => part.lines.map((line) => ({ part, line, view: rowOf(line, open), unit: unitOf(line, kitchen) })));
    const amount = (value: Ratio | null, unit: Unit): Cell | null => numberCell(value === null ? null : ratio.toDecimal(ratio.div(value, ratio.fromExact(baseFactor(unit)))), 3);
    const money = (amount: Decimal | null): Cell | null => numberCell(amount, moneyPlaces(kitchen.currency));
    return {
      name: `order ${kept.name}${dealers.length === 1 && dealers[0] !== undefined ? ` ${dealers[0].name}` : ""}`,
      workbook: listWorkbook({
        title: "Order", paper: paperSize(search["paper"], kitchen.locale), rows,
        columns: [
          { head: "Dealer", width: 24, of: ({ part }) => (part.dealerId === null ? "" : part.name) },
          { head: "Code", of: ({ view }) => view.code },
          { head: "Item", width: 34, of: ({ view }) => view.name },
          { head: "Packs", of: ({ line: { packs } }) => numberCell(typeof packs === "string" ? null : new Decimal(packs.packs.toString()), 0) },
          { head: "Pack", width: 30, of: ({ view }) => view.pack },
          { head: "Pack holds", of: ({ line: { packs }, unit }) => amount(typeof packs === "string" ? null : packs.content, unit) },
          { head: "Unit", of: ({ unit }) => UNITS[unit].one },
          { head: "Needed", of: ({ line: { need }, unit }) => amount(need.needed, unit) },
          { head: "In the house", of: ({ line: { need }, unit }) => amount(need.onHand, unit) },
          { head: "Ordered in all", of: ({ line: { packs }, unit }) => amount(typeof packs === "string" ? null : packs.bought, unit) },
          { head: "Beyond the need", of: ({ line: { packs }, unit }) => amount(typeof packs === "string" ? null : packs.over, unit) },
          { head: `A pack, ${kitchen.currency}`, of: ({ line: { packs } }) => money(typeof packs === "string" || packs.price === null ? null : ratio.toDecimal(packs.price)) },
          { head: `In all, ${kitchen.currency}`, of: ({ line: { packs } }) => money(typeof packs === "string" || packs.cost === null ? null : ratio.toDecimal(packs.cost)) },
          { head: "Note", width: 40, of: ({ view }) => [...view.notes, ...(view.why === null ? [] : [`Not in packs: ${view.why}.`])].join(" ") },
        ],
      }),
    };
  });
}

/** The unit that the dealer packs in, where that is the kind the item is needed in; else the kitchen's own. */
function unitOf({ need, packs }: OrderedItem, habits: Habits): Unit {
  const packed = typeof packs === "string" ? null : packs.quote.pack.size.unit;
  return packed !== null && kindOf(packed) === need.kind ? packed : customaryUnit(need.kind, habits);
}
