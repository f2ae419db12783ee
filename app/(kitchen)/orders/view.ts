/** An order put into words and printed figures, for the page, the paper and the sheet. Nothing is reckoned here. */
import { type CutNeed, type DealerOrder, type Order, type OrderedItem, type OrderPlan, type Packs, leftText, neededText, worthUnknown } from "@/lib/buying";
import { packContent, printPack } from "@/lib/book";
import { type Quantity, type Ratio, UNITS, printMoney, printNumber, printShare, quantityText, ratio, toDecimal } from "@/lib/measure";
import { missingText } from "@/components/figure/Missing";
import type { OrderRowView } from "@/components/order/row-view";
import type { OpenKitchen } from "../open-kitchen";

type Kitchen = OpenKitchen["kitchen"];

export function moneyOf(amount: Ratio, kitchen: Kitchen): string {
  return printMoney(ratio.toDecimal(amount), kitchen);
}

/** "$1,240", "at least $1,240", "about $1,240": what is known of a sum. */
export function sumText(total: Ratio, { atLeast, estimate }: { readonly atLeast: boolean; readonly estimate: boolean }, kitchen: Kitchen): string {
  return `${atLeast ? "at least " : estimate ? "about " : ""}${moneyOf(total, kitchen)}`;
}

const NO_PACKS = { price: "nobody asks a price for it", density: "its pack is told in a measure that nothing turns into what it is needed in: record its density", "each-weight": "its pack is counted and it is needed by weight, or the other way round: record what one weighs" } as const;

export function rowOf(line: OrderedItem, { live: { book }, kitchen }: Pick<OpenKitchen, "live" | "kitchen">): OrderRowView {
  const { need, toBuy, packs } = line;
  const told = (amount: Ratio): string => neededText(amount, need.kind, kitchen);
  const base = {
    key: need.itemId, itemId: need.itemId, name: need.name, needed: `${need.missing.length > 0 ? "at least " : ""}${told(need.needed)}`,
    onHand: ratio.sign(need.onHand) === 0 ? null : leftText(need.onHand, need.kind, kitchen),
  };
  const notes = need.missing.length > 0 ? [`At least: missing ${missingText(need.missing)}.`] : [];
  if (typeof packs === "string") {
    return { ...base, code: "", packs: null, pack: "", why: NO_PACKS[packs], bought: told(toBuy), over: null, overCost: null, price: null, cost: null, notes };
  }
  const { quote } = packs;
  if (packs.pieces !== null) notes.push(`Bought by the piece, ${need.pieces} of them to cut: portions are counted out of pieces.`);
  if (packs.estimate) notes.push("Billed by what it weighs: the money is an estimate.");
  if (quote.landed.length > 0) notes.push("As asked, before what comes on top and what is paid back.");
  if (worthUnknown(book, line)) notes.push(`Asked in ${quote.currency ?? ""}, and nobody has said what that is worth here.`);
  const per = quote.per === "pack" ? "" : ` / ${UNITS[quote.per].one}`;
  return {
    ...base, code: quote.code, packs: String(packs.packs), pack: printPack(quote.pack, kitchen), why: null, bought: quantityText(inAll(packs), kitchen),
    over: ratio.sign(packs.over) === 0 ? null : leftText(packs.over, need.kind, kitchen),
    overCost: packs.overCost === null || ratio.sign(packs.over) === 0 ? null : moneyOf(packs.overCost, kitchen),
    price: `${printMoney(toDecimal(quote.price.amount), quote.currency === null ? kitchen : { ...kitchen, currency: quote.currency })}${per}`,
    cost: packs.cost === null ? null : moneyOf(packs.cost, kitchen), notes,
  };
}

/** What the packs hold together, in the unit that the dealer packs in. */
function inAll({ quote, packs }: Packs): Quantity {
  const content = packContent(quote.pack);
  return { amount: ratio.toExact(ratio.mul(ratio.fromExact(content.amount), ratio.of(packs))), unit: content.unit };
}

/** What a dealer's part comes to against the least that he delivers. */
export function minimumText({ minimum, total }: DealerOrder, kitchen: Kitchen): string | null {
  if (minimum === null) return null;
  const least = moneyOf(minimum.least, kitchen);
  return minimum.short === null ? `Reaches the least order of ${least}.` : `${moneyOf(total, kitchen)} is ${moneyOf(minimum.short, kitchen)} under the least order of ${least}.`;
}

/** By which yield a cut was reckoned, in a sentence's end: "66.7 %, the mean of 3 tests". */
export function yieldText(need: CutNeed, kitchen: Kitchen): string {
  if (need.bought === null) return "no yield is known";
  const share = `${printShare(ratio.toDecimal(need.bought.yield), kitchen)} %`;
  const tests = need.tests === 1 ? "one test" : `${need.tests} tests`;
  const { sureness } = need.bought;
  if (sureness.by === "limit") {
    const level = `${printShare(toDecimal(sureness.level), kitchen, { places: 0 })} %`;
    return `${share}: what it yields at least, ${level} sure, from ${tests}${sureness.few ? ", which is few to tell a spread from" : ""}`;
  }
  switch (sureness.why) {
    case "asked": return `${share}, ${need.borrowed ? "borrowed, no test of our own" : need.tests === 1 ? "one test" : `the mean of ${tests}`}`;
    case "borrowed": return `${share}, borrowed: no test of our own tells how it spreads, so nothing is put on top`;
    case "one-test": return `${share}, one test: it tells no spread, so nothing is put on top`;
    case "too-spread": return `${share}, the mean: these ${tests} are too few and too far apart to be so sure of any quantity`;
  }
}

/** How many pieces a cut takes: "3 pieces", "3 pieces, 12 portions each". */
export function piecesText({ pieces, counted, worked }: CutNeed, kitchen: Kitchen): string {
  // A bag of carrots or a can that was tested is no piece that anybody counts.
  if (pieces === null || (worked !== "butcher" && worked !== "cooking" && counted.length === 0)) return "";
  const word = `${pieces} ${pieces === 1n ? "piece" : "pieces"}`;
  return counted.length === 0 ? word : `${word}; ${counted.map(({ name, perPiece }) => `${printNumber(ratio.toDecimal(perPiece), kitchen, { places: perPiece.d === 1n ? 0 : 1 })} ${name} a piece`).join(", ")}`;
}

/** "2 dishes for 150 covers, 1 line beside". */
export function planWords({ dishes, lines }: OrderPlan, kitchen: Kitchen): string {
  const covers = ratio.sum(dishes.map((dish) => ratio.fromExact(dish.covers)));
  const said = [
    ...(dishes.length === 0 ? [] : [`${dishes.length} ${dishes.length === 1 ? "dish" : "dishes"}, ${printNumber(ratio.toDecimal(covers), kitchen)} covers`]),
    ...(lines.length === 0 ? [] : [`${lines.length} ${lines.length === 1 ? "line" : "lines"} ${dishes.length === 0 ? "" : "beside"}`.trim()]),
  ];
  return said.length === 0 ? "nothing wanted yet" : said.join(", ");
}

/** One sentence that answers: how much from whom, and what is not known. */
export function orderSentence(order: Order, kitchen: Kitchen): string {
  const dealers = order.dealers.filter(({ dealerId }) => dealerId !== null);
  const lines = order.dealers.reduce((sum, { lines: own }) => sum + own.length, 0);
  if (lines === 0) return order.needs.missing.length + order.needs.empty.length > 0 ? "Nothing can be ordered yet: what is needed is not known." : "Nothing has to be bought: all of it is in the house.";
  const from = dealers.length === 0 ? "no dealer asks a price for it" : `${dealers.length} ${dealers.length === 1 ? "dealer" : "dealers"}, ${sumText(order.total, order, kitchen)} as asked`;
  const over = ratio.sign(order.overCost) === 0 ? "" : ` Of it ${moneyOf(order.overCost, kitchen)} is bought beyond the need, because packs are whole.`;
  return `${lines} ${lines === 1 ? "item" : "items"} from ${from}.${over}`;
}

export const DOOR_CAUTION = "At the door: weigh what is billed by weight, take no cold food above 41 °F / 5 °C and nothing thawed that was ordered frozen. Your local food code comes first.";
