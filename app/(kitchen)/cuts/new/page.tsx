/** A cut that no test stands behind yet. Mostly a cut comes with its test; this names one ahead of it. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { CutForm } from "@/components/cut/CutForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { originChoices } from "../../tests/sheet-props";
import { saveCut } from "../actions";

export const metadata: Metadata = { title: "Add a cut" };

export default async function NewCut() {
  const { live } = await openKitchen("change tests and cuts");
  const id = newId("cut");
  return (
    <>
      <PageTop title="Add a cut" trail={[{ name: "Cuts", href: "/cuts" }]}
        answer="Name what the block makes of an item. Until a yield test is adopted for it, what it costs is only known as “at least”." />
      <CutForm action={saveCut} basedOn={basedOn(live, [{ kind: "cut", id }])} recordLabel="Record this cut" hidden={{ id }} values={{ name: "", of: "", specification: "", repricing: "" }}
        origins={originChoices(live.book)} tests={[]} parts={[]} severalMains={false} />
    </>
  );
}
