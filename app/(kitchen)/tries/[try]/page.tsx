/** One try-out: what is pretended, what it does to the whole menu, and how it is made real, doubled or dropped. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type Deed, refusal } from "@/lib/access";
import { entriesOf, overtaken, revisionsSeen } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { tryMoves } from "@/lib/menu";
import { basedOn } from "@/lib/store";
import { listHref } from "@/components/find/address";
import { Stretches } from "@/components/find/Stretches";
import { Button, ButtonLink, PlainForm, TextField } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import { MakeRealForm } from "@/components/tryout/MakeRealForm";
import { TryDesk } from "@/components/tryout/TryDesk";
import "@/components/tryout/tryout.css";
import { firstBeyond } from "../../change-flow/run-change";
import type { Asked } from "../../find";
import { printMoment } from "../../moment";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { doubleTry, dropTry, keepDesk, makeTryReal, renameTry } from "../actions";
import { MOST_DISHES, moveViews, movesWord, orderOf, triedMenuView } from "../view";

interface Params {
  readonly params: Promise<{ readonly try: string }>;
  readonly searchParams: Promise<Asked>;
}

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { store, kitchenId } = await openKitchen("see money");
  return { title: (await store.readTryout(kitchenId, pathId((await params).try)))?.name ?? "Try-out" };
}

export default async function TryoutPage({ params, searchParams }: Params) {
  const id = pathId((await params).try);
  const asked = await searchParams;
  const open = await openKitchen("see money");
  const { store, kitchenId, kitchen, live } = open;
  const tryout = await store.readTryout(kitchenId, id);
  if (tryout === null) notFound();
  const { moves, madeChange, dropped, version } = tryout;
  const closed = madeChange !== null || dropped !== null;
  const order = orderOf(asked["sort"]);
  const before = typeof asked["from"] === "string" && /^[1-9]\d{0,5}$/.test(asked["from"]) ? Number(asked["from"]) - 1 : 0;
  const tried = tryMoves(live.cascade, moves);
  const menu = triedMenuView(tried, kitchen, { order, before });
  const found = overtaken(live.book, moves);
  const { changes, problems } = tried.laid;
  const beyond: Deed | null = firstBeyond(entriesOf(live.book, moves, live.today).entries.map(({ change }) => change), open);
  const page = `/tries/${encodeURIComponent(id)}`;
  const list = { page, words: "", filters: {}, sorting: order === "money" ? null : { key: "crossings", down: false } };
  return (
    <>
      <PageTop title={tryout.name} trail={[{ name: "Try-outs", href: "/tries" }]}
        of={`${movesWord(moves.length)} · begun by ${tryout.createdBy}, ${printMoment(tryout.createdAt, kitchen)} · last kept by ${tryout.changedBy}, ${printMoment(tryout.changedAt, kitchen)} · costs as of ${printDay(live.today, kitchen)}`}>
        <ButtonLink href={`/tries/compare?a=${encodeURIComponent(id)}`} plain>Compare it</ButtonLink>
      </PageTop>
      {madeChange !== null && <Told><p>It was made real as <Link href={`/record/${madeChange}`}>change {madeChange}</Link> by {tryout.changedBy}. Below is what its moves would do once more, to the book as it is today.</p></Told>}
      {dropped !== null && <Told><p>It was dropped by {dropped.by} on {printMoment(dropped.at, kitchen)}, and can be taken up again.</p></Told>}
      {found.size > 0 && !closed && <Told adverse><p><strong>{found.size === 1 ? "One move rests" : `${found.size} moves rest`} on something that was changed since.</strong> {found.size === 1 ? "It is" : "They are"} marked below, with what changed and by whom.</p></Told>}
      {tryout.lost > 0 && <Told adverse><p>{tryout.lost === 1 ? "One move" : `${tryout.lost} moves`} of it cannot be read any more and {tryout.lost === 1 ? "is" : "are"} left out.</p></Told>}
      <TryDesk id={id} version={version} moves={await moveViews(store, live, tryout, kitchen)} menu={menu} order={order} action={keepDesk} closed={closed}>
        <Stretches list={list} before={menu.before} shown={menu.rows.length} of={menu.of} most={MOST_DISHES} locale={kitchen.locale} />
      </TryDesk>
      {!closed && moves.length > 0 && (
        <section aria-labelledby="make-real">
          <h2 id="make-real">Make it real</h2>
          {problems.size > 0 && <p>Take off the {problems.size === 1 ? "move that does" : "moves that do"} nothing any more first: a try-out is recorded whole.</p>}
          {beyond !== null && <p>{refusal(beyond)}</p>}
          <MakeRealForm action={makeTryReal} basedOn={basedOn(live, changes)} tryoutId={id} version={version} revisions={JSON.stringify(revisionsSeen(found))} overtaken={found.size} deed={beyond ?? undefined} />
        </section>
      )}
      <section aria-labelledby="more">
        <h2 id="more">The try-out itself</h2>
        {!closed && (
          <PlainForm id="rename" action={renameTry} submit="Rename" plain values={{ name: tryout.name }} hidden={{ try: id, version: String(version) }}>
            <div className="fields"><TextField name="name" label="Name" /></div>
          </PlainForm>
        )}
        <div className="try-more">
          <form action={doubleTry}><input type="hidden" name="try" value={id} /><Button type="submit" plain>Make a copy</Button></form>
          {madeChange === null && <form action={dropTry}><input type="hidden" name="try" value={id} /><input type="hidden" name="drop" value={dropped === null ? "yes" : "no"} /><Button type="submit" plain>{dropped === null ? "Drop it" : "Take it up again"}</Button></form>}
        </div>
        <p className="quiet">Whoever may see money in this kitchen can open it at its address: <a href={listHref(list)}>{page}</a></p>
      </section>
    </>
  );
}
