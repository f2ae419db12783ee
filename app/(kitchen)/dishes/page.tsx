/** The dishes against their targets: over first, then near, then the rest; and how the menu stands as it was sold. */
import type { Metadata } from "next";
import Link from "next/link";
import type { Book } from "@/lib/book";
import { moneyFigure, printDay, printShare, toDecimal } from "@/lib/measure";
import { type DishFigures, type DishState, lastWeeks, weightedFoodCost, worstFirst } from "@/lib/menu";
import type { LastMove } from "@/lib/store";
import { BorrowedWord } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { MissingWords } from "@/components/figure/Missing";
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
import { Term } from "@/components/glossary/Term";
import { Hangs } from "@/components/target/StateWord";
import { TargetGauge } from "@/components/target/TargetGauge";
import { currencySign, gaugeLabel, pointsOff, targetText } from "../change-flow/ripple-view";
import { type Asked, LONG_LIST, MOST_ROWS, stretchOf } from "../find";
import { type ListTerms, choicesOf, listing } from "../list-ask";
import { printShortDay } from "../moment";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Dishes" };

const GROUPS: readonly { readonly state: DishState; readonly title: string }[] = [
  { state: "over", title: "Over target" }, { state: "near", title: "Near" }, { state: "under", title: "Under" },
  { state: "incomplete", title: "Not wholly known" }, { state: "unpriced", title: "No menu price" },
];

export default async function Dishes({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { store, kitchenId, live, kitchen } = await openKitchen("see money");
  const { cascade, book } = live;
  const { locale } = kitchen;
  const figures = worstFirst(cascade);
  const terms: ListTerms<DishFigures> = {
    texts: (dish) => [dish.name, dish.section],
    filters: [
      { name: "state", label: "State", choices: GROUPS.map(({ state, title }) => ({ value: state, label: title.toLowerCase() })), of: ({ state }) => state },
      { name: "section", label: "Section", choices: choicesOf(figures.map(({ section }) => section)), of: ({ section }) => section },
    ],
    sorts: [
      { key: "name", label: "Dish", of: ({ name }) => name },
      { key: "price", label: "Menu price", of: ({ gross }) => gross },
      { key: "plate", label: "Plate cost", of: ({ plateCost }) => plateCost.amount },
      { key: "food", label: "Food cost", of: ({ foodCost }) => foodCost },
      { key: "target", label: "Target", of: ({ target }) => target },
      { key: "contribution", label: "Contribution", of: ({ contribution }) => contribution },
    ],
  };
  const { list, found, order, remember, find } = await listing("/dishes", asked, figures, terms);
  const stretch = stretchOf(found, asked["from"], MOST_ROWS, asked["rows"]);
  const moves = await store.lastMoves(kitchenId, "dish", stretch.rows.map((dish) => dish.id));
  const weeks = lastWeeks(book.shelves.sales.values(), live.today);
  const menu = weightedFoodCost(cascade, weeks);
  const currency = currencySign(kitchen);
  const count = (state: DishState): number => figures.filter((dish) => dish.state === state).length;
  const over = count("over");
  const near = count("near");
  const borrowing = figures.filter((dish) => dish.plateCost.borrowed.length > 0).length;
  const share = (of: DishFigures["foodCost"]): string => (of === null ? "" : printShare(of, kitchen));
  const noteOf = (state: DishState, rows: number): string => (state === "near" ? `${printCount(rows, locale)}, within ${nearWords(kitchen)}` : printCount(rows, locale));
  const columns: readonly Column<DishFigures>[] = [
    { key: "name", head: "Dish", cell: (dish) => <Hangs state={dish.state === "over" || dish.state === "near" ? dish.state : null}><Link href={`/dishes/${encodeURIComponent(dish.id)}`}>{dish.name}</Link><BorrowedWord borrowed={dish.plateCost.borrowed} /></Hangs> },
    { key: "price", head: `Menu price,\u00a0${currency}`, label: "menu", figure: true, fold: "phone", cell: (dish) => dish.gross === null ? <span className="quiet">none</span> : moneyFigure(dish.gross, kitchen) },
    { key: "plate", head: <span className="figure"><Term of="plate cost">Plate cost</Term>, {currency}</span>, figure: true, width: 5.5, cell: (dish) => (
      <>{dish.plateCost.missing.length > 0 && <span className="quiet small">at least </span>}<Figure of={{ figure: moneyFigure(dish.plateCost.amount, kitchen), unit: "" }} href={figureHref({ kind: "dish", id: dish.id })} label={`Plate cost of ${dish.name}`} /></>
    ) },
    { key: "food", head: <Term of="food cost">Food cost</Term>, figure: true, width: 5, cell: (dish) => dish.foodCost === null ? "" : <Figure of={{ figure: share(dish.foodCost), unit: "%" }} strong tone={dish.state === "over" || dish.state === "near" ? dish.state : undefined} /> },
    { key: "gauge", head: "Against target", fold: "hide-narrow", cell: (dish) => <TargetGauge now={pointsOff(dish)} was={null} state={dish.state} label={gaugeLabel(null, dish, kitchen)} /> },
    { key: "target", head: <Term of="target">Target</Term>, label: "target", figure: true, fold: "phone", cell: (dish) => <span className="quiet">{targetText(dish, kitchen)}</span> },
    { key: "contribution", head: <span className="figure"><Term of="contribution">Contribution</Term>, {currency}</span>, label: "contribution", figure: true, fold: "phone", cell: (dish) => dish.contribution === null ? "" : moneyFigure(dish.contribution, kitchen) },
    { key: "moved", head: "Last moved by", fold: "narrow", label: "", cell: (dish) => <MovedBy move={moves.get(dish.id)} book={book} kitchen={kitchen} today={live.today} /> },
    { key: "missing", head: "", fold: "narrow", label: "", cell: (dish) => dish.plateCost.missing.length > 0 ? <span className="quiet small"><MissingWords missing={dish.plateCost.missing} most={2} /></span> : "" },
  ];
  const complete = stretch.rows.every((dish) => dish.plateCost.missing.length === 0);
  const groups = list.sorting !== null ? [{ title: null, rows: stretch.rows }] : GROUPS.map(({ state, title }) => ({ key: state, title, rows: stretch.rows.filter((dish) => dish.state === state), note: noteOf(state, found.filter((dish) => dish.state === state).length) }))
    .filter((group) => group.rows.length > 0);
  return (
    <>
      <PageTop title="Dishes" of={`${howMany(figures.length, figures.length, "dish", "dishes", locale)} · as of ${printDay(live.today, kitchen)}`}
        answer={figures.length === 0 ? undefined : (
          <>
            {over === 0 ? "No dish stands over target" : <strong className="over">{over === 1 ? "One dish stands over target" : `${printCount(over, locale)} dishes stand over target`}</strong>}{near > 0 && <>, {printCount(near, locale)} near it</>}.
            {menu.ratio !== null && <> As sold in the last {weeks.length === 1 ? "week" : `${weeks.length} weeks`} the menu runs at {menu.atLeast && "at least "}<strong>{printShare(menu.ratio, kitchen)} %</strong>{menu.target !== null && <>, against {printShare(menu.target, kitchen)} %</>}.</>}
            {borrowing > 0 && <> {borrowing === 1 ? "One dish rests" : `${printCount(borrowing, locale)} dishes rest`} on a borrowed yield.</>}
            {menu.ratio === null && <> No sales are recorded, so the menu as a whole has no percentage yet.</>}
          </>
        )}>
        <IfMay deed="change dishes and menu prices"><ButtonLink href="/dishes/new" plain>Add a dish</ButtonLink></IfMay>
        <ButtonLink href="/since" plain>What moved it</ButtonLink>
        <ButtonLink href="/items">Change a price</ButtonLink>
      </PageTop>
      {figures.length === 0
        ? <EmptyPage what="A dish is what one guest’s plate is made of, with its menu price and what its food may cost. It stands on recipes, portions and items."><IfMay deed="change dishes and menu prices"><ButtonLink href="/dishes/new">Add the first dish</ButtonLink></IfMay>{" "}<IfMay deed="change items and prices"><ButtonLink href="/items/new" plain>Begin with an item</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {figures.length > LONG_LIST && <Find {...find} label="Find a dish" locale={locale} />}
            <RememberList {...remember} />
            {found.length > 0 && (
              <Rolling list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS}>
                <Table caption={`${howMany(stretch.rows.length, found.length, "dish", "dishes", locale)} against their targets${list.sorting === null ? ", worst first" : ""}`} quietCaption columns={complete ? columns.slice(0, -1) : columns} groups={groups} rowKey={(dish) => dish.id} order={order} />
                <Stretches list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS} locale={locale} />
              </Rolling>
            )}
            <TakeAway name="Dishes" href="/out/dishes">Take these away</TakeAway>
          </>
        )}
    </>
  );
}

/** "Cod fillet, up 23 Nov": the fact whose change last moved the plate cost, and which way. A price is told by its item. */
function MovedBy({ move, book, kitchen, today }: { readonly move: LastMove | undefined; readonly book: Book; readonly kitchen: Parameters<typeof printShortDay>[1]; readonly today: string }) {
  // A dish that stands as it was put in the book was moved by nothing.
  if (move === undefined || move.direction === null) return null;
  const item = move.cause.kind === "quote" ? book.shelves.item.get(book.shelves.quote.get(move.cause.id)?.itemId ?? "") : undefined;
  const name = item?.name ?? move.cause.name;
  const cause = move.factCount === 1 ? name : `${name} and ${move.factCount - 1} more`;
  return (
    <Link className="quiet small" href={`/record/${move.changeNo}`} prefetch={false}>
      {cause}, {move.direction} {printShortDay(move.at, kitchen, today)}
    </Link>
  );
}

/** "one point", "1.5 points". */
function nearWords(kitchen: Parameters<typeof printShare>[1] & { readonly near: Parameters<typeof toDecimal>[0] }): string {
  const near = toDecimal(kitchen.near);
  const points = printShare(near, kitchen, near.mul(100).isInteger() ? { places: 0 } : {});
  return points === "1" ? "one point" : `${points} points`;
}
