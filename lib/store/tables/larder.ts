/** What is bought, in tables: dealers, items with density and each-weight, and quotes with how they are packed. */
import { ALLERGENS, type Allergens } from "@/lib/book";
import {
  exactColumns, exactIn, exactRow, maybeExactColumns, maybeExactIn, maybeExactRow, maybeQuantityColumns, maybeQuantityIn,
  maybeQuantityRow, moneyColumns, moneyIn, moneyRow, quantityColumns, quantityIn, quantityRow, unitFrom,
} from "./figures";
import { idIn, keyOf, maybeKey, only, shape, wordIn } from "./shape";
import { table } from "./table";

export const dealerShape = shape(
  "dealer",
  { dealer: table("dealer", { name: "text", note: "text" }) },
  (dealer) => ({ dealer: [{ name: dealer.name, note: dealer.note }] }),
  (id, rows) => {
    const dealer = only(rows.dealer);
    return { id, name: dealer.name, note: dealer.note };
  },
);

const KINDS = ["mass", "volume", "count"] as const;

export const itemShape = shape(
  "item",
  {
    item: table("item", {
      name: "text", section: "text", specification: "text", measured_by: "text", dealer: "text?",
      ...maybeExactColumns("density"), density_source: "text?", density_on: "day?",
      ...maybeQuantityColumns("each"), each_source: "text?", each_on: "day?",
      allergens_source: "text?", allergens_on: "day?",
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
    };
  },
);

function named(rows: readonly { readonly allergen: string; readonly trace: boolean }[], trace: boolean): Allergens["contains"] {
  return rows.filter((row) => row.trace === trace).map((row) => wordIn(row.allergen, ALLERGENS));
}

const BASES = ["quoted", "contract", "invoice"] as const;

export const quoteShape = shape(
  "quote",
  {
    quote: table("quote", {
      item: "text", dealer: "text", ...moneyColumns("price"), per: "text", basis: "text", code: "text",
      ...quantityColumns("size"), catch_weight: "bool",
    }),
    levels: table("quote_pack_level", { position: "int", ...exactColumns("count"), container: "text" }),
  },
  (quote) => ({
    quote: [{
      item: keyOf({ kind: "item", id: quote.itemId }), dealer: keyOf({ kind: "dealer", id: quote.dealerId }),
      ...moneyRow("price", quote.price), per: quote.per, basis: quote.basis, code: quote.code,
      ...quantityRow("size", quote.pack.size), catch_weight: quote.pack.catchWeight,
    }],
    levels: quote.pack.levels.map((level, position) => ({
      position, ...exactRow("count", level.count), container: level.container,
    })),
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
      per: quote.per === "pack" ? "pack" : unitFrom(quote.per),
      basis: wordIn(quote.basis, BASES),
      code: quote.code,
    };
  },
);
