/** One sheet at the block: the weight is the page. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { blockSheet, factName, testsOf } from "@/lib/book";
import { usualFrom } from "@/lib/yield";
import { BlockPage } from "@/components/block/BlockPage";
import { openKitchen } from "../../../(kitchen)/open-kitchen";
import { pathId } from "../../../(kitchen)/path-id";
import { originIn } from "../../../(kitchen)/tests/read-test";
import { dealerChoices } from "../../../(kitchen)/tests/sheet-props";

export const metadata: Metadata = { title: "At the block" };

export default async function SheetAtTheBlock({ params }: { readonly params: Promise<{ readonly sheet: string }> }) {
  const id = pathId((await params).sheet);
  const { live, kitchenId, store } = await openKitchen("record a test");
  const { book } = live;
  const start = await store.readSheet(kitchenId, id);
  const about = start === null ? null : blockSheet(start.entries).about;
  if (start === null || about === null) notFound();
  const of = originIn(about.of);
  const earlier = testsOf(book, of, about.test);
  return <BlockPage sheetId={id} start={start} name={factName(book, of.kind, of.id)} dealers={of.kind === "item" ? dealerChoices(book) : []} usual={earlier.length === 0 ? null : usualFrom(earlier)} />;
}
