/**
 * The demo kitchen costed a second way: straight from its files with a general-purpose fraction library, none of the
 * project's own code, by the formulas as the trade writes them and plain recursion. It judges the whole chain from
 * typed weights to plate cost. Where a by-product is linked to an item, by-products are held at their own prices, that
 * item's on the day; where their values are only typed, they move with the dealer's price, as the cost factor has it.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import Fraction from "fraction.js";

type Kind = "mass" | "volume" | "count" | "portion";
interface Amount { readonly kind: Kind; readonly base: Fraction }

const UNITS: Readonly<Record<string, readonly [Kind, string]>> = {
  g: ["mass", "1"], kg: ["mass", "1000"], oz: ["mass", "28.349523125"], lb: ["mass", "453.59237"],
  mL: ["volume", "1"], tbsp: ["volume", "14.78676478125"], "fl oz": ["volume", "29.5735295625"], cup: ["volume", "236.5882365"],
  cups: ["volume", "236.5882365"], qt: ["volume", "946.352946"], gal: ["volume", "3785.411784"],
  each: ["count", "1"], dozen: ["count", "12"], portion: ["portion", "1"], portions: ["portion", "1"],
};

interface LineOnFile { item?: string; cut?: string; spec?: string; recipe?: string; quantity: string; channel?: string }
interface AllowanceOnFile { name: string; share?: string; basis?: string; money?: string }
interface PartOnFile { key: string; role: string; weight: string; value?: string | { item: string }; marketValue?: string; pieces?: string[] }
interface Dated { from?: string; id: string }
interface OnFile {
  items: (Dated & { dealerId: string | null; transfer?: { fixed: string }; density?: { gramsPerMl: string }; eachWeight?: { weight: string } })[];
  quotes: { quote: { itemId: string; dealerId: string; per: string; pack: { levels: { count: string }[]; size: string } }; prices: [string, string][] }[];
  tests: { id: string; billed: string; price: string | null; parts: PartOnFile[] }[];
  cuts: (Dated & { of: { item?: string; cut?: string }; partKey: string; testIds: string[] })[];
  specs: (Dated & { cutId: string; size: string; costing: string; endValue?: string; meanCut?: { weight: string } })[];
  recipes: (Dated & { yields: string[]; lines: LineOnFile[]; allowances?: AllowanceOnFile[] })[];
  dishes: (Dated & Partial<Record<"main" | "side" | "garnish" | "cover" | "packaging", LineOnFile[]>> & { allowances?: AllowanceOnFile[] })[];
}

const folder = join(import.meta.dirname, "../../seed");
const load = (file: string): { from?: string } & OnFile => JSON.parse(readFileSync(join(folder, file), "utf8")) as { from?: string } & OnFile;

function plain(typed: string): Fraction {
  return typed.trim().split(/\s+/).reduce((sum, word) => sum.add(new Fraction(word)), new Fraction(0));
}

function amount(typed: string): Amount {
  let base = new Fraction(0);
  let kind: Kind | undefined;
  for (const [, figure, unit] of typed.matchAll(/([\d./ ]+?)\s*(fl oz|[a-zA-Z]+)/g)) {
    const known = UNITS[unit ?? ""];
    if (!known) throw new Error(`no such unit in "${typed}"`);
    kind = known[0];
    base = base.add(plain(figure ?? "").mul(new Fraction(known[1])));
  }
  if (!kind) throw new Error(`no amount in "${typed}"`);
  return { kind, base };
}

function rate(typed: string): Fraction {
  const [money = "", unit = ""] = typed.split(" / ");
  return new Fraction(money).div(amount(`1 ${unit}`).base);
}

const total = (terms: readonly Fraction[]): Fraction => terms.reduce((sum, term) => sum.add(term), new Fraction(0));

/** What is reckoned on the lines: shares put on their cost, money beside them, shares of the whole divided out. */
function withAllowances(lines: Fraction, allowances: readonly AllowanceOnFile[] = []): Fraction {
  const shares = (basis: string): Fraction => total(allowances.filter((one) => one.basis === basis).map((one) => new Fraction(one.share ?? "0")));
  const money = total(allowances.map((one) => new Fraction(one.money ?? "0")));
  return lines.mul(shares("on-cost").add(1)).add(money).div(new Fraction(1).sub(shares("of-whole")));
}

/** Plate costs of every dish on the menu on a day, exact, in dollars; and how deep the recipes nest. */
export function costedByHand(on: string): { plates: ReadonlyMap<string, Fraction>; depth: (recipeId: string) => number } {
  function inForce<T extends Dated>(file: string, list: keyof OnFile): Map<string, T> {
    const content = load(file);
    return new Map((content[list] as unknown as T[]).filter((fact) => (fact.from ?? content.from ?? "") <= on).map((fact) => [fact.id, fact]));
  }
  const items = inForce<OnFile["items"][number]>("items.json", "items");
  const cuts = inForce<OnFile["cuts"][number]>("cuts.json", "cuts");
  const specs = inForce<OnFile["specs"][number]>("specs.json", "specs");
  const recipes = inForce<OnFile["recipes"][number]>("recipes.json", "recipes");
  const dishes = inForce<OnFile["dishes"][number]>("dishes.json", "dishes");
  const tests = new Map(load("tests.json").tests.map((test) => [test.id, test]));
  const known = <T>(shelf: ReadonlyMap<string, T>, id: string): T => {
    const fact = shelf.get(id);
    if (fact === undefined) throw new Error(`nothing on file under ${id}`);
    return fact;
  };

  const prices = new Map<string, Amount>();
  for (const { quote, prices: history } of load("quotes.json").quotes) {
    // What came into the book later than this day is on no plate of it.
    if (items.get(quote.itemId)?.dealerId !== quote.dealerId) continue;
    const price = new Fraction(history.filter(([from]) => from <= on).at(-1)?.[1] ?? "0");
    const size = amount(quote.per === "pack" ? quote.pack.size : `1 ${quote.per}`);
    const packs = quote.per === "pack" ? quote.pack.levels.map((level) => new Fraction(level.count)) : [];
    prices.set(quote.itemId, { kind: size.kind, base: price.div(packs.reduce((product, count) => product.mul(count), size.base)) });
  }
  for (const [id, { transfer }] of items) if (transfer !== undefined) prices.set(id, { kind: amount(`1 ${transfer.fixed.split(" / ")[1] ?? ""}`).kind, base: rate(transfer.fixed) });

  function itemCost(id: string, of: Amount): Fraction {
    const price = known(prices, id);
    const item = known(items, id);
    if (of.kind === price.kind) return of.base.mul(price.base);
    const grams = of.kind === "mass" || price.kind === "mass" ? (kind: Kind): Fraction => {
      if (kind === "volume" && item.density) return new Fraction(item.density.gramsPerMl);
      if (kind === "count" && item.eachWeight) return amount(item.eachWeight.weight).base;
      throw new Error(`no way from ${of.kind} to ${price.kind} for ${id}`);
    } : undefined;
    if (!grams) throw new Error(`no way from ${of.kind} to ${price.kind} for ${id}`);
    return price.kind === "mass" ? of.base.mul(grams(of.kind)).mul(price.base) : of.base.div(grams(price.kind)).mul(price.base);
  }

  /** C = (W·P − Σ w·v) / U over the adopted tests together; several mains share it by what each sells for. */
  function cutCost(id: string): Fraction {
    const cut = known(cuts, id);
    const adopted = cut.testIds.map((testId) => known(tests, testId));
    const P = cut.of.item === undefined ? cutCost(cut.of.cut ?? "") : itemCost(cut.of.item, { kind: "mass", base: new Fraction(1) });
    const parts = adopted.flatMap((test) => test.parts);
    const W = total(adopted.map((test) => amount(test.billed).base));
    const byProducts = parts.filter((part) => part.role === "by-product");
    const linked = byProducts.some((part) => typeof part.value === "object");
    const testPrice = adopted[0]?.price ?? null;
    const moved = linked || testPrice === null ? new Fraction(1) : P.div(rate(testPrice));
    const V = total(byProducts.map((part) => {
      const weight = amount(part.weight);
      if (part.value === undefined) throw new Error(`${part.key} of ${id} has no value`);
      return typeof part.value === "string" ? weight.base.mul(rate(part.value)).mul(moved) : itemCost(part.value.item, weight);
    }));
    const mains = parts.filter((part) => part.role === "main");
    const weights = (of: readonly PartOnFile[]): Fraction => total(of.map((part) => amount(part.weight).base));
    const J = W.mul(P).sub(V);
    if (mains.every((part) => part.key === cut.partKey)) return J.div(weights(mains));
    const worth = (of: readonly PartOnFile[]): Fraction => total(of.map((part) => amount(part.weight).base.mul(rate(part.marketValue ?? ""))));
    const mine = mains.filter((part) => part.key === cut.partKey);
    return J.mul(worth(mine)).div(worth(mains)).div(weights(mine));
  }

  function specCost(id: string): Fraction {
    const spec = known(specs, id);
    const C = cutCost(spec.cutId);
    // Costed at what is really cut, where that was weighed.
    const size = amount(spec.meanCut?.weight ?? spec.size).base;
    if (spec.costing === "by-weight") return C.mul(size);
    const cut = known(cuts, spec.cutId);
    const pieces = cut.testIds.flatMap((testId) =>
      known(tests, testId).parts.filter((part) => part.key === cut.partKey).flatMap((part) => (part.pieces ?? []).map((piece) => amount(piece).base)));
    const portions = total(pieces.map((piece) => piece.div(size).floor()));
    const left = total(pieces).sub(portions.mul(size));
    const ends = spec.endValue === undefined ? new Fraction(0) : left.mul(rate(spec.endValue));
    return total(pieces).mul(C).sub(ends).div(portions);
  }

  const batches = new Map<string, Fraction>();
  function batchCost(id: string): Fraction {
    const { lines, allowances } = known(recipes, id);
    const cost = batches.get(id) ?? withAllowances(total(lines.map(lineCost)), allowances);
    batches.set(id, cost);
    return cost;
  }

  function lineCost(line: LineOnFile): Fraction {
    const of = amount(line.quantity);
    if (line.item !== undefined) return itemCost(line.item, of);
    if (line.cut !== undefined) return cutCost(line.cut).mul(of.base);
    if (line.spec !== undefined) return specCost(line.spec).mul(of.base);
    const recipeId = line.recipe ?? "";
    const batch = known(recipes, recipeId).yields.map(amount).find((each) => each.kind === of.kind);
    if (!batch) throw new Error(`${recipeId} has no yield in ${of.kind}`);
    return batchCost(recipeId).mul(of.base).div(batch.base);
  }

  const depth = (id: string): number =>
    1 + Math.max(0, ...known(recipes, id).lines.flatMap((line) => (line.recipe === undefined ? [] : [depth(line.recipe)])));
  /** At the table: what goes only with what is taken away is left out; then what is reckoned on the rest. */
  function plateCost(dish: OnFile["dishes"][number]): Fraction {
    const lines = [dish.main, dish.side, dish.garnish, dish.cover, dish.packaging].flatMap((some) => some ?? []).filter((line) => line.channel !== "away");
    return withAllowances(total(lines.map(lineCost)), dish.allowances);
  }
  const plates = new Map([...dishes.values()].map((dish) => [dish.id, plateCost(dish)]));
  return { plates, depth };
}
