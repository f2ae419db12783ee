/**
 * One move as changes of a book with the moves before it laid over: what each fact it touches becomes, or a sentence that
 * says why it does nothing (the thing has left the book, a unit does not cross). A move never throws for what has become
 * of the book.
 */
import { type Checked, type Problem, type Quantity, bad, baseFactor, good, kindOf, ratio, shareText } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import { type Change, type FactOf, kitchenOf } from "../book";
import { quotesOf } from "../costing-quote";
import { usersOf } from "../check";
import type { Item, Quote } from "../item";
import { crossKinds } from "../quantity-of";
import type { Dish, DishLine, Line, Recipe } from "../recipe";
import type { LaidOver } from "./laid-over";
import type { LineTo, Move, MoveBody, PricesOf } from "./move";

type Body<K extends MoveBody["kind"]> = Extract<MoveBody, { kind: K }>;
type Laid = Checked<readonly Change[]>;

/** Items by section, made once for each state of the shelf. */
const bySection = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();

export function layMove(over: LaidOver, { about, body }: Pick<Move, "about" | "body">): Laid {
  switch (body.kind) {
    case "share": return share(over, body, about);
    case "price": return price(over, body, about);
    case "dealer": return dealer(over, body, about);
    case "tests": return tests(over, body, about);
    case "size": return size(over, body, about);
    case "line": return oneLine(over, body, about);
    case "menu price": return menuPrice(over, body, about);
    case "target": return target(over, body, about);
    case "replace": return replace(over, body, about);
    case "fact": return good([body.change]);
  }
}

function gone(about: string): { readonly ok: false; readonly problems: readonly Problem[] } {
  return bad("", "not-in-the-book", `${about} is not in the book any more, so this does nothing. Take the move off, or put something else in its place.`);
}

/** The items whose prices a share is of, as the book has them now. */
export function itemsOf(over: LaidOver, of: PricesOf): readonly string[] {
  switch (of.kind) {
    case "item": return over.get("item", of.id) === undefined ? [] : [of.id];
    case "section": return sectionItems(over, of.name);
    case "dealer": return dealerItems(over, of.id);
  }
}

function sectionItems({ book }: LaidOver, section: string): readonly string[] {
  const shelf = book.shelves.item;
  let index = bySection.get(shelf);
  if (index === undefined) {
    const made = new Map<string, string[]>();
    for (const { id, section: name } of shelf.values()) made.set(name, [...(made.get(name) ?? []), id]);
    bySection.set(shelf, (index = made));
  }
  return index.get(section) ?? [];
}

/** Items costed at this dealer's price: a price of theirs that nobody uses moves nothing, and does not become the newest by being pretended. */
function dealerItems(over: LaidOver, dealerId: string): readonly string[] {
  const items = new Set<string>();
  for (const { itemId, dealerId: by } of over.book.shelves.quote.values()) if (by === dealerId) items.add(itemId);
  for (const { itemId, dealerId: by } of over.added("quote")) if (by === dealerId) items.add(itemId);
  return [...items].filter((itemId) => over.costingQuote(itemId)?.dealerId === dealerId);
}

function share(over: LaidOver, { of, share: by }: Body<"share">, about: string): Laid {
  const there = of.kind === "section" ? sectionItems(over, of.name).length > 0 : over.get(of.kind, of.id) !== undefined;
  if (!there) return gone(about);
  const factor = ratio.add(ratio.ONE, ratio.fromExact(by));
  if (ratio.sign(factor) <= 0) return bad("", "not-above-zero", `${shareText(by, kitchenOf(over.book))} would leave no price at all: take off less than the whole.`);
  const changes = itemsOf(over, of).flatMap((itemId): Change[] => {
    const quote = over.costingQuote(itemId);
    if (quote === null) return [];
    const amount = ratio.toExact(ratio.mul(ratio.fromExact(quote.price.amount), factor));
    return [{ kind: "quote", id: quote.id, after: { ...quote, price: { amount } } }];
  });
  const alone = of.kind === "item" ? over.get("item", of.id) : undefined;
  if (alone !== undefined && alone.transfer !== null) return madeHere(alone.name);
  if (changes.length === 0) return bad("", "no-price", `Nothing is priced there yet: record what a dealer asks for ${about}, then try other prices.`);
  return good(changes);
}

/** What comes off something else in the house has no dealer whose price could be other. */
function madeHere(name: string): Laid {
  return bad("", "made-here", `${name} is made in the house and has no dealer’s price: try another transfer price among the by-products.`);
}

function price(over: LaidOver, { itemId, quoteId, price: asked, per }: Body<"price">, about: string): Laid {
  const item = over.get("item", itemId);
  const quote: Quote | null | undefined = quoteId === null ? over.costingQuote(itemId) : over.get("quote", quoteId);
  if (item === undefined || (quoteId !== null && quote === undefined)) return gone(about);
  if (item.transfer !== null) return madeHere(item.name);
  if (quote === null || quote === undefined) return bad("", "no-price", `Nobody’s price of ${item.name} is in the book yet: record one, then try others.`);
  if (per !== "pack" && kindOf(per) !== item.kind) return bad("", "wrong-kind", `${item.name} is not priced by the ${per}: give its price in the unit that it is bought by.`);
  if (per === "pack" && quote.pack.catchWeight) return bad("", "wrong-kind", `${item.name} is billed by what it weighs: give its price a pound or a kilo.`);
  return good([{ kind: "quote", id: quote.id, after: { ...quote, price: asked, per } }]);
}

function dealer(over: LaidOver, { itemId, dealerId }: Body<"dealer">, about: string): Laid {
  const item = over.get("item", itemId);
  if (item === undefined) return gone(about);
  if (dealerId !== null) {
    const name = over.get("dealer", dealerId)?.name;
    if (name === undefined) return gone(`The dealer of ${item.name}`);
    const quotes = [...quotesOf(over.book, itemId), ...over.added("quote")].map(({ id }) => over.get("quote", id));
    if (!quotes.some((quote) => quote?.itemId === itemId && quote.dealerId === dealerId)) return bad("", "no-price", `No price of ${item.name} from ${name} is in the book: record one, then try buying there.`);
  }
  return good([{ kind: "item", id: itemId, after: { ...item, dealerId } }]);
}

function tests(over: LaidOver, { cutId, testIds }: Body<"tests">, about: string): Laid {
  const cut = over.get("cut", cutId);
  if (cut === undefined) return gone(about);
  if (testIds.some((id) => over.get("test", id) === undefined)) return gone(`A test of ${cut.name}`);
  return good([{ kind: "cut", id: cutId, after: { ...cut, testIds, leftOut: cut.leftOut.filter(({ testId }) => !testIds.includes(testId)) } }]);
}

function size(over: LaidOver, { specId, size: wanted }: Body<"size">, about: string): Laid {
  const spec = over.get("spec", specId);
  if (spec === undefined) return gone(about);
  const same = kindOf(spec.size.unit) === kindOf(wanted.unit) && ratio.compare(quantityInBase(spec.size), quantityInBase(wanted)) === 0;
  return good([{ kind: "spec", id: specId, after: { ...spec, size: wanted, meanCut: same ? spec.meanCut : null } }]);
}

/** A recipe or dish with other lines, as a change. */
function withLines(kind: "recipe" | "dish", fact: Recipe | Dish, lines: readonly Line[]): Change {
  return { kind, id: fact.id, after: { ...fact, lines } } as Change;
}

function oneLine(over: LaidOver, { in: { kind, id }, lineKey, to }: Body<"line">, about: string): Laid {
  const fact: Recipe | Dish | undefined = over.get(kind, id);
  if (fact === undefined) return gone(about);
  if (to.kind === "added") return good([withLines(kind, fact, [...fact.lines.filter(({ key }) => key !== lineKey), addedLine(kind, lineKey, to)])]);
  if (!fact.lines.some(({ key }) => key === lineKey)) return bad("", "no-such-line", `${fact.name} does not have that line any more, so this does nothing. Take the move off, or say what it should be now.`);
  return good([withLines(kind, fact, fact.lines.flatMap((line): readonly Line[] => {
    if (line.key !== lineKey) return [line];
    if (to.kind === "removed") return [];
    return [to.kind === "quantity" ? { ...line, quantity: to.quantity } : { ...line, of: to.of, quantity: to.quantity }];
  }))]);
}

function addedLine(kind: "recipe" | "dish", key: string, { of, quantity, note, role, channel }: Extract<LineTo, { kind: "added" }>): Line | DishLine {
  const line: Line = { key, of, quantity, note };
  return kind === "recipe" ? line : { ...line, role: role ?? "main", channel: channel ?? "any" };
}

function menuPrice(over: LaidOver, { dishId, gross }: Body<"menu price">, about: string): Laid {
  if (over.get("dish", dishId) === undefined) return gone(about);
  const terms = over.get("menuPrice", dishId) ?? { id: dishId, taxRate: null, target: null };
  return good([{ kind: "menuPrice", id: dishId, after: { ...terms, gross } }]);
}

function target(over: LaidOver, { of, target: share }: Body<"target">, about: string): Laid {
  if (of.kind === "dish") {
    if (over.get("dish", of.id) === undefined) return gone(about);
    const price = over.get("menuPrice", of.id);
    if (price === undefined) return bad("", "no-price", `${about} has no menu price yet, so it has no target of its own: give it a price first.`);
    return good([{ kind: "menuPrice", id: of.id, after: { ...price, target: share } }]);
  }
  const kitchen = over.get("kitchen", over.book.kitchenId) as FactOf["kitchen"];
  if (of.kind === "kitchen") return share === null ? bad("", "missing", "Say what the kitchen’s target is.") : good([{ kind: "kitchen", id: kitchen.id, after: { ...kitchen, target: share } }]);
  const others = kitchen.sectionTargets.filter(({ section }) => section !== of.name);
  return good([{ kind: "kitchen", id: kitchen.id, after: { ...kitchen, sectionTargets: share === null ? others : [...others, { section: of.name, target: share }] } }]);
}

/** So many lines that do not convert are told by name. */
const NAMED = 3;

/** Half a substitution would tell a wrong total: where one line cannot be converted, nothing is replaced and the line is named. */
function replace(over: LaidOver, { itemId, byId }: Body<"replace">, about: string): Laid {
  const item = over.get("item", itemId);
  const by = over.get("item", byId);
  if (item === undefined) return gone(about);
  if (by === undefined) return gone(`What ${item.name} would be replaced by`);
  const changes: Change[] = [];
  const stuck: string[] = [];
  for (const { kind, id } of takersOf(over, itemId)) {
    const fact: Recipe | Dish | undefined = over.get(kind, id);
    if (fact === undefined) continue;
    let hit = false;
    const lines = fact.lines.map((line): Line => {
      if (line.of.kind !== "item" || line.of.id !== itemId) return line;
      hit = true;
      const quantity = asTakenOf(by, item, line.quantity);
      if (quantity === null) stuck.push(fact.name);
      return { ...line, of: { kind: "item", id: byId }, quantity: quantity ?? line.quantity };
    });
    if (hit) changes.push(withLines(kind, fact, lines));
  }
  if (stuck.length > 0) {
    const names = [...new Set(stuck)];
    const told = names.slice(0, NAMED).join(", ") + (names.length > NAMED ? ` and ${names.length - NAMED} more` : "");
    return bad("", "no-conversion", `The amount of ${item.name} in ${told} cannot be turned into ${by.name}: record what one weighs, or what a cup of it weighs, for the one that lacks it.`);
  }
  if (changes.length === 0) return bad("", "nowhere", `No recipe and no dish takes ${item.name} as purchased, so there is nothing to replace.`);
  return good(changes);
}

/** The recipes and dishes that take an item, in the book or as pretended. */
export function takersOf(over: LaidOver, itemId: string): readonly { readonly kind: "recipe" | "dish"; readonly id: string }[] {
  const takes = (fact: Recipe | Dish): boolean => fact.lines.some(({ of }) => of.kind === "item" && of.id === itemId);
  const found = new Map<string, { readonly kind: "recipe" | "dish"; readonly id: string }>();
  for (const { kind, id } of usersOf(over.book, "item", itemId, ["recipe", "dish"])) if (kind === "recipe" || kind === "dish") found.set(`${kind}:${id}`, { kind, id });
  for (const { kind, id, after } of over.changes()) if ((kind === "recipe" || kind === "dish") && after !== null && takes(after)) found.set(`${kind}:${id}`, { kind, id });
  return [...found.values()];
}

/** An amount of one item as an amount of another: as it stands where the other can be measured so, else by what the first one weighs. null where neither goes. */
function asTakenOf(by: Item, item: Item, quantity: Quantity): Quantity | null {
  if (typeof crossKinds(by, quantity, by.kind) !== "string") return quantity;
  const grams = crossKinds(item, quantity, "mass");
  if (typeof grams === "string") return null;
  const weighed: Quantity = inUnit(grams, kindOf(quantity.unit) === "mass" ? quantity.unit : "g");
  return typeof crossKinds(by, weighed, by.kind) === "string" ? null : weighed;
}

function inUnit(grams: ratio.Ratio, unit: Quantity["unit"]): Quantity {
  return { amount: ratio.toExact(ratio.div(grams, ratio.fromExact(baseFactor(unit)))), unit };
}
