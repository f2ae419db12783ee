/**
 * Since when a cut stands on its tests and who recorded that, with the way back; and what waits for its day. The record
 * keeps both: taking an adoption back is a change of its own.
 */
import Link from "next/link";
import { type Adoption as AdoptionOf, type Cut, adoptionOn, alsoPutBack, sameTests, takenBack } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { type Revision, basedOn } from "@/lib/store";
import { TakeBackForm } from "@/components/cut/PoolForm";
import { IfMay } from "@/components/kitchen/IfMay";
import type { OpenKitchen } from "../../open-kitchen";
import { takeBack } from "../actions";

type CutRevision = Revision & { readonly fact: Cut | null };

export async function Adoption({ open, cut }: { readonly open: OpenKitchen; readonly cut: Cut }) {
  const { store, kitchenId, live, kitchen } = open;
  const revisions = (await store.revisionsOf(kitchenId, "cut", cut.id)) as readonly CutRevision[];
  const adoption = adoptionOn(revisions, live.today);
  const facts = basedOn(live, [{ kind: "cut", id: cut.id }]);
  const waiting = live.ahead.flatMap((one) => (one.kind === "cut" && one.id === cut.id && !sameTests(one.after, cut) ? [one] : []));
  return (
    <>
      {adoption !== null && cut.testIds.length > 0 && (
        <p>
          It stands on {cut.testIds.length === 1 ? "this test" : "these tests"} since {printDay(adoption.since.validFrom, kitchen)}, recorded by {adoption.since.by} in <Link href={`/record/${adoption.since.changeNo}`}>change {adoption.since.changeNo}</Link>{adoption.since.why !== "" && <>: {adoption.since.why}</>}.
        </p>
      )}
      {adoption !== null && cut.testIds.length > 0 && <Back adoption={adoption} />}
      {waiting.map((one) => (
        <div key={one.revision}>
          <p>From {printDay(one.validFrom, kitchen)} it will stand on {one.after === null ? "no test: it leaves the book" : `${one.after.testIds.length} ${one.after.testIds.length === 1 ? "test" : "tests"}`}, by itself.</p>
          {one.after !== null && (
            <IfMay deed="change tests and cuts">
              <details className="stands">
                <summary>Take back what waits</summary>
                <p>It would go on standing on the tests it stands on before that day.</p>
                <TakeBackForm action={takeBack} basedOn={facts} hidden={{ id: cut.id, waiting: String(one.revision) }} id={`waiting-${one.revision}`} />
              </details>
            </IfMay>
          )}
        </div>
      ))}
    </>
  );

  function Back({ adoption: of }: { readonly adoption: AdoptionOf<CutRevision> }) {
    const back = takenBack(of);
    const put = alsoPutBack(of);
    const days = back.ok ? back.value.testIds.map((id) => live.book.shelves.test.get(id)?.on).flatMap((on) => (on === undefined ? [] : [printDay(on, kitchen)])) : [];
    return (
      <IfMay deed="change tests and cuts">
        <details className="stands">
          <summary>Take it back</summary>
          {!back.ok ? back.problems.map(({ sentence }) => <p key={sentence}>{sentence}</p>) : (
            <>
              <p>{back.value.testIds.length === 0 ? (cut.borrowed === null ? "Before that no test stood behind it, so its yield would be unknown again." : "Before that no test stood behind it, so it would be costed by its borrowed yield again.") : `It would stand again on ${days.length === 1 ? "the test" : "the tests"} of ${days.join(" and ")}, as before.`}</p>
              {of.later.length > 0 && (
                <p>Something else was changed since: {of.later.map((one, index) => <span key={one.revision}>{index > 0 && ", "}{one.by} in <Link href={`/record/${one.changeNo}`}>change {one.changeNo}</Link></span>)}. {put.length === 0 ? "That stays as it is." : `Put back with the tests: ${put.join("; ")}. Anything else stays as it is.`}</p>
              )}
              <TakeBackForm action={takeBack} basedOn={facts} hidden={{ id: cut.id }} />
            </>
          )}
        </details>
      </IfMay>
    );
  }
}
