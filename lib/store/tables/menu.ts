/** Recipes and dishes with their lines, menu prices and what was sold, in tables. */
import type { Allowance, CriticalTemperature, Line, LineKind } from "@/lib/book";
import {
  exactColumns, exactIn, exactRow, maybeExactColumns, maybeExactIn, maybeExactRow, moneyColumns, moneyIn, moneyRow,
  maybeMoneyColumns, maybeMoneyIn, maybeMoneyRow, quantityColumns, quantityIn, quantityRow,
} from "./figures";
import { idIn, keyOf, only, refIn, shape, wordIn } from "./shape";
import { type Row, table } from "./table";

const LINE_KINDS = ["item", "cut", "spec", "recipe"] as const satisfies readonly LineKind[];
const ROLES = ["main", "side", "garnish", "cover", "packaging"] as const;

const LINE = { position: "int", key: "text", source: "text", ...quantityColumns("quantity"), note: "text" } as const;

function lineRow(line: Line, position: number): Row<typeof LINE> {
  return { position, key: line.key, source: keyOf(line.of), ...quantityRow("quantity", line.quantity), note: line.note };
}

function lineIn(row: Row<typeof LINE>): Line {
  return { key: row.key, of: refIn(row.source, LINE_KINDS), quantity: quantityIn(row, "quantity"), note: row.note };
}

const ALLOWANCE = { position: "int", key: "text", name: "text", basis: "text", ...maybeExactColumns("share"), ...maybeMoneyColumns("amount") } as const;
const BASES = ["on-cost", "of-whole", "money"] as const;

function allowanceRow(allowance: Allowance, position: number): Row<typeof ALLOWANCE> {
  return {
    position, key: allowance.key, name: allowance.name, basis: allowance.kind === "money" ? "money" : allowance.basis,
    ...maybeExactRow("share", allowance.kind === "share" ? allowance.share : null), ...maybeMoneyRow("amount", allowance.kind === "money" ? allowance.amount : null),
  };
}

function allowanceIn(row: Row<typeof ALLOWANCE>): Allowance {
  const { key, name } = row;
  const basis = wordIn(row.basis, BASES);
  const share = maybeExactIn(row, "share");
  const amount = maybeMoneyIn(row, "amount");
  if (basis === "money" && amount !== null) return { key, name, kind: "money", amount };
  if (basis !== "money" && share !== null) return { key, name, kind: "share", share, basis };
  throw new Error(`expected an allowance called "${name}" to have a share or an amount`);
}

const CHANNELS = ["any", "table", "away"] as const;
const SCALES = ["F", "C"] as const;
const STEP = { position: "int", text: "text", ...maybeExactColumns("degrees"), scale: "text?", held: "text?" } as const;

function criticalIn(row: Row<typeof STEP>): CriticalTemperature | null {
  const degrees = maybeExactIn(row, "degrees");
  return degrees === null || row.scale === null ? null : { degrees, scale: wordIn(row.scale, SCALES), held: row.held ?? "" };
}

export const recipeShape = shape(
  "recipe",
  {
    recipe: table("recipe", { name: "text", section: "text", method: "text" }),
    yields: table("recipe_yield", { position: "int", ...quantityColumns("yield") }),
    lines: table("recipe_line", LINE),
    allowances: table("recipe_allowance", ALLOWANCE),
    steps: table("recipe_step", STEP),
  },
  (recipe) => ({
    recipe: [{ name: recipe.name, section: recipe.section, method: recipe.method }],
    yields: recipe.yields.map((quantity, position) => ({ position, ...quantityRow("yield", quantity) })),
    lines: recipe.lines.map(lineRow),
    allowances: recipe.allowances.map(allowanceRow),
    steps: recipe.steps.map(({ text, critical }, position) => ({
      position, text, ...maybeExactRow("degrees", critical?.degrees ?? null), scale: critical?.scale ?? null, held: critical?.held ?? null,
    })),
  }),
  (id, rows) => {
    const recipe = only(rows.recipe);
    return {
      id, name: recipe.name, section: recipe.section, yields: rows.yields.map((row) => quantityIn(row, "yield")),
      lines: rows.lines.map(lineIn), allowances: rows.allowances.map(allowanceIn), method: recipe.method,
      steps: rows.steps.map((row) => ({ text: row.text, critical: criticalIn(row) })),
    };
  },
);

export const dishShape = shape(
  "dish",
  {
    dish: table("dish", { name: "text", section: "text", note: "text" }),
    lines: table("dish_line", { ...LINE, role: "text", channel: "text" }),
    allowances: table("dish_allowance", ALLOWANCE),
  },
  (dish) => ({
    dish: [{ name: dish.name, section: dish.section, note: dish.note }],
    lines: dish.lines.map((line, position) => ({ ...lineRow(line, position), role: line.role, channel: line.channel })),
    allowances: dish.allowances.map(allowanceRow),
  }),
  (id, rows) => {
    const dish = only(rows.dish);
    return {
      id, name: dish.name, section: dish.section,
      lines: rows.lines.map((row) => ({ ...lineIn(row), role: wordIn(row.role, ROLES), channel: wordIn(row.channel, CHANNELS) })),
      allowances: rows.allowances.map(allowanceIn), note: dish.note,
    };
  },
);

export const menuPriceShape = shape(
  "menuPrice",
  {
    price: table("menu_price", {
      dish: "text", ...moneyColumns("gross"), ...maybeExactColumns("tax"), ...maybeExactColumns("target"),
    }),
  },
  (price, id) => ({
    price: [{
      dish: keyOf({ kind: "dish", id }), ...moneyRow("gross", price.gross), ...maybeExactRow("tax", price.taxRate),
      ...maybeExactRow("target", price.target),
    }],
  }),
  (id, rows) => {
    const price = only(rows.price);
    return { id, gross: moneyIn(price, "gross"), taxRate: maybeExactIn(price, "tax"), target: maybeExactIn(price, "target") };
  },
);

export const salesShape = shape(
  "sales",
  { lines: table("sales_line", { position: "int", dish: "text", ...exactColumns("count") }) },
  (week) => ({
    lines: week.sold.map((sold, position) => ({
      position, dish: keyOf({ kind: "dish", id: sold.dishId }), ...exactRow("count", sold.count),
    })),
  }),
  (id, rows) => ({ id, sold: rows.lines.map((row) => ({ dishId: idIn(row.dish), count: exactIn(row, "count") })) }),
);
