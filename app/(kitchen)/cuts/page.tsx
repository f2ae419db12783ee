/** Cuts and their portion specs: what a usable pound costs, which tests say so, and what a portion costs. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Cut, type PortionSpec, borrowedInUse } from "@/lib/book";
import { type NodeCost, costOf, yieldOfCut } from "@/lib/cascade";
import { printDay, printQuantity, printShare, ratio } from "@/lib/measure";
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
import { printNodeCost } from "../change-flow/ripple-view";
import { type Asked, LONG_LIST, stretchOf } from "../find";
import { type ListTerms, listing } from "../list-ask";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Cuts" };

/** Each with its portions under it, so fewer than of other things. */
const MOST_CUTS = 50;

type Row = { readonly kind: "cut"; readonly cut: Cut; readonly cost: NodeCost | null } | { readonly kind: "spec"; readonly spec: PortionSpec; readonly cost: NodeCost | null };

export default async function Cuts({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const { locale } = kitchen;
  const cuts = [...book.shelves.cut.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  const specs = new Map<string, PortionSpec[]>();
  for (const spec of [...book.shelves.spec.values()].sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const portions = specs.get(spec.cutId);
    if (portions === undefined) specs.set(spec.cutId, [spec]);
    else portions.push(spec);
  }
  // A cut is found by its own name, by what it is made from and by its portions; these stay with it.
  const newestTest = (cut: Cut): string => cut.testIds.map((id) => book.shelves.test.get(id)?.on ?? "").sort().at(-1) ?? "";
  const terms: ListTerms<Cut> = {
    texts: (cut) => [cut.name, book.shelves[cut.of.kind].get(cut.of.id)?.name, ...(specs.get(cut.id) ?? []).map((spec) => spec.name)],
    filters: [{
      name: "stands", label: "Stands on", choices: [{ value: "tests", label: "yield tests" }, { value: "borrowed", label: "a borrowed yield" }, { value: "nothing", label: "no test yet" }],
      of: (cut) => cut.testIds.length > 0 ? "tests" : borrowedInUse(cut) !== null ? "borrowed" : "nothing",
    }],
    sorts: [
      { key: "name", label: "Cut", of: ({ name }) => name },
      { key: "of", label: "Made from", of: (cut) => book.shelves[cut.of.kind].get(cut.of.id)?.name ?? null },
      { key: "yield", label: "Yield", of: (cut) => { const share = yieldOfCut(cascade, cut.id); return share === null ? null : ratio.toDecimal(share); } },
      { key: "cost", label: "Costs", of: (cut) => { const cost = costOf(cascade, { kind: "cut", id: cut.id }); return cost === null ? null : [cost.per, cost.amount]; } },
      { key: "tests", label: "Newest test", of: (cut) => newestTest(cut) || null },
    ],
  };
  const { list, found, order, remember, find } = await listing("/cuts", asked, cuts, terms);
  const stretch = stretchOf(found, asked["from"], MOST_CUTS, asked["rows"]);
  const rows = stretch.rows.flatMap((cut): Row[] => [
    { kind: "cut", cut, cost: costOf(cascade, { kind: "cut", id: cut.id }) },
    ...(specs.get(cut.id) ?? []).map((spec): Row => ({ kind: "spec", spec, cost: costOf(cascade, { kind: "spec", id: spec.id }) })),
  ]);
  const untested = cuts.filter((cut) => cut.testIds.length === 0);
  const borrowing = untested.filter((cut) => borrowedInUse(cut) !== null).length;
  const without = untested.length - borrowing;
  const yieldText = (cut: Cut): string => {
    const share = yieldOfCut(cascade, cut.id);
    return share === null ? "" : printShare(ratio.toDecimal(share), kitchen);
  };
  const newest = (cut: Cut): string => {
    const last = newestTest(cut);
    const count = cut.testIds.length;
    if (borrowedInUse(cut) !== null) return "a borrowed yield, no test yet";
    return last === "" ? "no test yet" : `${count} ${count === 1 ? "test" : "tests"}, ${count === 1 ? "" : "newest "}${printDay(last, kitchen)}`;
  };
  const costCell = (row: Row) => {
    if (row.cost === null) return "";
    const ref = row.kind === "cut" ? ({ kind: "cut", id: row.cut.id } as const) : ({ kind: "spec", id: row.spec.id } as const);
    return <>{row.cost.missing.length > 0 && <span className="quiet">at least </span>}<Figure of={printNodeCost(row.cost, kitchen)} href={figureHref(ref)} label={row.kind === "cut" ? row.cut.name : row.spec.name} /></>;
  };
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Cut, and its portions", cell: (row) => (
      <>{row.kind === "cut" ? <Link href={`/cuts/${encodeURIComponent(row.cut.id)}`}>{row.cut.name}</Link> : <Link href={`/specs/${encodeURIComponent(row.spec.id)}`}>{row.spec.name}</Link>}<BorrowedWord borrowed={row.cost?.borrowed ?? []} /></>
    ) },
    { key: "of", head: "Made from", fold: "narrow", label: "from", cell: (row) => row.kind === "cut" ? book.shelves[row.cut.of.kind].get(row.cut.of.id)?.name : "" },
    { key: "size", head: "Size", figure: true, fold: "phone", label: "", cell: (row) => row.kind === "spec" ? <Figure of={printQuantity(row.spec.size, kitchen)} /> : "" },
    { key: "yield", head: "Yield", figure: true, fold: "phone", cell: (row) => row.kind === "cut" && yieldText(row.cut) !== "" ? <Figure of={{ figure: yieldText(row.cut), unit: "%" }} /> : "" },
    { key: "cost", head: "Costs", figure: true, width: 8.5, cell: costCell },
    { key: "tests", head: "Stands on", fold: "narrow", label: "", cell: (row) => row.kind === "cut" ? <span className={row.cut.testIds.length === 0 ? "near" : "quiet"}>{newest(row.cut)}</span> : "" },
  ];
  return (
    <>
      <PageTop title="Cuts" of={`${howMany(cuts.length, cuts.length, "cut", "cuts", locale)}, ${howMany(book.shelves.spec.size, book.shelves.spec.size, "portion spec", "portion specs", locale)} · as of ${printDay(live.today, kitchen)}`}
        answer={cuts.length === 0 ? undefined : untested.length === 0 ? "Every cut stands on a yield test." : [
          without === 0 ? "" : `${printCount(without, locale)} ${without === 1 ? "cut has" : "cuts have"} no yield test behind ${without === 1 ? "it" : "them"}: what rests on ${without === 1 ? "it" : "them"} is only known as “at least”.`,
          borrowing === 0 ? "" : `${printCount(borrowing, locale)} ${borrowing === 1 ? "cut stands" : "cuts stand"} on a borrowed yield, until there is a test of your own.`,
        ].filter(Boolean).join(" ")}>
        <IfMay deed="change tests and cuts"><ButtonLink href="/cuts/new" plain>Add a cut</ButtonLink></IfMay>
        <IfMay deed="record a test"><ButtonLink href="/tests/new">Record a test</ButtonLink></IfMay>
      </PageTop>
      {cuts.length === 0
        ? <EmptyPage what="A cut is the usable product that yield tests of one item give: trimmed striploin, peeled carrots, roast ham. Record a test and adopt it for a cut."><IfMay deed="record a test"><ButtonLink href="/tests/new">Record a test</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {cuts.length > LONG_LIST && <Find {...find} label="Find a cut or a portion" locale={locale} />}
            <RememberList {...remember} />
            {found.length > 0 && (
              <Rolling list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_CUTS}>
                <Table caption={`${howMany(stretch.rows.length, found.length, "cut", "cuts", locale)} and ${howMany(rows.length - stretch.rows.length, rows.length - stretch.rows.length, "portion", "portions", locale)}${list.sorting === null ? ", by name" : ""}`} columns={columns} rows={rows} order={order}
                  rowKey={(row) => row.kind === "cut" ? `cut ${row.cut.id}` : `spec ${row.spec.id}`} rowRule={(row) => (row.kind === "spec" ? "in" : null)} />
                <Stretches list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_CUTS} locale={locale} />
              </Rolling>
            )}
            <TakeAway name="Cuts" href="/out/cuts">Take the cuts away</TakeAway>
            <TakeAway name="Portions" href="/out/specs">The portions</TakeAway>
          </>
        )}
    </>
  );
}
