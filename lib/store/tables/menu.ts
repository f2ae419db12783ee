/** Recipes and dishes with their lines, menu prices and what was sold, in tables. */
import type { Line, LineKind } from "@/lib/book";
import {
  exactColumns, exactIn, exactRow, maybeExactColumns, maybeExactIn, maybeExactRow, moneyColumns, moneyIn, moneyRow,
  quantityColumns, quantityIn, quantityRow,
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

export const recipeShape = shape(
  "recipe",
  {
    recipe: table("recipe", { name: "text", section: "text", method: "text" }),
    yields: table("recipe_yield", { position: "int", ...quantityColumns("yield") }),
    lines: table("recipe_line", LINE),
  },
  (recipe) => ({
    recipe: [{ name: recipe.name, section: recipe.section, method: recipe.method }],
    yields: recipe.yields.map((quantity, position) => ({ position, ...quantityRow("yield", quantity) })),
    lines: recipe.lines.map(lineRow),
  }),
  (id, rows) => {
    const recipe = only(rows.recipe);
    return {
      id, name: recipe.name, section: recipe.section, yields: rows.yields.map((row) => quantityIn(row, "yield")),
      lines: rows.lines.map(lineIn), method: recipe.method,
    };
  },
);

export const dishShape = shape(
  "dish",
  {
    dish: table("dish", { name: "text", section: "text", note: "text" }),
    lines: table("dish_line", { ...LINE, role: "text" }),
  },
  (dish) => ({
    dish: [{ name: dish.name, section: dish.section, note: dish.note }],
    lines: dish.lines.map((line, position) => ({ ...lineRow(line, position), role: line.role })),
  }),
  (id, rows) => {
    const dish = only(rows.dish);
    return {
      id, name: dish.name, section: dish.section,
      lines: rows.lines.map((row) => ({ ...lineIn(row), role: wordIn(row.role, ROLES) })), note: dish.note,
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
