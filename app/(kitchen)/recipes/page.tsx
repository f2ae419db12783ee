/** Standard recipes by section: what a batch yields and what a quart, a pound or a portion of it costs. */
import type { Metadata } from "next";
import Link from "next/link";
import type { Recipe } from "@/lib/book";
import { type CostOf, type NodeCost, type User, batchCostOf, borrowedBelow, costOf, isIncomplete, usersOf } from "@/lib/cascade";
import { UNITS, moneyFigure, printDay, quantityText } from "@/lib/measure";
import { BorrowedWord } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { Find } from "@/components/find/Find";
import { RememberList } from "@/components/find/RememberList";
import { Rolling } from "@/components/find/Rolling";
import { Stretches } from "@/components/find/Stretches";
import { howMany, printCount } from "@/components/find/count";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { IfMay } from "@/components/kitchen/IfMay";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign } from "../change-flow/ripple-view";
import { type Asked, LONG_LIST, MOST_ROWS, stretchOf } from "../find";
import { type ListTerms, choicesOf, listing } from "../list-ask";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Recipes" };

interface Row {
  readonly recipe: Recipe;
  readonly cost: NodeCost;
  readonly per: CostOf | undefined;
  readonly users: readonly User[];
}

export default async function Recipes({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const { locale } = kitchen;
  const currency = currencySign(kitchen);
  const all = [...book.shelves.recipe.values()];
  const costed = (recipe: Recipe) => costOf(cascade, { kind: "recipe", id: recipe.id });
  const terms: ListTerms<Recipe> = {
    texts: (recipe) => [recipe.name, recipe.section],
    filters: [
      { name: "section", label: "Section", choices: choicesOf(all.map(({ section }) => section)), of: ({ section }) => section },
      { name: "known", label: "Cost", choices: [{ value: "whole", label: "wholly known" }, { value: "least", label: "only “at least”" }], of: ({ id }) => isIncomplete(cascade, { kind: "recipe", id }) ? "least" : "whole" },
      { name: "used", label: "Used", choices: [{ value: "yes", label: "in something" }, { value: "no", label: "in nothing yet" }], of: ({ id }) => usersOf(book, { kind: "recipe", id }).length > 0 ? "yes" : "no" },
    ],
    sorts: [
      { key: "name", label: "Recipe", of: ({ name }) => name },
      { key: "batch", label: "Batch cost", of: (recipe) => costed(recipe)?.amount ?? null },
      { key: "per", label: "Costs", of: (recipe) => { const cost = costed(recipe); const per = cost === null ? undefined : batchCostOf(recipe, cost.amount)[0]; return per === undefined ? null : [per.quantity.unit, per.amount]; } },
      { key: "uses", label: "Used in", of: ({ id }) => usersOf(book, { kind: "recipe", id }).length },
    ],
  };
  const bySection = all.toSorted((a, b) => (a.section === b.section ? (a.name < b.name ? -1 : 1) : a.section < b.section ? -1 : 1));
  const { list, found, order, remember, find } = await listing("/recipes", asked, bySection, terms);
  const stretch = stretchOf(found, asked["from"], MOST_ROWS, asked["rows"]);
  const shown = stretch.rows.flatMap((recipe): Row[] => {
    const ref = { kind: "recipe", id: recipe.id } as const;
    const cost = costOf(cascade, ref);
    return cost === null ? [] : [{ recipe, cost, per: batchCostOf(recipe, cost.amount)[0], users: usersOf(book, ref) }];
  });
  const sections = [...new Set(shown.map((row) => row.recipe.section))];
  const gaps = all.filter((recipe) => isIncomplete(cascade, { kind: "recipe", id: recipe.id })).length;
  const borrowing = all.filter((recipe) => borrowedBelow(book, { kind: "recipe", id: recipe.id }).length > 0).length;
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Recipe", cell: ({ recipe, cost }) => <><Link href={`/recipes/${encodeURIComponent(recipe.id)}`}>{recipe.name}</Link><BorrowedWord borrowed={cost.borrowed} /></> },
    { key: "yield", head: "A batch yields", fold: "phone", label: "", cell: ({ recipe }) => recipe.yields.map((one) => quantityText(one, kitchen)).join(", or ") },
    { key: "batch", head: `A batch, ${currency}`, label: "batch", figure: true, fold: "phone", cell: ({ recipe, cost }) => <>{cost.missing.length > 0 && <span className="quiet small">at least </span>}<Figure of={{ figure: moneyFigure(cost.amount, kitchen), unit: "" }} href={figureHref({ kind: "recipe", id: recipe.id })} label={`A batch of ${recipe.name}`} /></> },
    { key: "per", head: "Costs", figure: true, width: 8, cell: ({ per }) => per === undefined ? "" : <Figure of={{ figure: moneyFigure(per.amount, kitchen), unit: `${currency}/${UNITS[per.quantity.unit].one}` }} /> },
    { key: "uses", head: "Used in", fold: "narrow", label: "used in", cell: ({ users }) => <span className="quiet">{usedIn(users)}</span> },
  ];
  return (
    <>
      <PageTop title="Recipes" of={`${howMany(all.length, all.length, "recipe", "recipes", locale)} · as of ${printDay(live.today, kitchen)}`}
        answer={all.length === 0 ? undefined : <>{gaps === 0 ? "Every recipe is wholly costed." : `${printCount(gaps, locale)} of ${printCount(all.length, locale)} recipes lack a figure: they are told as “at least”.`}{borrowing > 0 && ` ${printCount(borrowing, locale)} ${borrowing === 1 ? "rests" : "rest"} on a borrowed yield.`}</>}>
        <IfMay deed="change recipes"><ButtonLink href="/recipes/new">Add a recipe</ButtonLink></IfMay>
      </PageTop>
      {all.length === 0
        ? <EmptyPage what="A recipe is a batch of lines with a measured yield: a stock, a sauce, a side. Recipes go into other recipes and onto plates."><IfMay deed="change recipes"><ButtonLink href="/recipes/new">Add the first recipe</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {all.length > LONG_LIST && <Find {...find} label="Find a recipe" locale={locale} />}
            <RememberList {...remember} />
            {found.length > 0 && (
              <Rolling list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS}>
                <Table caption={`${howMany(shown.length, found.length, "recipe", "recipes", locale)}${list.sorting === null ? " by section" : ""}`} columns={columns} rowKey={({ recipe }) => recipe.id} order={order}
                  groups={list.sorting !== null ? [{ title: null, rows: shown }] : sections.map((section) => ({ key: section, title: section || "Other", rows: shown.filter((row) => row.recipe.section === section), note: printCount(found.filter((recipe) => recipe.section === section).length, locale) }))} />
                <Stretches list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS} locale={locale} />
              </Rolling>
            )}
            <TakeAway name="Recipes" href="/out/recipes">Take these away</TakeAway>
          </>
        )}
    </>
  );
}

/** "nothing yet", "Velouté", "Velouté and 3 more". */
function usedIn(users: readonly User[]): string {
  const [first, ...rest] = users;
  return first === undefined ? "nothing yet" : rest.length === 0 ? first.name : `${first.name} and ${rest.length} more`;
}
