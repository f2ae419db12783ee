/** The result of what was weighed, in one line against the last tests; what it costs for whoever sees money; and recording it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound, redirect } from "next/navigation";
import { blockSheet, factName, testsOf } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { type AgainstEarlier, againstEarlier, sayAgainstEarlier, testYield, testYields } from "@/lib/yield";
import { basedOn, newId } from "@/lib/store";
import { RecordSheet } from "@/components/block/RecordSheet";
import { ButtonLink } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { ComesTo, ResultLedger, ResultNotes } from "@/components/yield-test/ResultLedger";
import { KINDS } from "@/components/yield-test/kinds";
import { openKitchen } from "../../../../(kitchen)/open-kitchen";
import { pathId } from "../../../../(kitchen)/path-id";
import { originIn } from "../../../../(kitchen)/tests/read-test";
import { resultView } from "../../../../(kitchen)/tests/result-view";
import { cutChoices, factsAdopted } from "../../../../(kitchen)/tests/sheet-props";
import { recordSheet } from "../../actions";
import { testOf } from "../../as-test";
import { portionsLine } from "../../portions-line";
import "@/components/block/block.css";

export const metadata: Metadata = { title: "Result" };

export default async function SheetResult({ params }: { readonly params: Promise<{ readonly sheet: string }> }) {
  const id = pathId((await params).sheet);
  const { live, kitchen, kitchenId, store, may } = await openKitchen("record a test");
  const { book, cascade } = live;
  const answer = await store.readSheet(kitchenId, id);
  const sheet = answer === null ? null : blockSheet(answer.entries);
  if (answer === null || sheet === null || sheet.about === null) notFound();
  if (book.shelves.test.has(id)) redirect(`/tests/${encodeURIComponent(id)}`);
  const { about } = sheet;
  const of = originIn(about.of);
  const name = factName(book, of.kind, of.id);
  const back = `/block/${encodeURIComponent(id)}`;
  const read = testOf({ live, habits: kitchen }, id, sheet);
  const seesMoney = may("see money");
  const view = read.ok ? resultView(cascade, read.value, kitchen, seesMoney) : null;
  const earlier = testsOf(book, of, about.test);
  const against = read.ok ? lineAgainst(id, read.value, earlier) : null;
  const problems = read.ok ? (view === null ? [{ path: "", sentence: "These weights give no result: look at them again." }] : []) : read.problems;
  const unsaid = read.ok ? sheet.parts.filter((part) => part.role === "by-product" && part.none === null && read.value.parts.find((one) => one.key === part.key)?.role === "discard") : [];
  const adoptable = may("change tests and cuts");
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title={name} trail={[{ name: "At the block", href: "/block" }, { name: "the scale", href: back }]}
        of={`${KINDS[about.test].name} · ${about.pieces} ${about.pieces === 1 ? "piece" : "pieces"} · ${printDay(about.on, kitchen)}${about.cutter === "" ? "" : ` · ${about.cutter}`}`}
        answer={view === null ? "There is no result yet." : <><strong>{against === null ? view.usable : sayAgainstEarlier(against, kitchen)}</strong>{against === null && view.rest} {read.ok && portionsLine(book, read.value, kitchen)}</>}>
        <ButtonLink href={back} plain>Back to the scale</ButtonLink>
      </PageTop>
      {problems.length > 0 && (
        <>
          <ul className="wrong">{problems.map((problem) => <li key={problem.sentence}>{problem.sentence}</li>)}</ul>
          <p><Link className="btn" href={back}>Put it right at the scale</Link></p>
        </>
      )}
      {view !== null && problems.length === 0 && (
        <>
          <ResultNotes view={view} />
          <ResultLedger view={view} />
          <ComesTo view={view} />
          <RecordSheet action={recordSheet} basedOn={basedOn(live, factsAdopted(book, id, of))} hidden={{ sheet: id, cutId: newId("cut") }}
            unsaid={seesMoney ? unsaid.map((part) => ({ key: part.key, name: part.name })) : []} discards={seesMoney ? [] : unsaid.map((part) => part.name)}
            cuts={adoptable ? cutChoices(book, of) : null} />
        </>
      )}
    </main>
  );

  function lineAgainst(testId: string, test: Parameters<typeof testYield>[1], others: readonly (Parameters<typeof testYield>[1] & { readonly id: string })[]): AgainstEarlier | null {
    const latest = testYield(testId, test);
    const before = testYields(others.map((one) => ({ id: one.id, sheet: one })));
    if (!latest.ok || !before.ok) return null;
    const line = againstEarlier(latest.value, before.value);
    return line.ok ? line.value : null;
  }
}

