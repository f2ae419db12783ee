/** A cut that no test stands behind yet. Mostly a cut comes with its test; this names one ahead of it. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { publishedYields } from "@/lib/yield";
import { CutForm } from "@/components/cut/CutForm";
import { Find } from "@/components/find/Find";
import { PageTop } from "@/components/sheet/PageTop";
import { type Asked, askedFor } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { originChoices } from "../../tests/sheet-props";
import { saveCut } from "../actions";
import { MOST_CHOICES, borrowChoice, offered } from "../borrow";

export const metadata: Metadata = { title: "Add a cut" };

export default async function NewCut({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = askedFor((await searchParams)["find"]);
  const { live, kitchen } = await openKitchen("change tests and cuts");
  const { rows } = asked === "" ? { rows: [] } : offered(asked, "");
  const id = newId("cut");
  return (
    <>
      <PageTop title="Add a cut" trail={[{ name: "Cuts", href: "/cuts" }]}
        answer="Name what the block makes of an item. Until a yield test is adopted for it, what it costs is only known as “at least”, or by a yield borrowed from a published table." />
      <h2>Until you have a test of your own, borrow a published yield</h2>
      <Find page="/cuts/new" label="Find a food in the tables" asked={asked} found={rows.length} all={publishedYields().length} locale={kitchen.locale} />
      {rows.length > MOST_CHOICES && <p className="quiet">The first {MOST_CHOICES} of {rows.length} are shown: add a word.</p>}
      <h2>The cut</h2>
      <CutForm action={saveCut} basedOn={basedOn(live, [{ kind: "cut", id }])} recordLabel="Record this cut" hidden={{ id }} values={{ name: "", of: "", specification: "", repricing: "" }}
        origins={originChoices(live.book)} tests={[]} parts={[]} severalMains={false} borrow={rows.slice(0, MOST_CHOICES).map((row) => borrowChoice(row, kitchen))} />
    </>
  );
}
