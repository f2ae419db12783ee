/** What a recipe's card and its cost sheet have in common: the size asked for, the paper, who wrote it and when it was printed. */
import { notFound } from "next/navigation";
import { type Recipe, factKey } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { type PaperSize, paperSize } from "@/components/paper/paper-size";
import { type AskedMake, type LineAtSize, askedMake, careWords, linesAtSize, timesText, yieldsAtSize } from "@/components/recipe/scaled";
import type { OpenKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";

export interface PrintProps {
  readonly params: Promise<{ readonly recipe: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}

export interface RecipePrint {
  readonly recipe: Recipe;
  readonly asked: AskedMake;
  readonly paper: PaperSize;
  readonly yields: string;
  readonly size: string | null;
  readonly care: string | null;
  readonly lines: readonly LineAtSize[];
  readonly printed: string;
  /** "/recipes/demi-glace". */
  readonly address: string;
  /** What the address carries on, with another paper or as it is. */
  readonly query: (paper?: PaperSize) => string;
}

export async function recipePrint({ params, searchParams }: PrintProps, { live, kitchen, visitor }: OpenKitchen): Promise<RecipePrint> {
  const id = pathId((await params).recipe);
  const recipe = live.book.shelves.recipe.get(id);
  if (recipe === undefined) notFound();
  const query = await searchParams;
  const one = (name: string): string => (typeof query[name] === "string" ? query[name] : "");
  const asked = askedMake(one("make"), recipe, kitchen);
  const factor = asked.make?.factor ?? null;
  const provenance = live.book.provenance.get(factKey("recipe", id));
  return {
    recipe, asked, paper: paperSize(one("paper"), kitchen.locale), yields: yieldsAtSize(recipe, factor, kitchen),
    size: factor === null ? null : `${timesText(factor, kitchen)} times the batch, asked for as ${asked.text}`,
    care: factor === null ? null : careWords(factor),
    lines: linesAtSize(live.book, recipe, factor, kitchen),
    printed: `${provenance === undefined ? "" : `as of ${printDay(provenance.validFrom, kitchen)}, recorded by ${provenance.by} · `}printed ${printDay(live.today, kitchen)} by ${visitor.name}`,
    address: `/recipes/${encodeURIComponent(id)}`,
    query: (paper) => {
      const kept = new URLSearchParams({ ...(asked.text === "" ? {} : { make: asked.text }), ...(paper === undefined ? {} : { paper }) }).toString();
      return kept === "" ? "" : `?${kept}`;
    },
  };
}
