/**
 * The usual parts of what is cut: the rows that a first sheet starts with, by the family of the cut. Common practice, no
 * source; a kitchen's own last test always goes before. Purge has a row of its own wherever meat comes in a bag, since
 * otherwise it hides in the loss and the cutter is blamed for the packer. A part is called a by-product where a kitchen
 * usually has a use for it: it then has to say what the part is worth, or call it a discard.
 *
 * Meat is told by its item number in the Institutional Meat Purchase Specifications, an open standard of the US
 * Department of Agriculture, as an optional key; most of the numbers here are from memory and only suggest a card.
 */
import type { SheetKind, SheetRole } from "./sheet";

export interface UsualPart {
  readonly name: string;
  readonly role: SheetRole;
}

export interface UsualParts {
  /** Slug of the family, "strip-loin". */
  readonly key: string;
  readonly name: string;
  readonly kind: SheetKind;
  /** Item numbers of the specification, "180"; [] for what it does not number. */
  readonly imps: readonly string[];
  /** Words that a name holds when it is of this family, lower case; all words of one entry have to be there. */
  readonly words: readonly string[];
  readonly parts: readonly UsualPart[];
}

const main = (name: string): UsualPart => ({ name, role: "main" });
const use = (name: string): UsualPart => ({ name, role: "by-product" });
const waste = (name: string): UsualPart => ({ name, role: "discard" });
const PURGE: UsualPart = { name: "Purge in the bag", role: "purge" };

function card(kind: SheetKind, name: string, imps: string, words: readonly string[], parts: readonly UsualPart[]): UsualParts {
  return { key: name.toLowerCase().replace(/[^a-z]+/g, "-"), name, kind, imps: imps === "" ? [] : imps.split(" "), words, parts };
}

/** Families in the order they are looked for: the narrower before the wider ("pork tenderloin" before "tenderloin"). */
export const USUAL_PARTS: readonly UsualParts[] = [
  card("butcher", "Short loin", "173 174", ["short loin"], [main("Strip, bone in"), main("Tenderloin"), use("Tail, for grinding"), use("Bones"), waste("Fat"), PURGE]),
  card("butcher", "Strip loin, bone in", "175", ["strip loin bone in", "striploin bone in"], [main("Steaks, bone in"), use("Lean trim"), use("Tail"), waste("Fat"), waste("Bone dust"), PURGE]),
  card("butcher", "Strip loin", "180 180A", ["strip loin", "striploin", "sirloin strip"], [main("Steaks, trimmed"), use("End steaks"), use("Lean trim"), waste("Fat"), waste("Silver skin and gristle"), PURGE]),
  card("butcher", "Pork tenderloin", "415 415A", ["pork tenderloin", "pork fillet"], [main("Tenderloin, trimmed"), use("Tails and trim"), waste("Silver skin"), PURGE]),
  card("butcher", "Tenderloin", "189 189A 190 190A 191 191A 192", ["tenderloin", "fillet of beef", "beef fillet"], [main("Centre, trimmed"), use("Head and tail"), use("Side muscle"), waste("Fat"), waste("Silver skin"), PURGE]),
  card("butcher", "Rib, bone in", "103 104 107 107A 109 109A 109C 109D 109E", ["beef rib", "prime rib", "rib roast"], [main("Roast, trimmed"), use("Back ribs"), use("Lean trim"), waste("Fat and cover"), waste("Feather bones"), PURGE]),
  card("butcher", "Ribeye roll", "108 110 111 112 112A", ["ribeye", "rib eye"], [main("Steaks, trimmed"), use("Cap"), use("Lip and lean trim"), waste("Fat"), PURGE]),
  card("butcher", "Top sirloin butt", "184 184A 184B 184D 184E", ["top sirloin", "sirloin butt"], [main("Steaks, trimmed"), use("Cap"), use("Lean trim"), waste("Fat"), waste("Gristle and silver skin"), PURGE]),
  card("butcher", "Brisket", "118 120 120A", ["brisket"], [main("Brisket, trimmed"), use("Point"), use("Lean trim"), waste("Fat"), PURGE]),
  card("butcher", "Chuck", "113 116A 116D", ["chuck"], [main("Roast or steaks, trimmed"), use("Stewing meat"), use("Lean trim"), waste("Fat and gristle"), PURGE]),
  card("butcher", "Round", "158 161 167 167A 168 169 169A 170 170A 171B 171C", ["top round", "inside round", "bottom round", "beef round"], [main("Round, trimmed"), use("Lean trim"), waste("Fat"), waste("Gristle and silver skin"), PURGE]),
  card("butcher", "Flank and skirt", "121C 121D 193", ["flank", "skirt steak"], [main("Steak, trimmed"), use("Lean trim"), waste("Fat and membrane"), PURGE]),
  card("butcher", "Veal leg", "334 336 349 349A 363", ["veal leg", "leg of veal"], [main("Cutlets"), use("Stewing meat"), use("Lean trim, for grinding"), use("Bones"), waste("Fat and gristle"), PURGE]),
  card("butcher", "Lamb rack", "204 204A 204B", ["lamb rack", "rack of lamb"], [main("Rack, frenched"), use("Lean trim"), use("Bones"), waste("Fat and cap"), PURGE]),
  card("butcher", "Lamb loin", "231 232 232A", ["lamb loin", "loin of lamb", "saddle of lamb"], [main("Loin, trimmed"), use("Flanks"), use("Kidneys"), waste("Fat"), PURGE]),
  card("butcher", "Lamb leg", "233 233A 233G 234 234A", ["lamb leg", "leg of lamb"], [main("Leg, trimmed"), use("Stewing meat"), use("Shank"), use("Bones"), waste("Fat"), PURGE]),
  card("butcher", "Pork loin, bone in", "410 411 412", ["pork loin bone in"], [main("Chops, trimmed"), use("Back ribs"), use("Lean trim"), use("Bones"), waste("Fat"), PURGE]),
  card("butcher", "Pork loin", "412B 413 413B 414", ["pork loin"], [main("Loin, trimmed"), use("Ends"), use("Lean trim"), waste("Fat"), waste("Silver skin"), PURGE]),
  card("butcher", "Pork shoulder", "403 404 405 405A 406 406A 407", ["pork shoulder", "pork butt", "boston butt", "picnic"], [main("Shoulder, trimmed"), use("Lean trim"), use("Bone"), use("Skin"), waste("Fat"), PURGE]),
  card("butcher", "Pork belly", "408 409", ["pork belly"], [main("Belly, trimmed"), use("Trim"), use("Skin"), PURGE]),
  card("butcher", "Spareribs", "416 416A 422", ["spareribs", "spare ribs", "back ribs"], [main("Ribs, trimmed"), use("Tips and trim"), waste("Membrane and fat"), PURGE]),
  card("butcher", "Whole chicken", "", ["whole chicken", "chicken whole"], [main("Breasts"), main("Legs"), use("Wings"), use("Carcass and neck"), use("Giblets"), waste("Fat and skin"), PURGE]),
  card("butcher", "Chicken breast", "", ["chicken breast"], [main("Breasts, trimmed"), use("Tenders and trim"), waste("Fat and skin"), PURGE]),
  card("butcher", "Whole duck", "", ["duck"], [main("Breasts"), main("Legs"), use("Carcass"), use("Fat, for rendering"), use("Giblets"), waste("Waste"), PURGE]),
  card("butcher", "Whole salmon", "", ["salmon"], [main("Fillet, trimmed"), use("Belly and trim"), use("Frame"), use("Head"), waste("Skin"), waste("Pin bones and waste"), { name: "Melt and drip", role: "purge" }]),
  card("butcher", "Flat fish", "", ["halibut", "turbot", "sole", "flounder", "plaice"], [main("Fillets, skinned"), use("Trim"), use("Frame and head"), waste("Skin"), waste("Roe, guts and waste"), { name: "Melt and drip", role: "purge" }]),
  card("butcher", "Round fish", "", ["cod", "bass", "snapper", "trout", "hake", "whole fish"], [main("Fillets, trimmed"), use("Trim"), use("Frame and head"), waste("Skin"), waste("Guts and waste"), { name: "Melt and drip", role: "purge" }]),
  card("trim", "Shrimp and prawns", "", ["shrimp", "prawn"], [main("Peeled, cleaned"), use("Shells and heads"), waste("Veins and waste"), { name: "Melt and drip", role: "purge" }]),
  card("trim", "Lobster and crab", "", ["lobster", "crab"], [main("Meat, picked"), use("Shells"), waste("Waste")]),
  card("trim", "Root vegetables", "", ["carrot", "potato", "parsnip", "beet", "turnip", "celeriac"], [main("Peeled, trimmed"), waste("Peelings"), waste("Ends and spoiled")]),
  card("trim", "Onions and leeks", "", ["onion", "shallot", "leek"], [main("Peeled, trimmed"), use("Trim, for stock"), waste("Skins and roots")]),
  card("trim", "Leaves", "", ["lettuce", "spinach", "chard", "kale", "romaine"], [main("Leaves, picked and washed"), use("Outer leaves"), waste("Cores, stems and spoiled")]),
  card("trim", "Cabbage and cauliflower", "", ["cabbage", "cauliflower", "broccoli"], [main("Trimmed"), use("Stalks"), waste("Cores and outer leaves")]),
  card("trim", "Peppers", "", ["bell pepper", "peppers"], [main("Flesh"), waste("Seeds and stems")]),
  card("trim", "Mushrooms", "", ["mushroom"], [main("Caps, trimmed"), use("Stems"), waste("Spoiled")]),
  card("trim", "Herbs", "", ["parsley", "basil", "cilantro", "thyme", "mint", "tarragon"], [main("Leaves, picked"), use("Stems, for stock"), waste("Spoiled")]),
  card("trim", "Melons and pineapple", "", ["melon", "pineapple"], [main("Flesh"), waste("Rind"), waste("Core and seeds")]),
  card("trim", "Citrus", "", ["orange", "lemon", "lime", "grapefruit"], [main("Segments or juice"), use("Zest"), waste("Peel, pith and seeds")]),
];

/** "IMPS 180", "IMPS no. 189A" in a purchase specification; null where none is named. */
export function impsNumberIn(text: string): string | null {
  const found = /\bIMPS(?: ?\/ ?NAMP)?\s*(?:item|no\.?|number|#)?\s*(\d{3,4}[A-Z]?)\b/i.exec(text);
  return found?.[1]?.toUpperCase() ?? null;
}

/**
 * The card for what is cut, by the number in its specification, else by words of its name; null when no family fits. A
 * portion cut carries its parent's number with 1 in front (1180 of 180), so its parent's card is found too.
 */
export function usualPartsFor(what: { readonly name: string; readonly specification?: string | undefined }): UsualParts | null {
  const number = impsNumberIn(`${what.specification ?? ""} ${what.name}`);
  if (number !== null) {
    const parent = /^1\d{3}/.test(number) ? number.slice(1) : number;
    const numbered = USUAL_PARTS.find((each) => each.imps.includes(parent) || each.imps.includes(parent.replace(/[A-Z]$/, "")));
    if (numbered !== undefined) return numbered;
  }
  const name = what.name.toLowerCase().replace(/[^\p{L}]+/gu, " ");
  const holds = (words: string): boolean => words.split(" ").every((word) => new RegExp(`(?:^| )${word}(?:e?s)?(?: |$)`, "u").test(name));
  return USUAL_PARTS.find((each) => each.words.some(holds)) ?? null;
}
