/** By-products: what comes off at the block, where it goes, at which price it is passed on, and whether credit and charge are one number. */
import type { Metadata } from "next";
import Link from "next/link";
import type { FactOf } from "@/lib/book";
import { type ByProducts, type HouseByProduct, type PartRow, byProducts } from "@/lib/buying";
import { printDay, printShare, ratio } from "@/lib/measure";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Find } from "@/components/find/Find";
import { RememberList } from "@/components/find/RememberList";
import { Rolling } from "@/components/find/Rolling";
import { Stretches } from "@/components/find/Stretches";
import { howMany } from "@/components/find/count";
import { ButtonLink } from "@/components/form";
import { Term } from "@/components/glossary/Term";
import { IfMay } from "@/components/kitchen/IfMay";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign, printNodeCost } from "../change-flow/ripple-view";
import { type Asked, LONG_LIST, MOST_ROWS, stretchOf } from "../find";
import { type ListTerms, listing } from "../list-ask";
import { openKitchen } from "../open-kitchen";
import { BALANCE_WORDS, moneyOf, perUnitText, weekAmount, weekText } from "./view";

export const metadata: Metadata = { title: "By-products" };

type Kitchen = FactOf["kitchen"];

export default async function ByProductsPage({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen } = await openKitchen("see money");
  const found = byProducts(live.cascade);
  const { house, elsewhere, nowhere, unvalued } = found;
  const parts = [...elsewhere, ...nowhere, ...unvalued];
  const none = house.length === 0 && parts.length === 0;
  return (
    <>
      <PageTop title="By-products" of={<>{house.length} of the house, {parts.length} other {parts.length === 1 ? "part" : "parts"} of tests · as of {printDay(live.today, kitchen)}{weeksText(found, kitchen)}</>} answer={none ? undefined : answerOf(found)}>
        {!none && <IfMay deed="change items and prices"><ButtonLink href="/by-products/new" plain>Add a by-product of the house</ButtonLink></IfMay>}
      </PageTop>
      {none ? (
        <EmptyPage what="A by-product is what a yield test leaves beside the part it was worked for, and that is worth something to this house: trim for the grind, bones for the stock. Record a butcher test, and its by-products stand here."><IfMay deed="record a test"><ButtonLink href="/tests/new">Record a test</ButtonLink></IfMay></EmptyPage>
      ) : (
        <>
          {house.length > 0 && <House house={house} kitchen={kitchen} weeks={found.weeks} />}
          {house.some(({ balance }) => balance !== null) && <Reconciled house={house} kitchen={kitchen} />}
          <Parts found={found} asked={asked} kitchen={kitchen} />
          <p className="quiet">Where a part is to be <IfMay deed="change tests and cuts" otherwise="worth what it earns in something made of it"><Link href="/by-products/loop">worth what it earns in something made of it</Link></IfMay>, the way round is shown, and the ways out.</p>
        </>
      )}
    </>
  );
}

function weeksText({ weeks, from, to }: ByProducts, kitchen: Kitchen) {
  return weeks === 0 || from === null || to === null ? <> · no sales recorded yet, so nothing is told a week</> : <> · a usual week of the last {weeks === 1 ? "one" : weeks}, from {printDay(from, kitchen)}</>;
}

function answerOf({ house, nowhere }: ByProducts): string {
  const off = house.filter(({ balance }) => balance !== null && balance.says !== "same" && balance.says !== "outside");
  const dear = house.filter(({ bears }) => bears.some(({ exceeded }) => exceeded));
  const sentences = [
    off.length > 0 ? `Of ${off.map(({ item }) => item.name).join(", ")} more or less is credited than charged: see below.` : house.length > 0 ? house.some(({ balance }) => balance !== null && balance.says === "outside") ? "Credit and charge are the same number for what stays on the menu." : house.every(({ balance }) => balance === null) ? `${house.length} ${house.length === 1 ? "by-product has" : "by-products have"} a price inside the house.` : "Credit and charge are the same number for every by-product of the house." : "No by-product has a price inside the house yet.",
    dear.length > 0 ? `${dear.map(({ item }) => item.name).join(", ")} ${dear.length === 1 ? "costs" : "cost"} more than a dish that uses it can bear.` : "",
    nowhere.length > 0 ? `${nowhere.length === 1 ? "One part has" : `${nowhere.length} parts have`} a typed worth that goes nowhere.` : "",
  ];
  return sentences.filter(Boolean).join(" ");
}

function House({ house, kitchen, weeks }: { readonly house: readonly HouseByProduct[]; readonly kitchen: Kitchen; readonly weeks: number }) {
  const currency = currencySign(kitchen);
  const columns: readonly Column<HouseByProduct>[] = [
    { key: "name", head: "By-product", cell: ({ item, from, to, transfer }) => (
      <>
        <Link href={`/by-products/${encodeURIComponent(item.id)}`}>{item.name}</Link>
        <span className="from">{from.length === 0 ? "comes off nothing yet" : `off ${[...new Set(from.flatMap(({ cuts }) => cuts.map(({ name }) => name)))].join(", ")}`}</span>
        <span className="from">{to.length === 0 ? "goes into nothing in the book" : `into ${to.map(({ by }) => by.name).join(", ")}`}{transfer.destination !== "" && ` (${transfer.destination})`}{transfer.use === null && "; nobody has counted its use"}</span>
      </>
    ) },
    { key: "price", head: "Passed on at", figure: true, width: 8, cell: ({ item, cost }) => cost.missing.length > 0 ? <span className="near">not known</span> : <Figure of={printNodeCost(cost, kitchen)} href={figureHref({ kind: "item", id: item.id })} label={`What ${item.name} is passed on at`} /> },
    { key: "produced", head: "Comes off a week", label: "comes off", figure: true, fold: "phone", cell: ({ item, produced, atLeast }) => produced === null ? "" : <>{atLeast && <span className="quiet">at least </span>}<Figure of={weekAmount(produced, item.kind, kitchen)} /></> },
    { key: "used", head: "Used a week", label: "used", figure: true, fold: "phone", cell: ({ item, used, balance }) => used === null ? "" : balance?.says === "outside" ? <span className="quiet">off the menu</span> : <Figure of={weekAmount(used, item.kind, kitchen)} /> },
    { key: "credited", head: "Credited", figure: true, fold: "phone", label: "credited", cell: ({ recorded }) => <Figure of={{ figure: printShare(ratio.toDecimal(recorded), kitchen), unit: "%" }} /> },
  ];
  return (
    <>
      <h2>By-products of the house</h2>
      <p className="quiet">Each has a <Term of="transfer price">price inside the house</Term>, and a cut is <Term of="capped credit">credited only as far as it is used</Term>.</p>
      <Table caption={`${house.length} with a price inside the house, in ${currency}${weeks === 0 ? "" : "; a usual week"}`} rows={house} rowKey={({ item }) => item.id} columns={columns} />
    </>
  );
}

function Reconciled({ house, kitchen }: { readonly house: readonly HouseByProduct[]; readonly kitchen: Kitchen }) {
  const currency = currencySign(kitchen);
  type Row = { readonly one: HouseByProduct | null };
  const known = house.filter(({ balance }) => balance !== null);
  const sum = (of: "credited" | "charged" | "difference") => ratio.sum(known.flatMap(({ balance }) => (balance === null ? [] : [balance[of]])));
  const rows: readonly Row[] = [...known.map((one): Row => ({ one })), { one: null }];
  return (
    <>
      <h2>Credit against charge</h2>
      <Table caption={`A usual week, in ${currency}: what cuts are credited with, and what recipes and dishes are charged for the same goods`} rows={rows} rowKey={({ one }) => one?.item.id ?? "sum"} rowRule={({ one }) => (one === null ? "sum" : null)} columns={[
        { key: "name", head: "By-product", cell: ({ one }) => one === null ? "Together" : <>{one.item.name}{one.balance !== null && <span className="from">{BALANCE_WORDS[one.balance.says]}</span>}</> },
        { key: "credited", head: "Credited", label: "credited", figure: true, fold: "phone", cell: ({ one }) => moneyOf(one?.balance?.credited ?? sum("credited"), kitchen) },
        { key: "charged", head: "Charged", label: "charged", figure: true, fold: "phone", cell: ({ one }) => moneyOf(one?.balance?.charged ?? sum("charged"), kitchen) },
        { key: "difference", head: "Difference", figure: true, width: 6, cell: ({ one }) => moneyOf(one?.balance?.difference ?? sum("difference"), kitchen) },
        { key: "rest", head: "Unused, at 0", label: "unused", figure: true, fold: "phone", cell: ({ one }) => one?.balance && one.balance.says !== "outside" ? (ratio.sign(one.balance.beyond) > 0 ? <>{weekText(one.balance.beyond, one.item.kind, kitchen)} too few</> : weekText(one.balance.unused, one.item.kind, kitchen)) : "" },
      ]} />
    </>
  );
}

/** The parts of tests that are no by-products of the house, by where their worth goes. */
type State = "nowhere" | "elsewhere" | "unvalued";
interface PartOf {
  readonly part: PartRow;
  readonly state: State;
}

const STATES: Readonly<Record<State, { readonly title: string; readonly note: string }>> = {
  nowhere: { title: "Worth something, but it goes nowhere", note: "typed; the cut is credited, and nothing in the book is charged: while nobody uses it at that price, profit is made up" },
  elsewhere: { title: "Worth what something bought or made costs", note: "right as long as so much less of that is bought; as a by-product of the house it is charged where it is used" },
  unvalued: { title: "Nobody has said what these are worth", note: "until then the cut they come off has no cost" },
};

async function Parts({ found, asked, kitchen }: { readonly found: ByProducts; readonly asked: Asked; readonly kitchen: Kitchen }) {
  const currency = currencySign(kitchen);
  const { locale } = kitchen;
  const rows: readonly PartOf[] = (["nowhere", "elsewhere", "unvalued"] as const).flatMap((state) => found[state].map((part): PartOf => ({ part, state })));
  const cutNames = ({ part }: PartOf): string => part.cuts.map(({ name }) => name).join(", ");
  const terms: ListTerms<PartOf> = {
    texts: (row) => [row.part.name, cutNames(row)],
    filters: [{ name: "worth", label: "Worth", choices: [{ value: "nowhere", label: "goes nowhere" }, { value: "elsewhere", label: "what something costs" }, { value: "unvalued", label: "nobody has said" }], of: ({ state }) => state }],
    sorts: [
      { key: "name", label: "Part", of: ({ part }) => part.name },
      { key: "worth", label: "Worth", of: ({ part }) => (part.worth === null ? null : [part.kind, ratio.toDecimal(part.worth)]) },
      { key: "week", label: "A week", of: ({ part }) => (part.perWeek === null ? null : [part.kind, ratio.toDecimal(part.perWeek)]) },
      { key: "credited", label: "Credited", of: ({ part }) => (part.credited === null ? null : ratio.toDecimal(part.credited)) },
    ],
  };
  const { list, found: answer, order, remember, find } = await listing("/by-products", asked, rows, terms);
  if (rows.length === 0) return null;
  const stretch = stretchOf(answer, asked["from"], MOST_ROWS, asked["rows"]);
  const states = [...new Set(stretch.rows.map(({ state }) => state))];
  return (
    <>
      <h2>Other parts of tests</h2>
      {rows.length > LONG_LIST && <Find {...find} label="Find a part" locale={locale} />}
      <RememberList {...remember} />
      {answer.length > 0 && (
        <Rolling list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS}>
          <Table caption={`${howMany(stretch.rows.length, answer.length, "part", "parts", locale)} of tests that cuts stand on${found.weeks === 0 ? "" : "; a usual week"}`} rowKey={({ part }) => `${part.testId} ${part.key}`} order={order}
            groups={list.sorting !== null ? [{ title: null, rows: stretch.rows }] : states.map((state) => ({ key: state, title: STATES[state].title, note: STATES[state].note, rows: stretch.rows.filter((row) => row.state === state) }))} columns={[
              { key: "name", head: "Part", cell: ({ part }) => <>{part.name}<span className="from">off {part.cuts.map(({ id, name }, index) => <span key={id}>{index > 0 && ", "}<Link href={`/cuts/${encodeURIComponent(id)}`}>{name}</Link></span>)}</span></> },
              { key: "worth", head: "Worth", label: "worth", figure: true, fold: "phone", cell: ({ part }) => part.worth === null ? <span className="quiet">not known</span> : perUnitText(part.worth, part.kind, kitchen) },
              { key: "week", head: "A week", label: "a week", figure: true, fold: "phone", cell: ({ part }) => part.perWeek === null ? "" : <>{part.atLeast && <span className="quiet">at least </span>}<Figure of={weekAmount(part.perWeek, part.kind, kitchen)} /></> },
              { key: "credited", head: `Credited, ${currency}`, label: "credited", figure: true, fold: "phone", cell: ({ part }) => part.credited === null ? "" : moneyOf(part.credited, kitchen) },
              { key: "make", head: "", figure: true, width: 8, cell: (row) => <IfMay deed="change items and prices"><Link href={`/by-products/new?test=${encodeURIComponent(row.part.testId)}&part=${encodeURIComponent(row.part.key)}`} aria-label={`Make ${row.part.name} off ${cutNames(row)} a by-product of the house`}>make it ours</Link></IfMay> },
            ]} />
          <Stretches list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS} locale={locale} />
        </Rolling>
      )}
    </>
  );
}
