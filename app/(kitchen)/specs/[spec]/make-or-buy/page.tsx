/** Cutting a portion in the house or buying it cut: both costs, where they are the same, and a memo to print. Everything asked stands in the address. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { boughtPortion, madeHere, makeOrBuy, typedPortion } from "@/lib/buying";
import { rateText } from "@/lib/measure";
import { MissingWords } from "@/components/figure/Missing";
import { MakeOrBuyForm } from "@/components/make-or-buy/MakeOrBuyForm";
import { Memo } from "@/components/make-or-buy/Memo";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import type { Asked } from "../../../find";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { itemLabels, readMakeAsked } from "./asked";
import { memoView, verdicts } from "./view";

export const metadata: Metadata = { title: "Make or buy" };

export default async function MakeOrBuyPage({ params, searchParams }: { readonly params: Promise<{ readonly spec: string }>; readonly searchParams: Promise<Asked> }) {
  const id = pathId((await params).spec);
  const open = await openKitchen("see money");
  const { live: { book, cascade }, kitchen } = open;
  const spec = book.shelves.spec.get(id);
  const cut = spec && book.shelves.cut.get(spec.cutId);
  if (!spec || !cut) notFound();
  const search = await searchParams;
  const asked = readMakeAsked(search, spec, cascade, kitchen);
  const address = `/specs/${encodeURIComponent(id)}/make-or-buy`;
  const paper = paperSize(search["paper"], kitchen.locale);
  const here = madeHere(cascade, spec);
  const bought = asked.bought === null ? null : asked.bought.kind === "item" ? boughtPortion(cascade, asked.bought.item.id, spec, asked.trimmed) : typedPortion(asked.bought.rate, spec, asked.trimmed);
  const found = !here.ok || bought?.ok !== true || asked.problems.length > 0 ? null : makeOrBuy(here.made, { ...asked.asked, bought: bought.perPortion });
  const item = here.ok ? book.shelves.item.get(here.itemId) : undefined;
  const made = found?.ok !== true || !here.ok || bought?.ok !== true || item === undefined || asked.bought === null ? null : {
    made: here.made, itemName: item.name, itemKind: item.kind, cutName: cut.name, perPortion: bought.perPortion, found: found.value,
    boughtName: asked.bought.kind === "item" ? asked.bought.item.name : rateText(asked.bought.rate, kitchen),
  };
  const problems = [...asked.problems, ...(found !== null && !found.ok ? found.problems : [])];
  return (
    <>
      <div className="no-print">
        <PageTop title={`${spec.name}: make or buy`} trail={[{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${encodeURIComponent(cut.id)}` }, { name: spec.name, href: `/specs/${encodeURIComponent(id)}` }]}
          answer={made === null ? "What a portion costs cut in the house, with the work and what is really used of the trim, against one that is bought cut." : verdicts(made.found, asked, kitchen)} />
        {!here.ok && (
          <Told adverse>
            {here.why === "no-test" ? <p>No test of our own stands behind <Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link>, so nothing tells how many portions a piece gives. Record one first.</p>
              : here.why === "no-size" ? <p>No tested piece holds this portion, or the pieces were not weighed apart.</p>
              : <p>What it costs in the house is not wholly known: <MissingWords missing={here.missing} />.</p>}
          </Told>
        )}
        {problems.length > 0 && <Told adverse><ul>{problems.map((problem, at) => <li key={at}>{problem.sentence}</li>)}</ul></Told>}
        {bought !== null && !bought.ok && <Told adverse><p>{bought.why === "kind" ? "The bought one is priced in a measure that this portion is not told in: choose another item, or type a price for a portion." : <>What the bought one costs is not known{bought.missing.length > 0 && <>: <MissingWords missing={bought.missing} /></>}.</>}</p></Told>}
        <MakeOrBuyForm key={asked.query} action={address} items={itemLabels(book)} values={asked.values} problems={problems} paper={search["paper"] === undefined ? null : paper} />
        {made !== null && <PrintBar paper={paper} href={(one) => `${address}?${new URLSearchParams([...new URLSearchParams(asked.query), ["paper", one]]).toString()}`} />}
      </div>
      {made !== null && <Memo view={memoView(open, spec, asked, made)} paper={paper} />}
    </>
  );
}
