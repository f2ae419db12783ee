/**
 * For the owner: how the menu's food cost has moved since a day, split by what moved it, what each change did by itself,
 * and which dishes crossed their target. A day gone by is told as it is known now.
 */
import type { Metadata } from "next";
import Link from "next/link";
import { type Book, factName, isDay } from "@/lib/book";
import { compile } from "@/lib/cascade";
import { type Checked, type Decimal, moneyFigure, printDay, printMoney, printNumber, printShare } from "@/lib/measure";
import { type Cause, type FactSince, type MenuThen, type Since, changesBetween, crossings, factsSince, lastWeeks, since, weightedFoodCost } from "@/lib/menu";
import { Button, DateField } from "@/components/form";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { Term } from "@/components/glossary/Term";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { Hangs } from "@/components/target/StateWord";
import { KIND_WORD, factHref } from "../change-flow/fact-words";
import { currencySign, pointsMoved, targetText } from "../change-flow/ripple-view";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "What moved the food cost" };

/** Four weeks back, where no day is asked for. */
const USUAL_DAYS = 28;
/** As many changed facts are worked out one by one; a price list may bring thousands. */
const MOST_FACTS = 60;

/** Half of a hundredth of a point. */
const LEAST_POINTS = "0.00005";

const NO_SALES = "No sales are recorded on one of the two days, so the menu as a whole has no percentage to compare. The dishes that crossed stand below.";

const WORDS: Readonly<Record<Cause, { readonly name: string; readonly what: string }>> = {
  price: { name: "Prices", what: "what dealers ask, and whom we buy from" },
  yield: { name: "Yields", what: "tests, and which of them stand behind a cut" },
  portion: { name: "Portions", what: "sizes and how they are cut" },
  recipe: { name: "Recipes", what: "what goes in to recipes and on plates" },
  "menu price": { name: "Menu prices", what: "prices and the tax within them" },
  mix: { name: "Mix", what: "what guests ordered, new dishes and dishes gone" },
};

export default async function SinceDay({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const { store, kitchenId, live, kitchen } = await openKitchen("see money");
  const asked = (await searchParams)["from"];
  const day = typeof asked === "string" && isDay(asked) && asked < live.today ? asked : daysBefore(live.today, USUAL_DAYS);
  const compiled = compile(await store.bookAsOf(kitchenId, { on: day }));
  const weeksUntil = (on: string) => lastWeeks(live.book.shelves.sales.values(), on);
  const now: MenuThen = { cascade: live.cascade, weeks: weeksUntil(live.today) };
  const then: MenuThen | null = compiled.ok ? { cascade: compiled.value, weeks: weeksUntil(day) } : null;
  const split: Checked<Since> = then === null ? { ok: false, problems: compiled.ok ? [] : compiled.problems } : since(then, now);
  const told = split.ok ? split.value : null;
  const takings = takingsAWeek(now);
  const changes = then === null ? [] : changesBetween(then.cascade.book, live.book).filter((change) => change.kind !== "sales");
  const moving = then === null || changes.length > MOST_FACTS ? [] : factsSince(then.cascade.book, now, changes).filter((fact) => !fact.points.isZero());
  // What rounds to nothing in both columns is only counted.
  const facts = moving.filter(({ points }) => points.abs().gte(LEAST_POINTS) || takings?.mul(points).abs().gte("0.5") === true);
  const crossed = then === null ? [] : crossings(then.cascade, live.cascade);
  const hundredths = (points: Decimal): string => printNumber(points.abs().mul(100), kitchen, { places: 2 });
  const money = (points: Decimal): string => (takings === null ? "" : `${signOf(points)}${moneyFigure(takings.mul(points).abs(), kitchen, { places: 0 })}`);
  return (
    <>
      <PageTop title={`Since ${printDay(day, kitchen)}`} trail={[{ name: "Dishes", href: "/dishes" }]} of={`as of ${printDay(live.today, kitchen)} · the day gone by as it is known now`}
        answer={told === null || told.points === null || told.then.ratio === null || told.now.ratio === null
          ? <>{split.ok ? NO_SALES : `${split.problems[0]?.sentence ?? ""} Recorded since for that day, it cannot be costed; choose another.`}</>
          : (
            <>
              The menu’s <Term of="food cost" /> went from {told.then.atLeast && "at least "}{printShare(told.then.ratio, kitchen)} % to {told.now.atLeast && "at least "}<strong>{printShare(told.now.ratio, kitchen)} %</strong>
              {told.now.target !== null && <>, against {printShare(told.now.target, kitchen)} %</>}: {told.points.isZero() ? "no move" : pointsMoved(told.points, kitchen)}
              {takings !== null && !told.points.isZero() && <>, which is {printMoney(takings.mul(told.points).abs(), kitchen, { places: 0 })} a week {told.points.gt(0) ? "dearer" : "cheaper"} at what is sold in a usual week</>}.
            </>
          )} />
      <form className="form" action="/since" method="get">
        <div className="fields"><DateField name="from" label="Since" start={day} /></div>
        <Button type="submit" plain>Look from that day</Button>
      </form>

      {told !== null && told.parts.length > 0 && (
        <>
          <h2>What moved it</h2>
          <Table narrow quietCaption caption="The move of the menu’s food cost by its causes; together they are the whole move" rows={[...told.parts].sort((a, b) => b.points.abs().comparedTo(a.points.abs()))} rowKey={(part) => part.cause} columns={[
            { key: "cause", head: "Cause", cell: (part) => <>{WORDS[part.cause].name} <span className="quiet small">{WORDS[part.cause].what}</span></> },
            { key: "points", head: "Points", figure: true, width: 5, cell: (part) => `${signOf(part.points)}${hundredths(part.points)}` },
            { key: "money", head: `${currencySign(kitchen)} a week`, figure: true, width: 6, cell: (part) => money(part.points) },
          ]} />
          <p className="quiet">Up is dearer. What two causes do together is shared between them, so the parts add up to the whole move.</p>
        </>
      )}

      {facts.length > 0 && then !== null && (
        <>
          <h2>Each change by itself</h2>
          <Table caption={`${facts.length === 1 ? "One change" : `${facts.length} changes`} that moved the menu, largest first: today’s menu against the same had that one thing stayed as it was`} rows={facts} rowKey={(fact) => `${fact.change.kind}:${fact.change.id}`} columns={[
            { key: "what", head: "What changed", cell: (fact) => <FactLink fact={fact} book={live.book} /> },
            { key: "points", head: "Points", figure: true, width: 5, cell: (fact) => `${signOf(fact.points)}${hundredths(fact.points)}` },
            { key: "money", head: `${currencySign(kitchen)} a week`, figure: true, width: 6, cell: (fact) => money(fact.points) },
            { key: "by", head: "By", fold: "phone", label: "", cell: (fact) => live.book.provenance.get(`${fact.change.kind}:${fact.change.id}`)?.by ?? "" },
          ]} />
          {moving.length > facts.length && <p className="quiet">{moving.length - facts.length} more moved it by less than can be told.</p>}
        </>
      )}
      {changes.length > MOST_FACTS && <p>{changes.length.toLocaleString(kitchen.locale)} things changed since: too many to work out one by one. Choose a later day, or see them in the <Link href="/record">record</Link>.</p>}

      <h2>Dishes that crossed their target</h2>
      {crossed.length === 0 ? <p className="quiet">None since that day.</p> : (
        <Table narrow quietCaption caption="Dishes that crossed their target since" rows={crossed} rowKey={(one) => one.dishId} columns={[
          { key: "dish", head: "Dish", cell: (one) => <Hangs state={one.direction === "over" ? "crosses over" : "back under"}><Link href={`/dishes/${encodeURIComponent(one.dishId)}`}>{one.name}</Link></Hangs> },
          { key: "cost", head: "Food cost", figure: true, cell: (one) => <BeforeAfter before={share(one.before.foodCost)} after={share(one.after.foodCost)} unit="%" tone={one.direction === "over" ? "over" : undefined} /> },
          { key: "target", head: "Target", figure: true, fold: "phone", label: "target", cell: (one) => targetText(one.after, kitchen) },
        ]} />
      )}
      <TakeAway name="What changed since" href="/out/since" ask={{ from: day }}>Take what changed away</TakeAway>
      <p className="quiet">Who changed what, and why, stands in the <Link href="/record">record</Link>. What the food really cost, by counting the stock, is not kept here.</p>
    </>
  );

  function share(ratio: Decimal | null): string | null {
    return ratio === null ? null : printShare(ratio, kitchen);
  }
}

function FactLink({ fact, book }: { readonly fact: FactSince; readonly book: Book }) {
  const { kind, id } = fact.change;
  const quoted = kind === "quote" ? book.shelves.quote.get(id)?.itemId : undefined;
  const href = quoted === undefined ? factHref(kind, id) : factHref("item", quoted);
  const name = factName(book, kind, id);
  return <>{href === null ? name : <Link href={href}>{name}</Link>} <span className="quiet small">{KIND_WORD[kind]}</span></>;
}

/** Net takings of a usual week: Σ n·p over the weeks, a week. null where nothing was sold. */
function takingsAWeek({ cascade, weeks }: MenuThen): Decimal | null {
  const { net } = weightedFoodCost(cascade, weeks);
  return weeks.length === 0 || net.isZero() ? null : net.div(weeks.length);
}

function signOf(points: Decimal): string {
  return points.isZero() ? "" : points.gt(0) ? "+" : "−";
}

function daysBefore(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) - days * 86_400_000).toISOString().slice(0, 10);
}
