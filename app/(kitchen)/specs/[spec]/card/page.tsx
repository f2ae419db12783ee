/** A portion's card for the station, on one sheet of paper and without money. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { StationCard } from "@/components/spec/StationCard";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { portionCard } from "./card";

export const metadata: Metadata = { title: "Card for the station" };

export default async function CardPage({ params, searchParams }: { readonly params: Promise<{ readonly spec: string }>; readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const id = pathId((await params).spec);
  const open = await openKitchen("read the book");
  const { kitchen, may } = open;
  const spec = open.live.book.shelves.spec.get(id);
  const cut = spec && open.live.book.shelves.cut.get(spec.cutId);
  if (!spec || !cut) notFound();
  const paper = paperSize((await searchParams)["paper"], kitchen.locale);
  const address = `/specs/${encodeURIComponent(id)}`;
  return (
    <>
      <div className="no-print">
        <PageTop title={spec.name} trail={may("see money") ? [{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${encodeURIComponent(cut.id)}` }, { name: "the portion", href: address }] : [{ name: "Tests", href: "/tests" }]} of="A card for the station, one page, no money" />
        <PrintBar paper={paper} href={(one) => `${address}/card?paper=${one}`} />
        <TakeAway name="The station card" href="/out/station-card" ask={{ of: id, paper }}>Take this card away</TakeAway>
      </div>
      <StationCard card={portionCard(open, spec, cut)} paper={paper} />
    </>
  );
}
