/** The record: every change, newest first, with who made it, why, and which dishes it carried over their target. */
import type { Metadata } from "next";
import Link from "next/link";
import type { Book } from "@/lib/book";
import { printDay } from "@/lib/measure";
import type { RecordEntry } from "@/lib/store";
import { ButtonLink } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { type Column, Table } from "@/components/table/Table";
import { Hangs } from "@/components/target/StateWord";
import { type ChangedLine, KIND_WORD, changedLines } from "../change-flow/fact-words";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Record" };

const A_PAGE = 40;
/** The longest text shown in the list itself: before and after stand on one line of a phone. */
const SHORT = 18;

export default async function Record({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const asked = (await searchParams)["before"];
  const before = typeof asked === "string" && /^\d{1,9}$/.test(asked) ? Number(asked) : undefined;
  const { store, kitchenId, kitchen, live } = await openKitchen("see money");
  const entries = await store.record(kitchenId, { limit: A_PAGE, before });
  const last = entries.at(-1);
  const columns: readonly Column<RecordEntry>[] = [
    { key: "what", head: "What changed", cell: (entry) => <><Hangs state={entry.crossings.some((one) => one.direction === "over") ? "crosses over" : entry.crossings.length > 0 ? "back under" : null}><Link href={`/record/${entry.changeNo}`}>{whatChanged(entry)}</Link></Hangs>{movedFrom(entry, live.book).map((line) => <span key={line.what} className="from">{line.what}: <BeforeAfter before={line.before ?? "–"} after={line.after ?? "–"} /></span>)}</> },
    { key: "why", head: "Why", fold: "narrow", label: "", cell: (entry) => entry.why === "" ? "" : <span className="quiet">{entry.why}</span> },
    { key: "moved", head: "Dishes moved", figure: true, fold: "phone", cell: (entry) => entry.moved.dish },
    { key: "crossed", head: "Crossed", figure: true, fold: "phone", cell: (entry) => entry.crossings.length },
    { key: "by", head: "By", fold: "phone", label: "", cell: (entry) => entry.by },
    { key: "at", head: "When", fold: "narrow", label: "", cell: (entry) => <span className="figure">{printMoment(entry.at, kitchen)}</span> },
  ];
  return (
    <>
      <PageTop title="Record" of={`${live.changeNo} ${live.changeNo === 1 ? "change" : "changes"} in all · as of ${printDay(live.today, kitchen)}`}
        answer="Nothing in the book is overwritten. Every change stands here with who made it and what it did to the dishes.">
        {live.changeNo > 1 && <ButtonLink href={`/record/${live.changeNo}#undo`} plain>Undo the last change</ButtonLink>}
      </PageTop>
      {entries.length === 0
        ? <EmptyPage what="No change is recorded before that one." />
        : <Table caption={`Changes ${entries[0]?.changeNo ?? ""} to ${last?.changeNo ?? ""}, newest first`} columns={columns} rows={entries} rowKey={(entry) => String(entry.changeNo)} />}
      {last !== undefined && last.changeNo > 1 && <ButtonLink href={`/record?before=${last.changeNo}`} plain>Earlier changes</ButtonLink>}
      <TakeAway name="The record" href="/out/record">Take the record away</TakeAway>
    </>
  );
}

/** What a change did to its fact, where it is one fact and few lines; the rest is told on the change's own page. */
function movedFrom(entry: RecordEntry, book: Book): readonly ChangedLine[] {
  const [fact] = entry.facts;
  if (entry.factCount !== 1 || fact === undefined || fact.before === null || fact.after === null) return [];
  return changedLines(fact.kind, fact.before, fact.after, book).filter((line) => Math.max(line.before?.length ?? 0, line.after?.length ?? 0) <= SHORT).slice(0, 2);
}

function whatChanged(entry: RecordEntry): string {
  const [first, second] = entry.facts;
  if (first === undefined) return "Nothing";
  const told = (fact: typeof first): string => `${fact.name}, ${KIND_WORD[fact.kind]}${fact.before === null ? ", new" : fact.after === null ? ", taken off" : fact.replaces === null ? "" : ", corrected"}`;
  if (entry.factCount === 1) return told(first);
  if (entry.factCount === 2 && second !== undefined) return `${told(first)}; ${told(second)}`;
  return `${told(first)}; and ${entry.factCount - 1} more`;
}
