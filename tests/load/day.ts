/**
 * A mixed day in a kitchen group, as its people ask for pages and send forms: mostly reading (lists, dishes, figures,
 * items), now and then a price that is tried and recorded, a test at the block. What each asks for is drawn from dice,
 * and what can be asked for is read from the lists themselves, so that it works on any kitchen.
 */
import { type Page, type Visitor } from "../http/client";
import type { Taken } from "./measure";

/** What there is to open, as paths. */
export interface Known {
  readonly items: readonly string[];
  readonly dishes: readonly string[];
  readonly recipes: readonly string[];
  readonly tests: readonly string[];
  readonly cuts: readonly string[];
}

export interface Action {
  readonly name: string;
  readonly kind: "read" | "save";
  /** How often, of all actions. */
  readonly weight: number;
}

/** In the order of the report. */
export const ACTIONS = [
  { name: "dishes", kind: "read", weight: 12 },
  { name: "recipes", kind: "read", weight: 6 },
  { name: "items", kind: "read", weight: 6 },
  { name: "find an item", kind: "read", weight: 8 },
  { name: "tests", kind: "read", weight: 4 },
  { name: "cuts", kind: "read", weight: 4 },
  { name: "a dish", kind: "read", weight: 14 },
  { name: "a recipe", kind: "read", weight: 8 },
  { name: "an item", kind: "read", weight: 8 },
  { name: "a cut", kind: "read", weight: 3 },
  { name: "a test", kind: "read", weight: 3 },
  { name: "a figure", kind: "read", weight: 8 },
  { name: "the record", kind: "read", weight: 3 },
  { name: "form of a recipe", kind: "read", weight: 2 },
  { name: "sheet of a test", kind: "read", weight: 2 },
  { name: "try a price", kind: "save", weight: 6 },
  { name: "record a price", kind: "save", weight: 5 },
  { name: "record a test", kind: "save", weight: 2 },
] as const satisfies readonly Action[];
export type ActionName = (typeof ACTIONS)[number]["name"];

/** Reads what there is off the lists, following "show more" so far as it goes on. */
export async function readKnown(visitor: Visitor): Promise<Known> {
  const links = async (list: string): Promise<readonly string[]> => {
    const found = new Set<string>();
    for (let path: string | undefined = list, pages = 0; path !== undefined && pages < 4; pages += 1) {
      const { body } = await visitor.open(path);
      for (const [, href = ""] of body.matchAll(new RegExp(`href="(${list}/[^"/?#]+)"`, "g"))) if (href !== `${list}/new`) found.add(href);
      const next = /<a [^>]*rel="next"[^>]*>/.exec(body)?.[0];
      path = next === undefined ? undefined : /href="([^"]+)"/.exec(next)?.[1]?.replaceAll("&amp;", "&");
    }
    return [...found];
  };
  const [items, dishes, recipes, tests, cuts] = [await links("/items"), await links("/dishes"), await links("/recipes"), await links("/tests"), await links("/cuts")];
  const known = { items, dishes, recipes, tests, cuts };
  for (const [name, paths] of Object.entries(known)) if (paths.length === 0) throw new Error(`There are no ${name} in this kitchen, so there is nothing to open. Load needs one of each.`);
  return known;
}

/** One person doing one thing after another until it is time to go, with a pause to think before each. */
export async function workADay(visitor: Visitor, known: Known, { roll, until, think, only }: {
  readonly roll: () => number; readonly until: number;
  /** The mean pause, in milliseconds. */
  readonly think: number;
  readonly only?: ReadonlySet<string> | undefined;
}): Promise<Taken[]> {
  const taken: Taken[] = [];
  const doable = ACTIONS.filter(({ name }) => only === undefined || only.has(name));
  for (;;) {
    // From half to one and a half of the mean, so that people do not fall into step.
    const pause = think * (0.5 + roll());
    if (Date.now() + pause >= until) return taken;
    await new Promise((resolve) => setTimeout(resolve, pause));
    const { name } = draw(doable, roll);
    try {
      taken.push(...await act(name, visitor, known, roll));
    } catch (error) {
      taken.push({ action: name, ms: Number.NaN, error: error instanceof Error ? error.message.split("\n")[0] ?? error.message : String(error) });
    }
  }
}

function draw(actions: readonly Action[], roll: () => number): { readonly name: ActionName } {
  let left = roll() * actions.reduce((sum, { weight }) => sum + weight, 0);
  for (const action of actions) {
    left -= action.weight;
    if (left < 0) return action as { name: ActionName };
  }
  return actions.at(-1) as { name: ActionName };
}

async function act(name: ActionName, visitor: Visitor, known: Known, roll: () => number): Promise<Taken[]> {
  const one = (paths: readonly string[]): string => paths[Math.floor(roll() * paths.length)] ?? "";
  const read = async (path: string): Promise<Taken[]> => [opened(name, await visitor.open(path))];
  switch (name) {
    case "dishes": case "recipes": case "items": case "tests": case "cuts": return read(`/${name}`);
    case "find an item": return read(`/items?find=${String(Math.floor(roll() * 100))}`);
    case "a dish": return read(one(known.dishes));
    case "a recipe": return read(one(known.recipes));
    case "an item": return read(one(known.items));
    case "a cut": return read(one(known.cuts));
    case "a test": return read(one(known.tests));
    case "a figure": return read(`/figure/dish/${one(known.dishes).split("/").at(-1)}`);
    case "the record": return read("/record");
    case "form of a recipe": return read(`${one(known.recipes)}/edit`);
    case "sheet of a test": return read(`/tests/new?item=${one(known.items).split("/").at(-1)}`);
    case "try a price": case "record a price": return price(name, visitor, one(known.items), roll);
    case "record a test": return recordTest(visitor, one(known.items), roll);
  }
}

/** Opening the item is reading; what counts as saving is the answer to the form. */
async function price(name: ActionName, visitor: Visitor, path: string, roll: () => number): Promise<Taken[]> {
  const page = await visitor.open(path);
  const first = opened("an item", page);
  if (first.error !== null) return [first];
  const now = page.forms.flatMap(({ controls }) => controls).find((control) => control.name === "price")?.sends[0];
  if (now === undefined) return [first, { action: name, ms: Number.NaN, error: `${path} has no price to change` }];
  const recording = name === "record a price";
  const answer = await visitor.send(page, { price: (Number(now) * (0.95 + roll() * 0.12)).toFixed(2) }, { button: recording ? "Record this price" : "Try it" });
  // Two people at one item: whoever is later is told, which is right, and no error.
  const told = recording ? /Recorded as change [\d,]+\.|somebody else was faster/i : /What this would do|Nothing is different/;
  return [first, { action: name, ms: answer.ms, error: answer.status === 200 && told.test(answer.text) ? null : `${path} did not say what became of ${now}: ${answer.steps.join(", ")}` }];
}

async function recordTest(visitor: Visitor, path: string, roll: () => number): Promise<Taken[]> {
  const page = await visitor.open(`/tests/new?item=${path.split("/").at(-1)}`);
  const first = opened("sheet of a test", page);
  if (first.error !== null) return [first];
  const form = page.forms.find(({ buttons }) => buttons.some(({ label }) => label === "Record this test"));
  const names = form?.controls.map((control) => control.name) ?? [];
  const weights = [...new Set(names)].filter((field) => /^parts\.\d+\.weight$/.test(field));
  const billed = 10 + Math.floor(roll() * 10);
  const fields = Object.fromEntries([
    ["billed", `${billed} lb`],
    ...weights.map((field, index) => [field, index === 0 ? `${(billed * 0.7).toFixed(2)} lb` : index === 1 ? `${(billed * 0.2).toFixed(2)} lb` : ""] as const),
    ...(names.includes("price") ? [["price", "6.80 / lb"] as const] : []),
  ]);
  const answer = await visitor.send(page, fields, { button: "Record this test", follow: false });
  const moved = answer.status === 303 || /Recorded as change [\d,]+\./.test(answer.text);
  return [first, { action: "record a test", ms: answer.ms, error: moved ? null : `The test of ${path} was not recorded: ${/Nothing was saved[^]{0,300}/.exec(answer.text)?.[0] ?? answer.text.slice(0, 200)}`.replaceAll("\n", " ") }];
}

function opened(action: string, page: Page): Taken {
  return { action, ms: page.ms, error: page.status === 200 && page.body.includes("</html>") && !page.path.startsWith("/sign-in") ? null : `${page.path} answered ${page.status}` };
}
