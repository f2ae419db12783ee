/** What is bought, as files: items, quotes, dealers, deliveries, by-products. */
import { type Dealer, type Delivery, type DeliveryLine, type Item, type Quote, costingQuote, factKey, lineValue, printPack, quotesOf } from "@/lib/book";
import { costOf, creditedShare } from "@/lib/cascade";
import { dayCell, listWorkbook } from "@/lib/exchange";
import { UNITS, exact, moneyPlaces, moneyText, rateText, ratio, shareText } from "@/lib/measure";
import { ALLERGEN_WORDS } from "@/components/allergen/words";
import type { OpenKitchen } from "../../open-kitchen";
import type { OutList } from "../out-lists";
import { costColumns, exactCell, moneyColumn, quantityColumns, ratioCell, words, yesNo } from "./cells";

const byName = <T extends { readonly name: string }>(all: Iterable<T>): readonly T[] => [...all].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));

const KIND_WORDS: Readonly<Record<Item["kind"], string>> = { mass: "weight", volume: "volume", count: "count" };

export const items: OutList = {
  what: "items", title: "Items", holds: "what is bought, its shelf and specification, what it costs and by which price, its label’s allergens",
  count: ({ live }) => live.book.shelves.item.size,
  workbook: ({ live: { book, cascade }, kitchen }, { paper }) => {
    const quote = (item: Item): Quote | null => costingQuote(book, item.id);
    return listWorkbook<Item>({
      title: "Items", paper, rows: byName(book.shelves.item.values()),
      columns: [
        words("Item", ({ name }) => name, 32), words("Shelf", ({ section }) => section), words("Specification", ({ specification }) => specification, 40), words("Priced by", ({ kind }) => KIND_WORDS[kind], 10),
        words("Dealer", (item) => { const found = quote(item); return found === null ? item.transfer === null ? "" : "by-product of the house" : book.shelves.dealer.get(found.dealerId)?.name; }, 24),
        words("Pack", (item) => { const found = quote(item); return found === null ? "" : printPack(found.pack, kitchen); }, 22),
        ...costColumns<Item>(kitchen, ({ id }) => costOf(cascade, { kind: "item", id })),
        { head: "Price since", of: (item) => { const found = quote(item); return found === null ? null : dayCell(book.provenance.get(factKey("quote", found.id))?.validFrom); } },
        { head: "Grams in a mL", of: ({ density }) => exactCell(density?.gramsPerMl) },
        ...quantityColumns<Item>("One weighs", ({ eachWeight }) => eachWeight?.weight),
        words("Label read", ({ allergens }) => yesNo(allergens !== null), 10),
        words("Contains", ({ allergens }) => allergens?.contains.map((one) => ALLERGEN_WORDS[one]).join(", "), 24),
        words("May contain", ({ allergens }) => allergens?.mayContain.map((one) => ALLERGEN_WORDS[one]).join(", "), 24),
        words("Id", ({ id }) => id, 24),
      ],
    });
  },
};

export const quotes: OutList = {
  what: "quotes", title: "Prices", holds: "every dealer’s price of every item: pack, price, extras and rebates, contract, order code, since when",
  count: ({ live }) => live.book.shelves.quote.size,
  workbook: ({ live: { book }, kitchen }, { paper }) => {
    const rows = [...book.shelves.item.values()].flatMap(({ id }) => quotesOf(book, id));
    const inUse = new Set([...book.shelves.item.keys()].map((id) => costingQuote(book, id)?.id));
    const extra = ({ name, way, of }: Quote["landed"][number]): string => `${name} ${way === "adds" ? "+" : "−"} ${of.kind === "share" ? shareText(of.share, kitchen) : `${moneyText(of.amount.amount, kitchen)} ${of.per === "pack" ? "a pack" : `a ${UNITS[of.per].one}`}`}`;
    return listWorkbook<Quote>({
      title: "Prices", paper, rows,
      columns: [
        words("Item", ({ itemId }) => book.shelves.item.get(itemId)?.name, 32), words("Dealer", ({ dealerId }) => book.shelves.dealer.get(dealerId)?.name, 24),
        words("Pack", ({ pack }) => printPack(pack, kitchen), 22), words("Catch weight", ({ pack }) => yesNo(pack.catchWeight), 12),
        moneyColumn<Quote>("Price", kitchen, ({ price }) => price), words("Currency", ({ currency }) => currency ?? kitchen.currency, 10), words("For one", ({ per }) => (per === "pack" ? "pack" : UNITS[per].one), 10),
        words("Extras and rebates", ({ landed }) => landed.map(extra).join("; "), 30),
        words("Rests on", ({ basis }) => basis, 12), { head: "Contract until", of: ({ until }) => dayCell(until) }, words("Order code", ({ code }) => code, 16), words("GTIN", ({ gtin }) => gtin, 18),
        { head: "Since", of: ({ id }) => dayCell(book.provenance.get(factKey("quote", id))?.validFrom) }, words("Recorded by", ({ id }) => book.provenance.get(factKey("quote", id))?.by),
        words("Costed at", ({ id }) => yesNo(inUse.has(id)), 10), words("Id", ({ id }) => id, 24),
      ],
    });
  },
};

export const dealers: OutList = {
  what: "dealers", title: "Dealers", holds: "who delivers, the least an order comes to, how and when to order",
  count: ({ live }) => live.book.shelves.dealer.size,
  workbook: ({ live: { book }, kitchen }, { paper }) => {
    const prices = new Map<string, number>();
    for (const { dealerId } of book.shelves.quote.values()) prices.set(dealerId, (prices.get(dealerId) ?? 0) + 1);
    return listWorkbook<Dealer>({
      title: "Dealers", paper, rows: byName(book.shelves.dealer.values()),
      columns: [
        words<Dealer>("Dealer", ({ name }) => name, 28), moneyColumn<Dealer>(`Least order, ${kitchen.currency}`, kitchen, ({ minimumOrder }) => minimumOrder), words<Dealer>("Ordering", ({ ordering }) => ordering, 34), words<Dealer>("Note", ({ note }) => note, 40),
        { head: "Prices on the book", of: ({ id }) => exactCell(exact(String(prices.get(id) ?? 0))) }, words<Dealer>("Id", ({ id }) => id, 24),
      ],
    });
  },
};

interface DeliveryRow {
  readonly delivery: Delivery;
  readonly line: DeliveryLine;
}

export const deliveries: OutList = {
  what: "deliveries", title: "Deliveries", holds: "every line of every invoice and credit memo: billed, price, received at the door, lot",
  count: ({ live }) => live.book.shelves.delivery.size,
  workbook: ({ live: { book }, kitchen }, { paper }) => listWorkbook<DeliveryRow>({
    title: "Deliveries", paper,
    rows: [...book.shelves.delivery.values()].sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : 0)).flatMap((delivery) => delivery.lines.map((line) => ({ delivery, line }))),
    columns: [
      { head: "Day", of: ({ delivery }) => dayCell(delivery.on) }, words<DeliveryRow>("Dealer", ({ delivery }) => book.shelves.dealer.get(delivery.dealerId)?.name, 24), words<DeliveryRow>("Paper", ({ delivery }) => (delivery.kind === "credit" ? "credit memo" : "invoice"), 12), words<DeliveryRow>("Number", ({ delivery }) => delivery.number),
      words<DeliveryRow>("Item", ({ line }) => book.shelves.item.get(line.itemId)?.name, 32), { head: "Packs", of: ({ line }) => exactCell(line.packs) }, ...quantityColumns<DeliveryRow>("Billed", ({ line }) => line.billed),
      moneyColumn<DeliveryRow>(`Price, ${kitchen.currency}`, kitchen, ({ line }) => line.price), words<DeliveryRow>("For one", ({ line }) => (line.per === "pack" ? "pack" : UNITS[line.per].one), 10),
      { head: `Comes to, ${kitchen.currency}`, of: ({ line }) => ratioCell(lineValue(line), moneyPlaces(kitchen.currency)) }, moneyColumn<DeliveryRow>(`As printed, ${kitchen.currency}`, kitchen, ({ line }) => line.amount),
      ...quantityColumns<DeliveryRow>("Received", ({ line }) => line.received), words<DeliveryRow>("Lot", ({ line }) => line.lot), { head: "Use by", of: ({ line }) => dayCell(line.useBy) }, words<DeliveryRow>("Note", ({ line }) => line.note, 30), words<DeliveryRow>("Id", ({ delivery }) => delivery.id, 24),
    ],
  }),
};

/** The items that come off something else in the house. */
const passedOn = ({ live }: Pick<OpenKitchen, "live">): readonly Item[] => byName([...live.book.shelves.item.values()].filter(({ transfer }) => transfer !== null));

export const byProducts: OutList = {
  what: "by-products", title: "By-products", holds: "what comes off in the house: its transfer price and where that is from, where it goes, how much of it is used",
  count: (open) => passedOn(open).length,
  workbook: (open, { paper }) => {
    const { live: { book, cascade }, kitchen } = open;
    return listWorkbook<Item>({
      title: "By-products", paper, rows: passedOn(open),
      columns: [
        words("By-product", ({ name }) => name, 28), words("Price is", ({ transfer }) => (transfer?.price.kind === "item" ? "that of another item" : transfer?.price.kind === "market" ? "a market’s" : "fixed by the house"), 20),
        words("Rate", ({ transfer }) => (transfer === null || transfer.price.kind === "item" ? "" : rateText(transfer.price.rate, kitchen)), 16),
        words("Takes the place of", ({ transfer }) => (transfer?.price.kind === "item" ? book.shelves.item.get(transfer.price.itemId)?.name : ""), 24),
        words("Less", ({ transfer }) => (transfer?.price.kind === "item" && transfer.price.less !== null ? rateText(transfer.price.less, kitchen) : ""), 16),
        words("From", ({ transfer }) => (transfer === null || transfer.price.kind === "item" ? "" : transfer.price.source), 30), { head: "Decided", of: ({ transfer }) => dayCell(transfer?.on) }, words("Goes to", ({ transfer }) => transfer?.destination, 24),
        ...quantityColumns<Item>("Comes off", ({ transfer }) => transfer?.use?.produced), ...quantityColumns<Item>("Used", ({ transfer }) => transfer?.use?.used), words("Over", ({ transfer }) => transfer?.use?.over),
        { head: "Credited, %", of: (item) => ratioCell(ratio.mul(creditedShare(item), ratio.of(100n)), 1) },
        ...costColumns<Item>(kitchen, ({ id }) => costOf(cascade, { kind: "item", id })), words("Id", ({ id }) => id, 24),
      ],
    });
  },
};
