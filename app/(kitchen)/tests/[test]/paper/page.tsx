/** A recorded test on one sheet of paper, for the folder at the block or whoever asks how a cost came about. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { blockSheet, factKey, factName } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { PaperForm } from "@/components/paper/PaperForm";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { PageTop } from "@/components/sheet/PageTop";
import { dayOf } from "../../../moment";
import { type OpenKitchen, openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { filledForm } from "../../paper/forms";

export const metadata: Metadata = { title: "Test on paper" };

export default async function TestOnPaper({ params, searchParams }: { readonly params: Promise<{ readonly test: string }>; readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const id = pathId((await params).test);
  const open = await openKitchen("read the book");
  const { live, kitchen, kitchenId, store } = open;
  const test = live.book.shelves.test.get(id);
  if (test === undefined) notFound();
  const paper = paperSize((await searchParams)["paper"], kitchen.locale);
  const weighed = await store.readSheet(kitchenId, id);
  const address = `/tests/${encodeURIComponent(id)}`;
  const title = `${factName(live.book, test.of.kind, test.of.id)}, ${printDay(test.on, kitchen)}`;
  return (
    <>
      <div className="no-print">
        <PageTop title={title} trail={[{ name: "Tests", href: "/tests" }, { name: "the test", href: address }]} of="On paper, one page" />
        <PrintBar paper={paper} href={(one) => `${address}/paper?paper=${one}`} />
      </div>
      <PaperForm form={filledForm(open, test, await recordedBy(open, id), weighed === null ? null : blockSheet(weighed.entries))} paper={paper} />
    </>
  );
}

/** Who recorded it when, and what it corrects. */
async function recordedBy({ live, kitchen, kitchenId, store, may }: OpenKitchen, id: string): Promise<string> {
  const revision = live.book.provenance.get(factKey("test", id))?.revision;
  const revisions = await store.revisionsOf(kitchenId, "test", id);
  const now = revisions.find((one) => one.revision === revision);
  if (now === undefined) return "";
  const corrected = revisions.find((one) => one.revision === now.replaces);
  const day = (moment: string): string => printDay(dayOf(moment, kitchen), kitchen);
  return [
    `Recorded by ${now.by} on ${day(now.recordedAt)}${may("see money") ? `, change ${now.changeNo}` : ""}, as of ${printDay(now.validFrom, kitchen)}.`,
    ...(corrected === undefined ? [] : [`It takes the place of what ${corrected.by} recorded on ${day(corrected.recordedAt)}.`]),
  ].join(" ");
}
