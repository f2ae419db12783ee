/** What is bought, in tables: dealers, items with density and each-weight, and quotes with how they are packed. */
import { ALLERGENS, type Allergens, type Landed, type Transfer } from "@/lib/book";
import type { Unit } from "@/lib/measure";
import {
  exactColumns, exactIn, exactRow, maybeExactColumns, maybeExactIn, maybeExactRow, maybeMoneyColumns, maybeMoneyIn, maybeMoneyRow, maybeQuantityColumns,
  maybeQuantityIn, maybeQuantityRow, maybeRateColumns, maybeRateIn, maybeRateRow, moneyColumns, moneyIn, moneyRow, quantityColumns, quantityIn, quantityRow,
  unitFrom,
} from "./figures";
import { idIn, keyOf, maybeKey, only, shape, wordIn } from "./shape";
import { type Row, table } from "./table";

export const dealerShape = shape(
  "dealer",
  { dealer: table("dealer", { name: "text", note: "text", ...maybeMoneyColumns("minimum"), ordering: "text" }) },
  (dealer) => ({ dealer: [{ name: dealer.name, note: dealer.note, ...maybeMoneyRow("minimum", dealer.minimumOrder), ordering: dealer.ordering }] }),
  (id, rows) => {
    const dealer = only(rows.dealer);
    return { id, name: dealer.name, note: dealer.note, minimumOrder: maybeMoneyIn(dealer, "minimum"), ordering: dealer.ordering };
  },
);

const KINDS = ["mass", "volume", "count"] as const;
const TRANSFER_KINDS = ["market", "fixed", "item"] as const;
const TRANSFER = {
  transfer_kind: "text?", ...maybeRateColumns("transfer"), transfer_source: "text?", transfer_of: "text?", transfer_on: "day?", transfer_destination: "text?",
  ...maybeQuantityColumns("produced"), ...maybeQuantityColumns("used"), use_over: "text?",
} as const;

function transferRow(transfer: Transfer | null): Row<typeof TRANSFER> {
  const price = transfer?.price ?? null;
  return {
    transfer_kind: price?.kind ?? null,
    ...maybeRateRow("transfer", price === null ? null : price.kind === "item" ? price.less : price.rate),
    transfer_source: price === null || price.kind === "item" ? null : price.source,
    transfer_of: price?.kind === "item" ? keyOf({ kind: "item", id: price.itemId }) : null,
    transfer_on: transfer?.on ?? null, transfer_destination: transfer?.destination ?? null,
    ...maybeQuantityRow("produced", transfer?.use?.produced ?? null), ...maybeQuantityRow("used", transfer?.use?.used ?? null), use_over: transfer?.use?.over ?? null,
  };
}

function transferIn(row: Row<typeof TRANSFER>): Transfer | null {
  if (row.transfer_kind === null || row.transfer_on === null) return null;
  const kind = wordIn(row.transfer_kind, TRANSFER_KINDS);
  const rate = maybeRateIn(row, "transfer");
  const produced = maybeQuantityIn(row, "produced");
  const used = maybeQuantityIn(row, "used");
  const rest = {
    on: row.transfer_on, destination: row.transfer_destination ?? "",
    use: produced === null || used === null ? null : { produced, used, over: row.use_over ?? "" },
  };
  if (kind === "item") {
    if (row.transfer_of === null) throw new Error("expected a transfer price by an item to name it");
    return { price: { kind, itemId: idIn(row.transfer_of), less: rate }, ...rest };
  }
  if (rate === null) throw new Error(`expected a ${kind} transfer price to have a rate`);
  return { price: { kind, rate, source: row.transfer_source ?? "" }, ...rest };
}

export const itemShape = shape(
  "item",
  {
    item: table("item", {
      name: "text", section: "text", specification: "text", measured_by: "text", dealer: "text?",
      ...maybeExactColumns("density"), density_source: "text?", density_on: "day?",
      ...maybeQuantityColumns("each"), each_source: "text?", each_on: "day?",
      allergens_source: "text?", allergens_on: "day?",
      ...TRANSFER,
    }),
    allergens: table("item_allergen", { position: "int", allergen: "text", trace: "bool" }),
  },
  (item) => ({
    item: [{
      name: item.name, section: item.section, specification: item.specification, measured_by: item.kind,
      dealer: maybeKey("dealer", item.dealerId),
      ...maybeExactRow("density", item.density?.gramsPerMl ?? null),
      density_source: item.density?.source ?? null, density_on: item.density?.on ?? null,
      ...maybeQuantityRow("each", item.eachWeight?.weight ?? null),
      each_source: item.eachWeight?.source ?? null, each_on: item.eachWeight?.on ?? null,
      allergens_source: item.allergens?.source ?? null, allergens_on: item.allergens?.on ?? null,
      ...transferRow(item.transfer),
    }],
    allergens: [
      ...(item.allergens?.contains ?? []).map((allergen) => ({ allergen, trace: false })),
      ...(item.allergens?.mayContain ?? []).map((allergen) => ({ allergen, trace: true })),
    ].map((row, position) => ({ position, ...row })),
  }),
  (id, rows) => {
    const item = only(rows.item);
    const gramsPerMl = maybeExactIn(item, "density");
    const weight = maybeQuantityIn(item, "each");
    return {
      id, name: item.name, section: item.section, specification: item.specification,
      kind: wordIn(item.measured_by, KINDS),
      dealerId: item.dealer === null ? null : idIn(item.dealer),
      density: gramsPerMl === null || item.density_on === null ? null
        : { gramsPerMl, source: item.density_source ?? "", on: item.density_on },
      eachWeight: weight === null || item.each_on === null ? null
        : { weight, source: item.each_source ?? "", on: item.each_on },
      allergens: item.allergens_on === null ? null
        : { contains: named(rows.allergens, false), mayContain: named(rows.allergens, true), source: item.allergens_source ?? "", on: item.allergens_on },
      transfer: transferIn(item),
    };
  },
);

function named(rows: readonly { readonly allergen: string; readonly trace: boolean }[], trace: boolean): Allergens["contains"] {
  return rows.filter((row) => row.trace === trace).map((row) => wordIn(row.allergen, ALLERGENS));
}

const BASES = ["quoted", "contract", "market", "invoice"] as const;
const WAYS = ["adds", "takes-off"] as const;
const LANDED = { position: "int", key: "text", name: "text", way: "text", ...maybeMoneyColumns("amount"), per: "text?", ...maybeExactColumns("share") } as const;

function landedRow({ key, name, way, of }: Landed, position: number): Row<typeof LANDED> {
  return {
    position, key, name, way, ...maybeMoneyRow("amount", of.kind === "money" ? of.amount : null), per: of.kind === "money" ? of.per : null,
    ...maybeExactRow("share", of.kind === "share" ? of.share : null),
  };
}

function landedIn(row: Row<typeof LANDED>): Landed {
  const { key, name } = row;
  const way = wordIn(row.way, WAYS);
  const amount = maybeMoneyIn(row, "amount");
  const share = maybeExactIn(row, "share");
  if (amount !== null && row.per !== null) return { key, name, way, of: { kind: "money", amount, per: perFrom(row.per) } };
  if (share !== null) return { key, name, way, of: { kind: "share", share } };
  throw new Error(`expected an extra called "${name}" to have an amount or a share`);
}

export function perFrom(text: string): "pack" | Unit {
  return text === "pack" ? text : unitFrom(text);
}

export const quoteShape = shape(
  "quote",
  {
    quote: table("quote", {
      item: "text", dealer: "text", ...moneyColumns("price"), per: "text", currency: "text?", basis: "text", until: "day?", code: "text", gtin: "text",
      ...quantityColumns("size"), catch_weight: "bool",
    }),
    levels: table("quote_pack_level", { position: "int", ...exactColumns("count"), container: "text" }),
    landed: table("quote_landed", LANDED),
  },
  (quote) => ({
    quote: [{
      item: keyOf({ kind: "item", id: quote.itemId }), dealer: keyOf({ kind: "dealer", id: quote.dealerId }),
      ...moneyRow("price", quote.price), per: quote.per, currency: quote.currency, basis: quote.basis, until: quote.until, code: quote.code, gtin: quote.gtin,
      ...quantityRow("size", quote.pack.size), catch_weight: quote.pack.catchWeight,
    }],
    levels: quote.pack.levels.map((level, position) => ({
      position, ...exactRow("count", level.count), container: level.container,
    })),
    landed: quote.landed.map(landedRow),
  }),
  (id, rows) => {
    const quote = only(rows.quote);
    return {
      id, itemId: idIn(quote.item), dealerId: idIn(quote.dealer),
      pack: {
        levels: rows.levels.map((level) => ({ count: exactIn(level, "count"), container: level.container })),
        size: quantityIn(quote, "size"),
        catchWeight: quote.catch_weight,
      },
      price: moneyIn(quote, "price"),
      per: perFrom(quote.per),
      currency: quote.currency,
      basis: wordIn(quote.basis, BASES),
      until: quote.until,
      code: quote.code,
      gtin: quote.gtin,
      landed: rows.landed.map(landedIn),
    };
  },
);
