/** A correction of a recorded test: a new revision that names the one it replaces. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { factKey, factName } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { PageTop } from "@/components/sheet/PageTop";
import { TestSheet } from "@/components/yield-test/TestSheet";
import { KINDS } from "@/components/yield-test/kinds";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { recordTest } from "../../actions";
import { dealerChoices, originChoices, partValues, testValues, worthChoices } from "../../sheet-props";

export const metadata: Metadata = { title: "Correct a test" };

export default async function EditTest({ params }: { readonly params: Promise<{ readonly test: string }> }) {
  const id = pathId((await params).test);
  const { live, kitchen } = await openKitchen();
  const { book } = live;
  const test = book.shelves.test.get(id);
  if (test === undefined) notFound();
  const day = printDay(test.on, kitchen);
  const revision = book.provenance.get(factKey("test", id))?.revision;
  return (
    <>
      <PageTop title={`Correct the ${KINDS[test.kind].name.toLowerCase()} of ${day}`}
        trail={[{ name: "Tests", href: "/tests" }, { name: `${factName(book, test.of.kind, test.of.id)}, ${day}`, href: `/tests/${encodeURIComponent(id)}` }]}
        answer="What was recorded stays on file. The corrected test counts in its place, from the same day, and so do the costs that follow from it." />
      <TestSheet kind={test.kind} action={recordTest} basedOn={basedOn(live, [{ kind: "test", id }])} recordLabel="Record the correction"
        hidden={{ id, followsTestId: test.followsTestId ?? "", replaces: revision === undefined ? "" : String(revision) }}
        values={testValues(test)} rows={test.parts.map(partValues)} starts={{}} origins={originChoices(book)} dealers={dealerChoices(book)} worthOf={worthChoices(book)} cuts={null} />
    </>
  );
}
