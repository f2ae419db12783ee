/**
 * The words that dealers head their columns with and count their packs by, in the languages of the lists that kitchens
 * get. Folded (no case, accents or signs), so that "Art.-Nr." and "ART NR" are one.
 */
import { foldWords } from "@/lib/book";
import { type Unit, unitFromSpelling } from "@/lib/measure";
import type { PricedPer } from "./line";

/** What a column of a list may hold. */
export const LIST_FIELDS = ["code", "gtin", "name", "pack", "price", "per", "currency", "from"] as const;
export type ListField = (typeof LIST_FIELDS)[number];

/** In English, German, French, Spanish, Italian, Dutch, as they stand at the head of lists. */
const HEADINGS: Readonly<Record<ListField, readonly string[]>> = {
  code: [
    "code", "item code", "item no", "item number", "item nr", "item", "product code", "product no", "product number", "sku", "order code", "order no", "stock code", "supplier code", "vendor code", "dealer code", "supc", "plu",
    "art nr", "artnr", "artikelnummer", "artikel nr", "artikelnr", "art no", "bestellnummer", "bestell nr", "best nr", "bestnr", "nummer", "nr",
    "ref", "reference", "code article", "code produit", "n article", "codigo", "cod", "codigo articulo", "referencia", "codice", "codice articolo", "cod art", "articolo nr", "artikelcode", "bestelnummer",
  ],
  gtin: ["gtin", "gtin 14", "ean", "ean code", "ean 13", "upc", "upc code", "barcode", "bar code", "strichcode", "code barre", "code barres", "gencod", "codigo de barras", "codice a barre", "streepjescode", "itf 14"],
  name: [
    "name", "description", "item description", "product description", "product", "product name", "item name", "article", "goods", "bezeichnung", "artikelbezeichnung", "artikel", "produkt", "produktname", "beschreibung", "ware", "artikeltext",
    "designation", "libelle", "produit", "nom", "descripcion", "producto", "articulo", "denominacion", "nombre", "descrizione", "prodotto", "articolo", "denominazione", "omschrijving", "naam", "productnaam", "artikelomschrijving",
  ],
  pack: [
    "pack", "pack size", "packsize", "case size", "case pack", "size", "packing", "packaging", "pack description", "unit size", "contents", "content", "gebinde", "gebindegrosse", "verpackung", "verpackungseinheit", "ve", "inhalt", "packung", "gebinde inhalt",
    "conditionnement", "cond", "condt", "colisage", "emballage", "contenance", "formato", "envase", "presentacion", "embalaje", "contenido", "confezione", "imballo", "pezzatura", "verpakking", "inhoud", "eenheid inhoud",
  ],
  price: [
    "price", "unit price", "case price", "pack price", "net price", "your price", "list price", "cost", "unit cost", "case cost", "new price", "preis", "nettopreis", "netto", "netto preis", "listenpreis", "ek", "ek preis", "einkaufspreis", "einzelpreis", "preis netto", "neuer preis",
    "prix", "prix ht", "prix net", "prix net ht", "prix unitaire", "pu ht", "pu", "tarif", "tarif ht", "precio", "precio neto", "precio unitario", "tarifa", "prezzo", "prezzo netto", "prezzo unitario", "listino", "prijs", "nettoprijs", "stukprijs",
  ],
  per: [
    "unit", "uom", "u m", "unit of measure", "price unit", "price uom", "price per", "per", "priced by", "sold by", "sell unit", "billed by", "einheit", "me", "mengeneinheit", "preiseinheit", "pe", "je", "unite", "unite de prix", "unite de vente", "par", "unidad", "ud", "unidad de precio",
    "unita", "um", "unita di misura", "eenheid", "prijs per", "prijseenheid",
  ],
  currency: ["currency", "cur", "curr", "ccy", "wahrung", "whg", "devise", "monnaie", "moneda", "divisa", "valuta"],
  from: [
    "valid from", "from", "effective", "effective date", "effective from", "price date", "valid", "start date", "date", "gultig ab", "ab", "datum", "preis ab", "valable du", "valable des", "a partir du", "des", "date d effet", "desde", "vigente desde", "valido desde", "fecha",
    "valido dal", "dal", "decorrenza", "data", "geldig vanaf", "vanaf", "ingangsdatum",
  ],
};

const FIELD_OF: ReadonlyMap<string, ListField> = new Map(
  LIST_FIELDS.flatMap((field) => HEADINGS[field].map((words): [string, ListField] => [words, field])),
);
/** "Item" heads a code beside a description, and a name where there is none. */
const EITHER = new Set(["item", "article", "artikel", "nummer", "nr"]);

/** What a heading says its column holds; `sure` is false where the word is used for more than one thing, or only a part of the heading says it. */
export function fieldOfHeading(heading: string): { readonly field: ListField; readonly sure: boolean } | null {
  const folded = foldWords(heading).replace(/^(?:dealer|supplier|vendor|your|our|unser|ihr) (?=.)/, "");
  if (folded === "" || folded.length > 60) return null;
  const whole = FIELD_OF.get(folded);
  if (whole !== undefined) return { field: whole, sure: !EITHER.has(folded) };
  const words = folded.split(" ");
  // "Price per lb", "Preis EUR/kg", "Net price USD": the longest run of words from the front that is known.
  for (let count = Math.min(words.length, 4); count > 0; count -= 1) {
    const field = FIELD_OF.get(words.slice(0, count).join(" "));
    // "Price per" heads a unit, "price per lb" a price.
    if (field !== undefined) return { field: field === "per" && words[0] !== "per" && count < words.length ? "price" : field, sure: false };
  }
  for (let at = 1; at < words.length; at += 1) {
    const field = FIELD_OF.get(words.slice(at).join(" "));
    if (field !== undefined) return { field, sure: false };
  }
  return null;
}

/** What price lists call the whole pack, folded. */
const PACK_WORDS = new Set([
  "pack", "pk", "pck", "pkg", "package", "case", "cs", "cse", "ca", "carton", "ctn", "crt", "ct", "box", "bx", "bag", "bg", "sack", "crate", "tray", "flat", "tub", "pail", "bucket", "drum", "can", "tin", "jar", "bottle", "roll", "bundle", "lug",
  "karton", "krt", "ktn", "kiste", "gebinde", "geb", "beutel", "dose", "eimer", "packung", "paket", "pak", "pkt", "kolli", "colli", "ve", "flasche", "fl", "netz", "steige",
  "caisse", "colis", "sac", "boite", "bte", "barquette", "seau", "lot", "plateau", "filet", "bouteille", "caja", "cj", "bolsa", "saco", "lata", "cubo", "paquete", "botella", "cassa", "scatola", "cartone", "conf", "confezione", "sacco", "latta", "secchio", "bottiglia",
  "doos", "zak", "krat", "emmer", "blik", "fles",
]);

/** Units as lists write them beyond what a kitchen types: UN/CEFACT Recommendation 20 codes, and other languages. */
const MORE_UNITS: Readonly<Record<string, Unit>> = {
  lbr: "lb", onz: "oz", kgm: "kg", grm: "g", ltr: "L", mlt: "mL", clt: "cL", gll: "gal", qt: "qt", qtl: "qt", ptl: "pt", h87: "each", c62: "each", nar: "each", pce: "each", ea: "each", dzn: "dozen",
  kilogramm: "kg", kilogramme: "kg", kilogramo: "kg", chilo: "kg", kilos: "kg", liter: "L", litro: "L", litri: "L", libra: "lb", pfund: "lb",
  st: "each", stk: "each", stck: "each", stuck: "each", piece: "each", pieces: "each", pz: "each", pieza: "each", piezas: "each", pezzo: "each", pezzi: "each", ud: "each", uds: "each", unidad: "each", unidades: "each", un: "each", unit: "each", unite: "each", stuks: "each", stuk: "each", each: "each",
};

/** What a price is for, as a list writes it: "CS", "/kg", "per lb", "Stück", "KGM", "XCS"; null where it is nothing known. */
export function pricedPer(text: string): PricedPer | null {
  const bare = text.trim().replace(/^(?:\p{Sc}|[a-z]{3} )?\s*(?:\/|per\b|je\b|pro\b|par\b|por\b|al\b|a\b|the\b|le\b|la\b)\s*/iu, "").replace(/[.\s]+$/, "");
  if (bare === "" || bare.length > 30) return null;
  const folded = foldWords(bare);
  if (PACK_WORDS.has(folded) || /^x[a-z][a-z0-9]$/.test(folded) || PACK_WORDS.has(folded.replace(/e?s$/, ""))) return "pack";
  const unit = MORE_UNITS[folded] ?? unitFromSpelling(bare) ?? (folded === "" ? undefined : unitFromSpelling(folded));
  if (unit === undefined) return null;
  return unit === "portion" ? "each" : unit;
}
