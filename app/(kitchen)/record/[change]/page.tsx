/** One change of the record: who, when, why; each fact before and after; and the ripple that was recorded with it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type Deed, deedOf, refusal } from "@/lib/access";
import { cutsOn, undoing } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { type ChangedFact, type RecordEntry, basedOn } from "@/lib/store";
import { Ripple } from "@/components/change/Ripple";
import { UndoForm } from "@/components/change/UndoForm";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { KIND_WORD, factHref, factLines } from "../../change-flow/fact-words";
import { rippleView } from "../../change-flow/ripple-view";
import { printMoment } from "../../moment";
import { openKitchen } from "../../open-kitchen";
import { undoChange } from "../actions";

export const metadata: Metadata = { title: "A change" };

const MOST_FACTS = 60;
const MOST_BASED = 200;

export default async function ChangePage({ params }: { readonly params: Promise<{ readonly change: string }> }) {
  const { change } = await params;
  if (!/^\d{1,9}$/.test(change)) notFound();
  const open = await openKitchen("see money");
  const { store, kitchenId, kitchen, live } = open;
  const entry = await store.recordEntry(kitchenId, Number(change), MOST_BASED);
  if (entry === null) notFound();
  const facts = entry.facts.slice(0, MOST_FACTS);
  return (
    <>
      <PageTop title={`Change ${entry.changeNo}`} trail={[{ name: "Record", href: "/record" }]} of={<>{entry.by} · {printMoment(entry.at, kitchen)}</>}
        answer={entry.why === "" ? undefined : <>“{entry.why}”</>} />
      <h2>What was changed</h2>
      {facts.map((fact) => <FactTable key={`${fact.kind} ${fact.revision}`} fact={fact} kitchen={kitchen} book={live.book} />)}
      {entry.factCount > facts.length && <p className="quiet">…and {entry.factCount - facts.length} more facts in the same change.</p>}
      <h2>What it did</h2>
      <Ripple ripple={rippleView(entry.ripple, kitchen)} />
      <h2 id="undo">Undo</h2>
      <Undo entry={entry} open={open} />
    </>
  );
}

type Open = Awaited<ReturnType<typeof openKitchen>>;

/** The form that undoes the change, or the sentence that says why it cannot be undone, or not by this person. */
function Undo({ entry, open: { live, may } }: { readonly entry: RecordEntry; readonly open: Open }) {
  // Of a long price list the first few hundred facts tell whether it can be undone; the action asks of all.
  const whole = entry.factCount === entry.facts.length;
  const undone = undoing(whole ? entry : { ...entry, factCount: entry.facts.length });
  if (!undone.ok) return undone.problems.map(({ sentence }) => <p key={sentence}>This change cannot be undone as a whole. {sentence}</p>);
  const changes = undone.value.map(({ change }) => change);
  const beyond: Deed | undefined = changes.map((change) => deedOf(change, change.kind === "test" && cutsOn(live.book, change.id).length > 0)).find((deed) => !may(deed));
  return (
    <>
      {beyond !== undefined && <p>{refusal(beyond)}</p>}
      {/* A long list is not sent along fact by fact: whether anything was said of them since is asked of the record itself. */}
      <UndoForm action={undoChange} changeNo={entry.changeNo} basedOn={whole ? basedOn(live, changes) : {}} deed={beyond} />
    </>
  );
}

function FactTable({ fact, kitchen, book }: { readonly fact: ChangedFact; readonly kitchen: Open["kitchen"]; readonly book: Open["live"]["book"] }) {
  const before = new Map((fact.before === null ? [] : factLines(fact.kind, fact.before, book)).map((line) => [line.what, line.text]));
  const after = new Map((fact.after === null ? [] : factLines(fact.kind, fact.after, book)).map((line) => [line.what, line.text]));
  const rows = [...new Set([...before.keys(), ...after.keys()])].map((what) => ({ what, before: before.get(what) ?? null, after: after.get(what) ?? null })).filter((row) => row.before !== row.after);
  const href = factHref(fact.kind, fact.id);
  const name = `${fact.name}, ${KIND_WORD[fact.kind]}`;
  const what = fact.before === null ? "new" : fact.after === null ? "taken off" : fact.replaces === null ? "changed" : "corrected";
  const heading = <h3>{href === null || fact.after === null ? name : <Link href={href}>{name}</Link>}, <span className="quiet">{what}, from {printDay(fact.validFrom, kitchen)}</span></h3>;
  if (rows.length === 0) return heading;
  return (
    <>
    {heading}
    <Table narrow rows={rows} rowKey={(row) => row.what} quietCaption caption={`${name}, ${what}`}
      columns={[
        { key: "what", head: "Fact", cell: (row) => row.what },
        { key: "change", head: "Before → after", cell: (row) => fact.before === null ? row.after : <BeforeAfter before={row.before ?? "–"} after={row.after ?? "–"} />, width: 14 },
      ]} />
    </>
  );
}
