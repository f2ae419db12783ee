/** What is cooked and sold, as files: recipes, dishes, their lines, allergens, sales. */
import { ALLERGENS, type AllergensFound, type Allowance, type Dish, type Line, type Recipe, allergenState, allergensOf } from "@/lib/book";
import { type Step, batchCostOf, costOf, explain } from "@/lib/cascade";
import { type ListColumn, dayCell, listWorkbook, numberCell } from "@/lib/exchange";
import { UNITS, exact, moneyPlaces, moneyText, quantityText, shareText, toDecimal } from "@/lib/measure";
import { type DishFigures, menuFigures, usualWeek } from "@/lib/menu";
import { ALLERGEN_WORDS, STATE_WORDS } from "@/components/allergen/words";
import type { OpenKitchen } from "../../open-kitchen";
import type { OutList } from "../out-lists";
import { exactCell, missingColumns, quantityColumns, words } from "./cells";

const bySection = <T extends { readonly section: string; readonly name: string }>(all: Iterable<T>): readonly T[] =>
  [...all].sort((a, b) => (a.section === b.section ? (a.name < b.name ? -1 : 1) : a.section < b.section ? -1 : 1));

const TAKEN: Readonly<Record<Line["of"]["kind"], string>> = { item: "as purchased", cut: "edible portion", spec: "portions", recipe: "recipe" };

const allowanceText = (allowance: Allowance, kitchen: OpenKitchen["kitchen"]): string =>
  `${allowance.name} ${allowance.kind === "money" ? moneyText(allowance.amount.amount, kitchen) : `${shareText(allowance.share, kitchen)} ${allowance.basis === "on-cost" ? "on the cost" : "of the whole"}`}`;

export const recipes: OutList = {
  what: "recipes", title: "Recipes", holds: "what a batch yields and costs, and what one of it costs",
  count: ({ live }) => live.book.shelves.recipe.size,
  workbook: ({ live: { book, cascade }, kitchen }, { paper }) => {
    const money = moneyPlaces(kitchen.currency);
    const cost = (recipe: Recipe) => costOf(cascade, { kind: "recipe", id: recipe.id });
    return listWorkbook<Recipe>({
      title: "Recipes", paper, rows: bySection(book.shelves.recipe.values()),
      columns: [
        words("Recipe", ({ name }) => name, 30), words("Section", ({ section }) => section), words("A batch yields", ({ yields }) => yields.map((one) => quantityText(one, kitchen)).join(", or "), 28),
        { head: `A batch costs, ${kitchen.currency}`, of: (recipe) => numberCell(cost(recipe)?.amount, money) },
        { head: `One costs, ${kitchen.currency}`, of: (recipe) => numberCell(batchCostOf(recipe, cost(recipe)?.amount ?? toDecimal(exact("0")))[0]?.amount, money + 2) },
        words("for one", (recipe) => { const [first] = recipe.yields; return first === undefined ? "" : UNITS[first.unit].one; }, 10), ...missingColumns<Recipe>(cost),
        { head: "Lines", of: ({ lines }) => exactCell(exact(String(lines.length))) }, words("Allowances", ({ allowances }) => allowances.map((one) => allowanceText(one, kitchen)).join("; "), 30),
        words("Method", ({ method, steps }) => [method, ...steps.map((step, at) => `${at + 1}. ${step.text}`)].filter(Boolean).join("\n"), 60), words("Id", ({ id }) => id, 24),
      ],
    });
  },
};

interface LineRow {
  readonly of: string;
  readonly section: string;
  readonly id: string;
  readonly line: Line;
  readonly step: Step | undefined;
}

/** Every line with what it comes to, in the order it is written in. */
function lineRows({ live: { cascade } }: Pick<OpenKitchen, "live">, kind: "recipe" | "dish", all: readonly (Recipe | Dish)[]): readonly LineRow[] {
  return all.flatMap((one) => {
    const steps = new Map(explain(cascade, { kind, id: one.id })?.steps.map((step) => [step.key, step]));
    return one.lines.map((line) => ({ of: one.name, section: one.section, id: one.id, line, step: steps.get(line.key) }));
  });
}

function lineColumns({ kitchen, live: { book } }: OpenKitchen): readonly ListColumn<LineRow>[] {
  const money = moneyPlaces(kitchen.currency);
  return [
    words<LineRow>("What goes in", ({ line }) => book.shelves[line.of.kind].get(line.of.id)?.name, 30), words<LineRow>("Taken", ({ line }) => TAKEN[line.of.kind], 14), ...quantityColumns<LineRow>("Quantity", ({ line }) => line.quantity),
    { head: `For one, ${kitchen.currency}`, of: ({ step }) => numberCell(step?.rate?.amount, money + 2) }, words<LineRow>("for one", ({ step }) => (step?.rate ? UNITS[step.rate.per].one : ""), 10),
    { head: `Comes to, ${kitchen.currency}`, of: ({ step }) => numberCell(step?.amount, money + 2) }, words<LineRow>("At least", ({ step }) => (step === undefined ? "" : step.amount === null ? "unknown" : step.missing.length > 0 ? "at least" : ""), 10),
    words<LineRow>("Note", ({ line }) => line.note, 30),
  ];
}

export const recipeLines: OutList = {
  what: "recipe-lines", title: "Recipes line by line", holds: "every line of every recipe, its quantity and what it comes to",
  count: ({ live }) => [...live.book.shelves.recipe.values()].reduce((sum, { lines }) => sum + lines.length, 0),
  workbook: (open, { paper }) => listWorkbook<LineRow>({
    title: "Recipe lines", paper, rows: lineRows(open, "recipe", bySection(open.live.book.shelves.recipe.values())),
    columns: [words("Recipe", ({ of }) => of, 30), words("Section", ({ section }) => section), ...lineColumns(open), words("Recipe’s id", ({ id }) => id, 24)],
  }),
};

const STATES: Readonly<Record<DishFigures["state"], string>> = { over: "over target", near: "near", under: "under", unpriced: "no menu price", incomplete: "not wholly known" };

export const dishes: OutList = {
  what: "dishes", title: "Dishes", holds: "the menu: price, plate cost, food-cost %, target, margin, how many are sold in a usual week",
  count: ({ live }) => live.book.shelves.dish.size,
  workbook: ({ live: { cascade }, kitchen }, { paper }) => {
    const money = moneyPlaces(kitchen.currency);
    const { sold } = usualWeek(cascade);
    const percent = (share: DishFigures["foodCost"]) => numberCell(share === null ? null : share.mul(100), 1);
    return listWorkbook<DishFigures>({
      title: "Dishes", paper, rows: menuFigures(cascade),
      columns: [
        words("Dish", ({ name }) => name, 32), words("Section", ({ section }) => section), { head: `Menu price, ${kitchen.currency}`, of: ({ gross }) => numberCell(gross, money) }, { head: "Tax within it, %", of: ({ taxRate }) => numberCell(toDecimal(taxRate).mul(100), 1) },
        { head: `Net price, ${kitchen.currency}`, of: ({ net }) => numberCell(net, money) }, { head: `Plate cost, ${kitchen.currency}`, of: ({ plateCost }) => numberCell(plateCost.amount, money) }, ...missingColumns<DishFigures>(({ plateCost }) => plateCost),
        { head: "Food cost, %", of: ({ foodCost }) => percent(foodCost) }, { head: "Target, %", of: ({ target }) => percent(target) }, words("State", ({ state }) => STATES[state], 16), { head: `Contribution, ${kitchen.currency}`, of: ({ contribution }) => numberCell(contribution, money) },
        { head: "Sold in a usual week", of: ({ id }) => numberCell(sold.get(id), 1) }, words("Rests on a borrowed yield of", ({ plateCost }) => plateCost.borrowed.map(({ name }) => name).join(", "), 24), words("Id", ({ id }) => id, 24),
      ],
    });
  },
};

export const dishLines: OutList = {
  what: "dish-lines", title: "Dishes line by line", holds: "what is on every plate, how much of it and what it comes to",
  count: ({ live }) => [...live.book.shelves.dish.values()].reduce((sum, { lines }) => sum + lines.length, 0),
  workbook: (open, { paper }) => {
    const rows = lineRows(open, "dish", bySection(open.live.book.shelves.dish.values()));
    const on = ({ id, line }: LineRow) => open.live.book.shelves.dish.get(id)?.lines.find(({ key }) => key === line.key);
    return listWorkbook<LineRow>({
      title: "Dish lines", paper, rows,
      columns: [words("Dish", ({ of }) => of, 30), words("Section", ({ section }) => section), words("Is", (row) => on(row)?.role, 12), words("Goes", (row) => { const way = on(row)?.channel; return way === "table" ? "at the table" : way === "away" ? "taken away" : "always"; }, 14), ...lineColumns(open), words("Dish’s id", ({ id }) => id, 24)],
    });
  },
};

interface AllergenRow {
  readonly name: string;
  readonly what: string;
  readonly section: string;
  readonly id: string;
  readonly found: AllergensFound;
}

export const allergens: OutList = {
  what: "allergens", title: "Allergens", holds: "every dish and recipe against the fourteen, by the labels of what it is made of; a label nobody has read is told as not known",
  count: ({ live }) => live.book.shelves.dish.size + live.book.shelves.recipe.size,
  workbook: ({ live: { book } }, { paper }) => {
    const of = (kind: "dish" | "recipe"): readonly AllergenRow[] => bySection<Dish | Recipe>(book.shelves[kind].values()).map(({ id, name, section }) => ({ id, name, section, what: kind, found: allergensOf(book, { kind, id }) }));
    return listWorkbook<AllergenRow>({
      title: "Allergens", paper, rows: [...of("dish"), ...of("recipe")],
      columns: [
        words("Name", ({ name }) => name, 32), words("Is a", ({ what }) => what, 10), words("Section", ({ section }) => section),
        ...ALLERGENS.map((one) => words<AllergenRow>(ALLERGEN_WORDS[one], ({ found }) => STATE_WORDS[allergenState(found, one)], 14)),
        words("Labels nobody has read", ({ found }) => found.unknown.map(({ name }) => name).join(", "), 40), words("Id", ({ id }) => id, 24),
      ],
    });
  },
};

export const sales: OutList = {
  what: "sales", title: "Sales", holds: "what was sold of each dish, week by week",
  count: ({ live }) => live.book.shelves.sales.size,
  workbook: ({ live: { book } }, { paper }) => listWorkbook<{ readonly week: string; readonly dishId: string; readonly count: Parameters<typeof exactCell>[0] }>({
    title: "Sales", paper,
    rows: [...book.shelves.sales.values()].sort((a, b) => (a.id < b.id ? 1 : -1)).flatMap(({ id: week, sold }) => sold.map(({ dishId, count }) => ({ week, dishId, count }))),
    columns: [{ head: "Week from Monday", of: ({ week }) => dayCell(week) }, words("Dish", ({ dishId }) => book.shelves.dish.get(dishId)?.name ?? dishId, 32), { head: "Sold", of: ({ count }) => exactCell(count) }, words("Dish’s id", ({ dishId }) => dishId, 24)],
  }),
};
