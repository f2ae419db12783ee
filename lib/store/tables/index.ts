/** The shapes of all kinds of fact. */
import type { FactKind } from "@/lib/book";
import { cutShape, specShape } from "./cut";
import { deliveryShape } from "./delivery";
import { kitchenShape } from "./kitchen";
import { dealerShape, itemShape, quoteShape } from "./larder";
import { dishShape, menuPriceShape, recipeShape, salesShape } from "./menu";
import type { Shape } from "./shape";
import { testShape } from "./yield-test";

const SHAPES = {
  kitchen: kitchenShape, dealer: dealerShape, item: itemShape, quote: quoteShape, delivery: deliveryShape, test: testShape, cut: cutShape,
  spec: specShape, recipe: recipeShape, dish: dishShape, menuPrice: menuPriceShape, sales: salesShape,
};

/** The shape of a kind, for code that handles all kinds alike and knows no more of the tables than their description. */
export function shapeOf<K extends FactKind>(kind: K): Shape<K> {
  // Each shape's rows are narrower than the general one's; they meet only rows made from the same description.
  return SHAPES[kind] as unknown as Shape<K>;
}

export { columnList, rowFrom } from "./table";
export type { Columns, Row, Table } from "./table";
