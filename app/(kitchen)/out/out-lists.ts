/** All that can be taken away as a list or a sheet, each once: the page tells them, the route makes them. */
import type { Workbook } from "@/lib/exchange";
import type { OpenKitchen } from "../open-kitchen";
import type { SheetToGive } from "../sheet-answer";
import { cuts, specs, tests } from "./lists/block";
import { byProducts, dealers, deliveries, items, quotes } from "./lists/larder";
import { allergens, dishLines, dishes, recipeLines, recipes, sales } from "./lists/menu";
import { record, since } from "./lists/record";
import { costSheet, recipeCard, stationCard } from "./lists/sheets";

export interface Asked {
  readonly paper: Workbook["paper"];
  readonly search: Readonly<Record<string, string>>;
}

/** A list: one row of heads, then a row for each thing. */
export interface OutList {
  /** In the address: /out/items. */
  readonly what: string;
  readonly title: string;
  /** What it holds, in a line. */
  readonly holds: string;
  /** How many things it is of; null where it is not a count of things. */
  readonly count: (open: OpenKitchen) => number | null;
  readonly workbook: (open: OpenKitchen, asked: Asked) => Workbook | Response | Promise<Workbook | Response>;
}

/** A sheet of one thing, which `?of=` names. */
export interface OutSheet {
  readonly what: string;
  readonly make: (open: OpenKitchen, asked: Asked) => SheetToGive | Response;
}

export const LISTS: readonly { readonly title: string; readonly lists: readonly OutList[] }[] = [
  { title: "What is bought", lists: [items, quotes, dealers, deliveries, byProducts] },
  { title: "At the block", lists: [tests, cuts, specs] },
  { title: "What is cooked and sold", lists: [recipes, recipeLines, dishes, dishLines, allergens, sales] },
  { title: "What happened", lists: [record, since] },
];

export const SHEETS: readonly OutSheet[] = [costSheet, recipeCard, stationCard];
