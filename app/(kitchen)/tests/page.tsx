/** All yield tests, newest first: what each yielded, and what stands on it. */
import type { Metadata } from "next";
import Link from "next/link";
import { type YieldTest, factName } from "@/lib/book";
import { valuedSheet } from "@/lib/cascade";
import { printDay, printShare, ratio } from "@/lib/measure";
import { figuresOf, totalLoss } from "@/lib/yield";
import { Find } from "@/components/find/Find";
import { Stretches } from "@/components/find/Stretches";
import { ButtonLink } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { KINDS } from "@/components/yield-test/kinds";
import { type Asked, LONG_LIST, MOST_ROWS, answering, askedFor, stretchOf } from "../find";
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
  const words = askedFor(asked["find"]);
  const found = answering(all, words, (test) => [factName(book, test.of.kind, test.of.id), test.cutter, test.dealerId === null ? undefined : book.shelves.dealer.get(test.dealerId)?.name, KINDS[test.kind].name]);
  const stretch = stretchOf(found, asked["from"]);
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
            {all.length > LONG_LIST && <Find page="/tests" label="Find a test" asked={words} found={found.length} all={all.length} locale={kitchen.locale} />}
            <Table caption={`${rows.length === all.length ? "" : `${rows.length} of `}${all.length} yield tests, newest first`} columns={columns} rows={rows} rowKey={({ test }) => test.id} />
            <Stretches page="/tests" asked={words} before={stretch.before} shown={rows.length} of={stretch.of} most={MOST_ROWS} locale={kitchen.locale} />
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
