/** Standard recipes by section: what a batch yields and what a quart, a pound or a portion of it costs. */
import type { Metadata } from "next";
import Link from "next/link";
import type { Recipe } from "@/lib/book";
import { type CostOf, type NodeCost, batchCostOf, costOf, usersOf } from "@/lib/cascade";
import { UNITS, moneyFigure, printDay, quantityText } from "@/lib/measure";
import { Figure, figureHref } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign } from "../change-flow/ripple-view";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Recipes" };

interface Row {
  readonly recipe: Recipe;
  readonly cost: NodeCost;
  readonly per: CostOf | undefined;
  readonly uses: number;
}

export default async function Recipes() {
  const { live, kitchen } = await openKitchen();
  const { book, cascade } = live;
  const currency = currencySign(kitchen);
  const rows = [...book.shelves.recipe.values()].flatMap((recipe): Row[] => {
    const ref = { kind: "recipe", id: recipe.id } as const;
    const cost = costOf(cascade, ref);
    return cost === null ? [] : [{ recipe, cost, per: batchCostOf(recipe, cost.amount)[0], uses: usersOf(book, ref).length }];
  });
  const sections = [...new Set(rows.map((row) => row.recipe.section))].sort();
  const gaps = rows.filter((row) => row.cost.missing.length > 0).length;
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Recipe", cell: ({ recipe }) => <Link href={`/recipes/${encodeURIComponent(recipe.id)}`}>{recipe.name}</Link> },
    { key: "yield", head: "A batch yields", fold: "phone", label: "", cell: ({ recipe }) => recipe.yields.map((one) => quantityText(one, kitchen)).join(", or ") },
    { key: "batch", head: `A batch, ${currency}`, label: "batch", figure: true, fold: "phone", cell: ({ recipe, cost }) => <>{cost.missing.length > 0 && <span className="quiet small">at least </span>}<Figure of={{ figure: moneyFigure(cost.amount, kitchen), unit: "" }} href={figureHref({ kind: "recipe", id: recipe.id })} label={`A batch of ${recipe.name}`} /></> },
    { key: "per", head: "Costs", figure: true, width: 8, cell: ({ per }) => per === undefined ? "" : <Figure of={{ figure: moneyFigure(per.amount, kitchen), unit: `${currency}/${UNITS[per.quantity.unit].one}` }} /> },
    { key: "uses", head: "Used in", figure: true, fold: "phone", cell: (row) => row.uses },
  ];
  return (
    <>
      <PageTop title="Recipes" of={`${rows.length} ${rows.length === 1 ? "recipe" : "recipes"} · as of ${printDay(live.today, kitchen)}`}
        answer={rows.length === 0 ? undefined : gaps === 0 ? "Every recipe is wholly costed." : `${gaps} of ${rows.length} recipes lack a figure: they are told as “at least”.`}>
        <ButtonLink href="/recipes/new">Add a recipe</ButtonLink>
      </PageTop>
      {rows.length === 0
        ? <EmptyPage what="A recipe is a batch of lines with a measured yield: a stock, a sauce, a side. Recipes go into other recipes and onto plates."><ButtonLink href="/recipes/new">Add the first recipe</ButtonLink></EmptyPage>
        : <Table caption={`${rows.length} recipes by section`} columns={columns} rowKey={({ recipe }) => recipe.id}
            groups={sections.map((section) => ({ title: section === "" ? "Other" : section, rows: rows.filter((row) => row.recipe.section === section).sort((a, b) => (a.recipe.name < b.recipe.name ? -1 : 1)) })).map((group) => ({ ...group, note: String(group.rows.length) }))} />}
    </>
  );
}
