/** The printed sheets of one recipe or portion, as files: the cost sheet, the recipe's card, the station's card. */
import { allergensOf } from "@/lib/book";
import { explain } from "@/lib/cascade";
import { type Cell, type Workbook, numberCell, text } from "@/lib/exchange";
import { UNITS, moneyPlaces, printDay, ratio } from "@/lib/measure";
import { missingText } from "@/components/figure/Missing";
import { ALLERGEN_WORDS, CHECK_THE_LABEL } from "@/components/allergen/words";
import { ONE_BATCH, askedMake, careWords, linesAtSize, timesText, yieldsAtSize } from "@/components/recipe/scaled";
import { allowanceWords } from "@/components/explanation/ExplanationLedger";
import type { OpenKitchen } from "../../open-kitchen";
import { saySheet } from "../../sheet-answer";
import { portionCard } from "../../specs/[spec]/card/card";
import type { Asked, OutSheet } from "../out-lists";

type Rows = (Cell | null)[][];

const NO_RECIPE = "There is no such recipe in this kitchen.";

function recipeAsked({ live, kitchen }: OpenKitchen, { search }: Asked) {
  const recipe = live.book.shelves.recipe.get(search["of"] ?? "");
  if (recipe === undefined) return null;
  const asked = askedMake(search["make"] ?? "", recipe, kitchen);
  const factor = asked.make?.factor ?? null;
  return {
    recipe, factor, lines: linesAtSize(live.book, recipe, factor, kitchen), yields: yieldsAtSize(recipe, factor, kitchen),
    size: factor === null ? [] : [`${timesText(factor, kitchen)} times the batch, asked for as ${asked.text}`, ...(careWords(factor) === null ? [] : [careWords(factor) ?? ""])],
  };
}

const signed = ({ kitchen, live, visitor }: OpenKitchen): string => `${kitchen.name} · ${printDay(live.today, kitchen)} · made by ${visitor.name}`;

function one(title: string, paper: Workbook["paper"], rows: Rows, widths: readonly number[]): Workbook {
  return { title, paper, sheets: [{ name: title, widths, rows }] };
}

export const costSheet: OutSheet = {
  what: "cost-sheet",
  make: (open, asked) => {
    const { kitchen, live } = open;
    const found = recipeAsked(open, asked);
    const opened = found === null ? null : explain(live.cascade, { kind: "recipe", id: found.recipe.id });
    if (found === null || opened === null) return saySheet(404, NO_RECIPE);
    const { recipe, lines, yields, size, factor } = found;
    const times = ratio.toDecimal(ratio.fromExact(factor ?? ONE_BATCH));
    const money = moneyPlaces(kitchen.currency);
    const byKey = new Map(lines.map((line) => [line.key, line]));
    const rows: Rows = [
      [text(recipe.name, "title")], [text(`Cost sheet · ${signed(open)}`, "note")], [text(`Yields ${yields}`, "note")], ...size.map((line): Cell[] => [text(line, "note")]), [],
      ["What goes in", "Quantity", `For one, ${kitchen.currency}`, "for one", `Amount, ${kitchen.currency}`, "Known"].map((head) => text(head, "head")),
      ...opened.steps.map((step): (Cell | null)[] => {
        const line = byKey.get(step.key);
        return [
          text(step.detail?.of === "allowance" ? `${step.name} ${allowanceWords(step.detail.allowance, kitchen)}` : line === undefined ? step.name : [line.name, line.note].filter(Boolean).join(", ")),
          line === undefined ? null : text(`${line.exact ? "" : "about "}${line.quantity}`),
          step.rate === null ? null : numberCell(step.rate.amount, money + 2), step.rate === null ? null : text(UNITS[step.rate.per].one),
          step.amount === null ? null : numberCell(step.amount.mul(times), money + 2), text(step.amount === null ? "unknown" : step.missing.length > 0 ? "at least" : ""),
        ];
      }),
      [text("The batch", "strong"), null, null, null, numberCell(opened.cost.amount.mul(times), money), text(opened.cost.missing.length > 0 ? `at least; missing ${missingText(opened.cost.missing)}` : "")],
      ...opened.costOf.map((cost): (Cell | null)[] => [text(UNITS[cost.quantity.unit].kind === "count" ? "A portion" : `One ${UNITS[cost.quantity.unit].one}`), null, null, null, numberCell(cost.amount, money + 2), text(opened.cost.missing.length > 0 ? "at least" : "")]),
    ];
    return { name: `${recipe.name} cost sheet`, workbook: one("Cost sheet", asked.paper, rows, [40, 20, 14, 10, 14, 30]) };
  },
};

export const recipeCard: OutSheet = {
  what: "recipe-card",
  make: (open, asked) => {
    const found = recipeAsked(open, asked);
    if (found === null) return saySheet(404, NO_RECIPE);
    const { recipe, lines, yields, size } = found;
    const allergens = allergensOf(open.live.book, { kind: "recipe", id: recipe.id });
    const said = [
      ["Contains", allergens.contains.map(({ allergen }) => ALLERGEN_WORDS[allergen])], ["May contain traces of", allergens.mayContain.map(({ allergen }) => ALLERGEN_WORDS[allergen])],
      ["Labels nobody has read", allergens.unknown.map(({ name }) => name)],
    ] as const;
    const rows: Rows = [
      [text(recipe.name, "title")], [text(signed(open), "note")], [text(`Yields ${yields}`, "note")], ...size.map((line): Cell[] => [text(line, "note")]), [],
      ["Quantity", "What goes in", "Note"].map((head) => text(head, "head")),
      ...lines.map((line): Cell[] => [text(`${line.exact ? "" : "about "}${line.quantity}`), text(line.name), text([line.basis, line.note, line.broken === null ? "" : `comes out broken: ${line.broken}, or weigh it`].filter(Boolean).join(", "))]), [],
      ...(recipe.method === "" ? [] : [[text("Method", "strong"), text(recipe.method)]]),
      ...recipe.steps.map(({ text: step, critical }, at): Cell[] => [text(`Step ${at + 1}`, "strong"), text(step), text(critical === null ? "" : `${critical.degrees} °${critical.scale} ${critical.held}`.trim())]), [],
      ...said.filter(([, list]) => list.length > 0).map(([what, list]): Cell[] => [text(what, "strong"), text(list.join(", "))]), [text(CHECK_THE_LABEL, "note")],
    ];
    return { name: `${recipe.name} recipe card`, workbook: one("Recipe card", asked.paper, rows, [24, 50, 40]) };
  },
};

export const stationCard: OutSheet = {
  what: "station-card",
  make: (open, asked) => {
    const spec = open.live.book.shelves.spec.get(asked.search["of"] ?? "");
    const cut = spec === undefined ? undefined : open.live.book.shelves.cut.get(spec.cutId);
    if (spec === undefined || cut === undefined) return saySheet(404, "There is no such portion in this kitchen.");
    const card = portionCard(open, spec, cut);
    const rows: Rows = [
      [text(card.title, "title")], [text(`${card.of} · ${card.kitchen}`, "note")], [text("Size", "strong"), text(card.size)], ...(card.limits === "" ? [] : [[text("Weighs", "strong"), text(card.limits)]]),
      ...card.lines.map(({ label, value }): Cell[] => [text(label, "strong"), text(value)]), [text(card.caution, "note")], [text(card.printed, "note")],
    ];
    return { name: `${card.title} station card`, workbook: one("Station card", asked.paper, rows, [24, 70]) };
  },
};
