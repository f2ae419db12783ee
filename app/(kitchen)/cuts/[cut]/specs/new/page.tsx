/** A new portion of a cut. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { basedOn, newId } from "@/lib/store";
import { SpecForm } from "@/components/cut/SpecForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../../open-kitchen";
import { pathId } from "../../../../path-id";
import { NEW_SPEC } from "../../../../specs/spec-values";
import { saveSpec } from "../../../actions";

export const metadata: Metadata = { title: "Add a portion" };

export default async function NewSpec({ params }: { readonly params: Promise<{ readonly cut: string }> }) {
  const cutId = pathId((await params).cut);
  const { live } = await openKitchen("change specs");
  const cut = live.book.shelves.cut.get(cutId);
  if (cut === undefined) notFound();
  const id = newId("spec");
  return (
    <>
      <PageTop title={`Add a portion of ${cut.name}`} trail={[{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${encodeURIComponent(cutId)}` }]}
        answer="A portion is the cut at a size. Its cost is the size times the cost of a usable pound, or is counted in whole portions from each piece." />
      <SpecForm action={saveSpec} basedOn={basedOn(live, [{ kind: "spec", id }])} recordLabel="Record this portion" hidden={{ id, cutId }}
        values={NEW_SPEC} />
    </>
  );
}
