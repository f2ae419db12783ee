/** A correction of a recorded test: a new revision that names the one it replaces. */
import type { Metadata } from "next";
import { forbidden, notFound } from "next/navigation";
import { cutsOn, factKey, factName } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { PageTop } from "@/components/sheet/PageTop";
import { TestSheet } from "@/components/yield-test/TestSheet";
import { KINDS } from "@/components/yield-test/kinds";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { recordTest } from "../../actions";
import { dealerChoices, originChoices, partValues, rowWithoutMoney, testValues, worthChoices } from "../../sheet-props";

export const metadata: Metadata = { title: "Correct a test" };

export default async function EditTest({ params }: { readonly params: Promise<{ readonly test: string }> }) {
  const id = pathId((await params).test);
  const { live, kitchen, may } = await openKitchen("record a test");
  const seesMoney = may("see money");
  const { book } = live;
  const test = book.shelves.test.get(id);
  if (test === undefined) notFound();
  // A test that a cut stands on is corrected by whoever answers for the cuts.
  if (cutsOn(book, id).length > 0 && !may("change tests and cuts")) forbidden();
  const day = printDay(test.on, kitchen);
  const revision = book.provenance.get(factKey("test", id))?.revision;
  return (
    <>
      <PageTop title={`Correct the ${KINDS[test.kind].name.toLowerCase()} of ${day}`}
        trail={[{ name: "Tests", href: "/tests" }, { name: `${factName(book, test.of.kind, test.of.id)}, ${day}`, href: `/tests/${encodeURIComponent(id)}` }]}
        answer="What was recorded stays on file. The corrected test counts in its place, from the same day, and so do the costs that follow from it." />
      <TestSheet kind={test.kind} action={recordTest} basedOn={basedOn(live, [{ kind: "test", id }])} recordLabel="Record the correction"
        hidden={{ id, followsTestId: test.followsTestId ?? "", replaces: revision === undefined ? "" : String(revision) }}
        values={seesMoney ? testValues(test) : { ...testValues(test), price: "" }} rows={seesMoney ? test.parts.map(partValues) : test.parts.map(partValues).map(rowWithoutMoney)} starts={{}} origins={originChoices(book)} dealers={dealerChoices(book)} worthOf={seesMoney ? worthChoices(book) : []} cuts={null} isNew={false} seesMoney={seesMoney} />
    </>
  );
}
