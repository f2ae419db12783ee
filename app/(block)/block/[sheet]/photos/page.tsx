/** Photos of the trim while it still lies there: of a sheet at the block, which they stay with when it becomes a test. */
import type { Metadata } from "next";
import { notFound, redirect } from "next/navigation";
import { blockSheet, factName } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { ButtonLink } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { KINDS } from "@/components/yield-test/kinds";
import { openKitchen } from "../../../../(kitchen)/open-kitchen";
import { pathId } from "../../../../(kitchen)/path-id";
import { originIn } from "../../../../(kitchen)/tests/read-test";
import { PhotosOf } from "../../../../photos/photos-of";

export const metadata: Metadata = { title: "Photos of the trim" };

export default async function SheetPhotos({ params, searchParams }: { readonly params: Promise<{ readonly sheet: string }>; readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const id = pathId((await params).sheet);
  const open = await openKitchen("record a test");
  const answer = await open.store.readSheet(open.kitchenId, id);
  const about = answer === null ? null : blockSheet(answer.entries).about;
  if (answer === null || about === null) notFound();
  if (answer.recordedChange !== null && open.live.book.shelves.test.has(id)) redirect(`/tests/${encodeURIComponent(id)}#photos`);
  const of = originIn(about.of);
  const back = `/block/${encodeURIComponent(id)}`;
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title={factName(open.live.book, of.kind, of.id)} trail={[{ name: "At the block", href: "/block" }, { name: "the scale", href: back }]}
        of={`${KINDS[about.test].name} · ${printDay(about.on, open.kitchen)}`} answer="What was cut away, before it goes into the tub. The photos stay with the test once it is recorded.">
        <ButtonLink href={back} plain>Back to the scale</ButtonLink>
      </PageTop>
      <PhotosOf open={open} testId={id} from="block" refused={(await searchParams)["photo"]} />
    </main>
  );
}
