/** The record: every change, newest first, with who made it, why, and which dishes it carried over their target. */
import type { Metadata } from "next";
import Link from "next/link";
import { printDay } from "@/lib/measure";
import type { RecordEntry } from "@/lib/store";
import { ButtonLink } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { Hangs } from "@/components/target/StateWord";
import { KIND_WORD } from "../change-flow/fact-words";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Record" };

const A_PAGE = 40;

export default async function Record({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const asked = (await searchParams)["before"];
  const before = typeof asked === "string" && /^\d{1,9}$/.test(asked) ? Number(asked) : undefined;
  const { store, kitchenId, kitchen, live } = await openKitchen();
  const entries = await store.record(kitchenId, { limit: A_PAGE, before });
  const last = entries.at(-1);
  const columns: readonly Column<RecordEntry>[] = [
    { key: "what", head: "What changed", cell: (entry) => <Hangs state={entry.crossings.some((one) => one.direction === "over") ? "crosses over" : entry.crossings.length > 0 ? "back under" : null}><Link href={`/record/${entry.changeNo}`}>{whatChanged(entry)}</Link></Hangs> },
    { key: "why", head: "Why", fold: "narrow", label: "", cell: (entry) => <span className="quiet">{entry.why}</span> },
    { key: "moved", head: "Dishes moved", figure: true, fold: "phone", cell: (entry) => entry.moved.dish },
    { key: "crossed", head: "Crossed", figure: true, fold: "phone", cell: (entry) => entry.crossings.length },
    { key: "by", head: "By", fold: "phone", label: "", cell: (entry) => entry.by },
    { key: "at", head: "When", fold: "narrow", label: "", cell: (entry) => <span className="figure">{printMoment(entry.at, kitchen)}</span> },
  ];
  return (
    <>
      <PageTop title="Record" of={`${live.changeNo} ${live.changeNo === 1 ? "change" : "changes"} in all · as of ${printDay(live.today, kitchen)}`}
        answer="Nothing in the book is overwritten. Every change stands here with who made it and what it did to the dishes." />
      {entries.length === 0
        ? <EmptyPage what="No change is recorded before that one." />
        : <Table caption={`Changes ${entries[0]?.changeNo ?? ""} to ${last?.changeNo ?? ""}, newest first`} columns={columns} rows={entries} rowKey={(entry) => String(entry.changeNo)} />}
      {last !== undefined && last.changeNo > 1 && <ButtonLink href={`/record?before=${last.changeNo}`} plain>Earlier changes</ButtonLink>}
    </>
  );
}

function whatChanged(entry: RecordEntry): string {
  const [first, second] = entry.facts;
  if (first === undefined) return "Nothing";
  const told = (fact: typeof first): string => `${fact.name}, ${KIND_WORD[fact.kind]}${fact.before === null ? " new" : fact.after === null ? " taken off" : fact.replaces === null ? "" : " corrected"}`;
  if (entry.factCount === 1) return told(first);
  if (entry.factCount === 2 && second !== undefined) return `${told(first)}; ${told(second)}`;
  return `${told(first)} and ${entry.factCount - 1} more`;
}
