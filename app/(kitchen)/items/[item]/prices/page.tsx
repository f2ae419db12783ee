/** Every price of an item by dealer over time, at the door, with what waits and what ends; and the season in it. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Quote, costingQuote, packContent, quotesOf } from "@/lib/book";
import { type BilledPack, type PriceStep, type Season, billedPack, packOff, priceSteps, seasonOf } from "@/lib/buying";
import { type Ratio, UNITS, baseFactor, customaryUnit, moneyFigure, oneOf, perUnit, printDay, printNumber, printShare, quantityText, ratio } from "@/lib/measure";
import { Figure } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { PricesChart } from "@/components/item/PricesChart";
import { SeasonChart } from "@/components/item/SeasonChart";
import { askedFigure, basisText, contractEnd } from "@/components/item/quote-words";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { currencySign } from "../../../change-flow/ripple-view";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { asKitchens, asQuotes } from "../../revisions";

type Params = { readonly params: Promise<{ readonly item: string }> };
type Kitchen = Awaited<ReturnType<typeof openKitchen>>["kitchen"];

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  const item = live.book.shelves.item.get(pathId((await params).item));
  return { title: item === undefined ? "Prices" : `Prices of ${item.name}` };
}

/** The newest prices that the table shows. */
const MOST = 300;

interface Offer {
  readonly quoteId: string;
  readonly dealer: string;
  readonly steps: readonly PriceStep[];
}
type Row = PriceStep & { readonly dealer: string; readonly quoteId: string };

export default async function Prices({ params }: Params) {
  const id = pathId((await params).item);
  const { store, kitchenId, live, kitchen } = await openKitchen("see money");
  const { book, today } = live;
  const item = book.shelves.item.get(id);
  if (item === undefined) notFound();
  const settings = asKitchens(await store.revisionsOf(kitchenId, "kitchen", kitchen.id));
  const ids = [...new Set([...quotesOf(book, id).map((quote) => quote.id), ...live.ahead.flatMap((one) => (one.kind === "quote" && one.after?.itemId === id ? [one.id] : []))])];
  const offers = (await Promise.all(ids.map(async (quoteId): Promise<Offer | null> => {
    const steps = priceSteps(asQuotes(await store.revisionsOf(kitchenId, "quote", quoteId)), settings, today);
    const dealerId = steps.at(-1)?.quote.dealerId;
    return dealerId === undefined ? null : { quoteId, dealer: book.shelves.dealer.get(dealerId)?.name ?? dealerId, steps };
  }))).filter((offer) => offer !== null).toSorted((a, b) => (a.dealer < b.dealer ? -1 : 1));
  const rows = offers.flatMap(({ steps, dealer, quoteId }) => steps.map((step): Row => ({ ...step, dealer, quoteId }))).toSorted((a, b) => (a.from === b.from ? (a.dealer < b.dealer ? -1 : 1) : a.from < b.from ? 1 : -1));
  const unit = customaryUnit(item.kind, kitchen);
  const at = encodeURIComponent(id);
  const costing = costingQuote(book, id);
  const own = offers.find(({ quoteId }) => quoteId === costing?.id) ?? null;
  const ends = offers.flatMap(({ steps, dealer }) => steps.filter(({ quote, until }) => quote.until !== null && (until === null || until > quote.until)).map(({ quote }) => ({ dealer, on: quote.until ?? "" })));
  const last = [today, ...rows.filter(({ waits }) => waits).map(({ from }) => later(from, 14)), ...ends.map(({ on }) => on).filter((day) => day > today && day <= later(today, 120))].reduce((a, b) => (a > b ? a : b));
  const weights = quotesOf(book, id).filter(({ pack }) => pack.catchWeight).flatMap((quote): Weighed[] => {
    const billed = billedPack(book.shelves.delivery.values(), id, quote.dealerId);
    const off = billed === null ? null : packOff(quote, billed);
    return billed === null || off === null ? [] : [{ quote, dealer: book.shelves.dealer.get(quote.dealerId)?.name ?? quote.dealerId, billed, off }];
  });
  const waiting = rows.filter(({ waits }) => waits);
  const door = (step: PriceStep) => step.door === null ? null : perUnit(ratio.toDecimal(step.door), unit);
  return (
    <>
      <PageTop title={`Prices of ${item.name}`} trail={[{ name: "Items", href: "/items" }, { name: item.name, href: `/items/${at}` }]}
        of={`${rows.length} ${rows.length === 1 ? "price" : "prices"} of ${offers.length} ${offers.length === 1 ? "dealer" : "dealers"} · as of ${printDay(today, kitchen)}`}
        answer={rows.length === 0 ? "Nobody has recorded a price for it yet." : <>What each dealer asked, and what it came to at the door{costing !== null && own !== null && <>; it is bought from {own.dealer}</>}.{waiting.length > 0 && <> {waiting.length === 1 ? "One price waits" : `${waiting.length} prices wait`} and will apply by {waiting.length === 1 ? "itself" : "themselves"}.</>}</>}>
        <IfMay deed="change items and prices"><ButtonLink href={`/items/${at}/edit#quote`} plain>Add another dealer’s price</ButtonLink></IfMay>
      </PageTop>
      {rows.length > 1 && (
        <PricesChart label={`Price of ${item.name} over time, ${offers.map(({ dealer }) => dealer).join(", ")}; the table below has every figure`} per={oneOf(unit)} today={today} until={last}
          lines={offers.map(({ quoteId, dealer, steps }) => ({ key: quoteId, dealer, points: pointsOf(steps, unit), ends: [...new Set(ends.filter((end) => end.dealer === dealer).map(({ on }) => on))] }))} />
      )}
      {rows.length > 0 && (
        <details open={rows.length <= 12}>
          <summary>{rows.length} {rows.length === 1 ? "price" : "prices"} as a table</summary>
          <Table narrow quietCaption caption={rows.length > MOST ? `The newest ${MOST} of ${rows.length} prices` : `${rows.length} ${rows.length === 1 ? "price" : "prices"}, newest first`} rows={rows.slice(0, MOST)} rowKey={(row) => `${row.quoteId} ${row.from}`} columns={[
            { key: "from", head: "From", cell: (row) => <>{printDay(row.from, kitchen)}{row.waits && <span className="from">waits</span>}</> },
            { key: "dealer", head: "Dealer", fold: "phone", label: "", cell: (row) => row.dealer },
            { key: "asked", head: `Asked, ${currencySign(kitchen)}`, label: "asked", figure: true, fold: "phone", cell: (row) => <Figure of={askedFigure(row.quote, kitchen)} /> },
            { key: "door", head: "At the door", figure: true, width: 7, cell: (row) => { const cost = door(row); return cost === null ? <span className="near">no exchange rate</span> : <Figure of={{ figure: moneyFigure(cost, kitchen), unit: `/ ${UNITS[unit].one}` }} />; } },
            ...(rows.some((row) => row.quote.basis !== "quoted" || row.by === "exchange") ? [{ key: "basis", head: "Rests on", fold: "phone" as const, label: "", cell: (row: Row) => restsOn(row, kitchen, today) }] : []),
          ]} />
        </details>
      )}
      <BilledWeights weights={weights} kitchen={kitchen} />
      {own !== null && <Seasonal season={seasonOf(own.steps, today)} dealer={own.dealer} kitchen={kitchen} />}
    </>
  );
}

interface Weighed {
  readonly quote: Quote;
  readonly dealer: string;
  readonly billed: BilledPack;
  readonly off: Ratio;
}

/** Catch weight: what a pack was reckoned at, and what was billed for it. The price is per weight, so only what is ordered rests on the estimate. */
function BilledWeights({ weights, kitchen }: { readonly weights: readonly Weighed[]; readonly kitchen: Kitchen }) {
  if (weights.length === 0) return null;
  const unit = customaryUnit("mass", kitchen);
  const weight = (base: Ratio): string => quantityText({ amount: ratio.toExact(ratio.div(base, ratio.fromExact(baseFactor(unit)))), unit }, kitchen);
  return (
    <>
      <h2>Estimated and billed weight</h2>
      <p className="quiet">It is billed by what it weighs, so its cost does not rest on the estimate; how much of it to order does.</p>
      <Table narrow caption="What a pack weighs on average, by the invoices that count the packs" rows={weights} rowKey={({ quote }) => quote.id} columns={[
        { key: "dealer", head: "Dealer", cell: ({ dealer }) => dealer },
        { key: "estimated", head: "Estimated", label: "estimated", figure: true, fold: "phone", cell: ({ quote }) => quantityText(packContent(quote.pack), kitchen) },
        { key: "billed", head: "Billed", figure: true, width: 6, cell: ({ billed }) => weight(billed.average) },
        { key: "off", head: "Off by", label: "off by", figure: true, fold: "phone", cell: ({ off }) => { const share = ratio.toDecimal(off); return `${printShare(share.abs(), kitchen)} % ${share.isNegative() ? "less" : "more"}`; } },
        { key: "packs", head: "Packs", label: "packs", figure: true, fold: "phone", cell: ({ billed }) => `${printNumber(ratio.toDecimal(billed.packs), kitchen)} in ${billed.deliveries}` },
      ]} />
    </>
  );
}

function restsOn({ by, quote, until }: PriceStep, kitchen: Kitchen, today: string) {
  if (by === "exchange") return <span className="quiet">a new exchange rate</span>;
  // What a later price has followed is no news any more.
  const words = basisText(quote, kitchen, until === null ? today : "");
  return until === null && contractEnd(quote, today) !== null ? <span className="near">{words}</span> : words;
}

/** Heights for drawing; where it is offered no more, the line ends. */
function pointsOf(steps: readonly PriceStep[], unit: ReturnType<typeof customaryUnit>): readonly { readonly on: string; readonly height: number | null }[] {
  return steps.flatMap((step, index) => {
    const height = step.door === null ? null : perUnit(ratio.toDecimal(step.door), unit).toDecimalPlaces(4).toNumber();
    const gap = step.until !== null && steps[index + 1]?.from !== step.until ? [{ on: step.until, height: null }] : [];
    return [{ on: step.from, height }, ...gap];
  });
}

function Seasonal({ season, dealer, kitchen }: { readonly season: Season; readonly dealer: string; readonly kitchen: Kitchen }) {
  const [long, brief] = (["long", "short"] as const).map((month) => new Intl.DateTimeFormat(kitchen.locale, { month, timeZone: "UTC" }));
  const named = (place: number): string => long?.format(new Date(Date.UTC(2026, place, 1))) ?? "";
  const short = (place: number): string => brief?.format(new Date(Date.UTC(2026, place, 1))) ?? "";
  if (season.index === null) {
    return (
      <>
        <h2>Its season</h2>
        <p className="quiet">A season is told from two whole years of one dealer’s price. {season.months.length === 0 ? "There is no whole month of it yet" : `There ${season.months.length === 1 ? "is 1 whole month" : `are ${season.months.length} whole months`} of ${dealer}’s`}; {season.lacking} more {season.lacking === 1 ? "is" : "are"} lacking.</p>
      </>
    );
  }
  const dearest = season.index.reduce((a, b) => (ratio.compare(a.index, b.index) >= 0 ? a : b));
  const cheapest = season.index.reduce((a, b) => (ratio.compare(a.index, b.index) <= 0 ? a : b));
  const away = (index: typeof dearest): string => {
    const off = ratio.toDecimal(index.index).minus(1);
    return `${printShare(off.abs(), kitchen)} % ${off.isNegative() ? "below" : "above"}`;
  };
  return (
    <>
      <h2>Its season</h2>
      <p className="say">Dearest in {named(dearest.place)}, {away(dearest)} the year around it; cheapest in {named(cheapest.place)}, {away(cheapest)}.</p>
      <SeasonChart label={`Season of ${dealer}’s price; the table below has every figure`} bars={season.index.map(({ place, index }) => ({ month: short(place), away: ratio.toDecimal(index).minus(1).toDecimalPlaces(4).toNumber() }))} />
      <Table narrow caption={`${dealer}’s price by month against the year around it, from ${season.months.length} months; 1 is the year’s mean`} rows={season.index} rowKey={({ place }) => String(place)} columns={[
        { key: "month", head: "Month", cell: ({ place }) => named(place) },
        { key: "index", head: "Index", figure: true, width: 5, cell: ({ index }) => printNumber(ratio.toDecimal(index), kitchen, { places: 3 }) },
        { key: "away", head: "Against the year", fold: "phone", label: "", cell: (one) => away(one) },
        { key: "years", head: "From years", figure: true, fold: "phone", label: "from years", cell: ({ ratios }) => ratios.length },
      ]} />
      <details>
        <summary>How this is reckoned</summary>
        <p>Each whole month’s mean price at the door, by days, is divided by the mean of the twelve months centred on it; the quotients of a month are averaged over the years and brought to a mean of 1. This is the ratio to the moving average, as textbooks of business statistics teach it. Two years give one quotient a month: a shape to expect, not a forecast.</p>
      </details>
    </>
  );
}

function later(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}
