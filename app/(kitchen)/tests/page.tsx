/** All yield tests, newest first: what each yielded, and what stands on it. */
import type { Metadata } from "next";
import Link from "next/link";
import { type YieldTest, factName } from "@/lib/book";
import { valuedSheet } from "@/lib/cascade";
import { type Ratio, printDay, printShare, ratio } from "@/lib/measure";
import { type YieldFigures, figuresOf, totalLoss } from "@/lib/yield";
import { Find } from "@/components/find/Find";
import { RememberList } from "@/components/find/RememberList";
import { Rolling } from "@/components/find/Rolling";
import { Stretches } from "@/components/find/Stretches";
import { ButtonLink } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { IfMay } from "@/components/kitchen/IfMay";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { KINDS } from "@/components/yield-test/kinds";
import { type Asked, LONG_LIST, MOST_ROWS, stretchOf } from "../find";
import { type ListTerms, choicesOf, listing } from "../list-ask";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Tests" };

interface Row {
  readonly test: YieldTest;
  readonly name: string;
  readonly yield: string | null;
  readonly loss: string | null;
  readonly cuts: readonly { readonly id: string; readonly name: string }[];
}

export default async function Tests({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen, may } = await openKitchen("read the book");
  const seesMoney = may("see money");
  const { book, cascade } = live;
  const behind = new Map<string, { id: string; name: string }[]>();
  for (const cut of book.shelves.cut.values()) for (const id of cut.testIds) behind.set(id, [...(behind.get(id) ?? []), { id: cut.id, name: cut.name }]);
  const all = [...book.shelves.test.values()].sort((a, b) => (a.on === b.on ? (a.id < b.id ? 1 : -1) : a.on < b.on ? 1 : -1));
  const figureOf = (test: YieldTest, which: (figures: YieldFigures) => Ratio) => {
    const figures = figuresOf(valuedSheet(cascade, test));
    return figures.ok ? ratio.toDecimal(which(figures.value)) : null;
  };
  const terms: ListTerms<YieldTest> = {
    texts: (test) => [factName(book, test.of.kind, test.of.id), test.cutter, test.dealerId === null ? undefined : book.shelves.dealer.get(test.dealerId)?.name, KINDS[test.kind].name],
    filters: [
      { name: "kind", label: "Kind", choices: [...new Set(all.map(({ kind }) => kind))].map((kind) => ({ value: kind, label: KINDS[kind].name })), of: ({ kind }) => kind },
      { name: "behind", label: "Stands behind", choices: [{ value: "cut", label: "a cut" }, { value: "none", label: "no cut yet" }], of: ({ id }) => behind.has(id) ? "cut" : "none" },
      { name: "by", label: "Cut by", choices: choicesOf(all.map(({ cutter }) => cutter)), of: ({ cutter }) => cutter },
    ],
    sorts: [
      { key: "of", label: "Of", of: (test) => factName(book, test.of.kind, test.of.id) },
      { key: "kind", label: "Kind", of: ({ kind }) => KINDS[kind].name },
      { key: "on", label: "Day", of: ({ on }) => on },
      { key: "yield", label: "Usable", of: (test) => figureOf(test, (figures) => figures.yield) },
      { key: "loss", label: "Loss", of: (test) => figureOf(test, totalLoss) },
      { key: "cutter", label: "Cut by", of: ({ cutter }) => cutter },
    ],
  };
  const { list, found, order, remember, find } = await listing("/tests", asked, all, terms);
  const stretch = stretchOf(found, asked["from"], MOST_ROWS, asked["rows"]);
  const rows = stretch.rows.map((test): Row => {
    const figures = figuresOf(valuedSheet(cascade, test));
    const share = (of: { readonly n: bigint; readonly d: bigint }): string => printShare(ratio.toDecimal(of), kitchen);
    return {
      test, name: factName(book, test.of.kind, test.of.id), cuts: behind.get(test.id) ?? [],
      yield: figures.ok ? share(figures.value.yield) : null,
      loss: figures.ok ? share(totalLoss(figures.value)) : null,
    };
  });
  const histories = [...book.shelves.cut.values()].filter((cut) => cut.testIds.length > 0).sort((a, b) => (a.name < b.name ? -1 : 1));
  const idle = all.filter((test) => !behind.has(test.id)).length;
  const columns: readonly Column<Row>[] = [
    { key: "of", head: "Of", cell: ({ test, name }) => <Link href={`/tests/${encodeURIComponent(test.id)}`}>{name}<span className="visually-hidden">, {printDay(test.on, kitchen)}</span></Link> },
    { key: "kind", head: "Kind", cell: ({ test }) => KINDS[test.kind].name, fold: "phone", label: "" },
    { key: "on", head: "Day", cell: ({ test }) => printDay(test.on, kitchen), fold: "phone", label: "" },
    { key: "yield", head: "Usable", figure: true, width: 4.5, cell: (row) => row.yield === null ? "–" : <span className="figure"><strong>{row.yield}</strong><span className="u">{"\u00a0"}%</span></span> },
    { key: "loss", head: "Loss", figure: true, width: 4, cell: (row) => row.loss === null ? "–" : <span className="figure">{row.loss}<span className="u">{"\u00a0"}%</span></span> },
    { key: "cut", head: "Stands behind", fold: "narrow", cell: ({ cuts }) => cuts.length === 0 ? <span className="quiet">no cut yet</span> : cuts.map((cut, index) => <span key={cut.id}>{index > 0 && ", "}{seesMoney ? <Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link> : cut.name}</span>) },
    { key: "cutter", head: "Cut by", fold: "hide-narrow", cell: ({ test }) => test.cutter },
  ];
  return (
    <>
      <PageTop title="Tests" of={`${all.length} ${all.length === 1 ? "test" : "tests"} · as of ${printDay(live.today, kitchen)}`}
        answer={all.length === 0 ? undefined : idle === 0 ? "Every test stands behind a cut." : `${idle} of ${all.length} tests ${idle === 1 ? "stands" : "stand"} behind no cut: nothing is costed by ${idle === 1 ? "it" : "them"} yet.`}>
        <IfMay deed="record a test"><ButtonLink href="/tests/new" plain>Record a test</ButtonLink></IfMay>
        <IfMay deed="record a test"><ButtonLink href="/block">At the block</ButtonLink></IfMay>
      </PageTop>
      {all.length === 0
        ? <EmptyPage what="A yield test finds out what of a purchased piece can be sold, and so what a pound of it really costs."><IfMay deed="record a test"><ButtonLink href="/tests/new">Record the first test</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {all.length > LONG_LIST && <Find {...find} label="Find a test" locale={kitchen.locale} />}
            <RememberList {...remember} />
            {found.length > 0 && (
              <Rolling list={list} before={stretch.before} shown={rows.length} of={stretch.of} most={MOST_ROWS}>
                <Table caption={`${rows.length === all.length ? "" : `${rows.length} of `}${all.length} yield tests${list.sorting === null ? ", newest first" : ""}`} columns={columns} rows={rows} rowKey={({ test }) => test.id} order={order} />
                <Stretches list={list} before={stretch.before} shown={rows.length} of={stretch.of} most={MOST_ROWS} locale={kitchen.locale} />
              </Rolling>
            )}
            <TakeAway name="Yield tests" href="/out/tests">Take these away</TakeAway>
          </>
        )}
      {histories.length > 0 && (
        <details className="stands">
          <summary>All tests of one cut, side by side</summary>
          <ul>{histories.map((cut) => <li key={cut.id}><Link href={`/cuts/${encodeURIComponent(cut.id)}/tests`}>Tests behind {cut.name}</Link></li>)}</ul>
        </details>
      )}
      <IfMay deed="record a test"><p className="quiet">For the clipboard there is <Link href="/tests/paper">a blank form on paper</Link>, with the parts of the last test.</p></IfMay>
    </>
  );
}
