/** The try-outs of the kitchen: what somebody has pretended and kept by name, what each would do, and where it stands. */
import type { Metadata } from "next";
import Link from "next/link";
import { printDay, printShare } from "@/lib/measure";
import { tryMoves } from "@/lib/menu";
import type { LiveBook, Tryout } from "@/lib/store";
import { Button } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { CompareForm } from "@/components/tryout/CompareForm";
import "@/components/tryout/tryout.css";
import { crossingSentence } from "../change-flow/ripple-view";
import { type Asked, stretchOf } from "../find";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";
import { beginTry } from "./actions";
import { movesWord, signedMoney, standing } from "./view";

export const metadata: Metadata = { title: "Try-outs" };

/** So many are worked out for one page. */
const MOST_TRIES = 20;

interface Row {
  readonly tryout: Tryout;
  readonly crossings: string;
  readonly food: string;
  readonly left: string;
  readonly menu: string;
}

export default async function Tries({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const { store, kitchenId, kitchen, live } = await openKitchen("see money");
  const asked = await searchParams;
  const all = await store.tryouts(kitchenId);
  const isOpen = ({ dropped, madeChange }: Tryout): boolean => dropped === null && madeChange === null;
  const open = all.filter(isOpen);
  const stretch = stretchOf([...open, ...all.filter((tryout) => !isOpen(tryout))], asked["from"], MOST_TRIES);
  const rows = stretch.rows.map((tryout) => rowOf(tryout, live, kitchen));
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Try-out", cell: ({ tryout }) => <Link href={`/tries/${encodeURIComponent(tryout.id)}`} prefetch={false}>{tryout.name}</Link> },
    { key: "moves", head: "Moves", label: "moves", figure: true, fold: "phone", cell: ({ tryout }) => tryout.moves.length },
    { key: "crossings", head: "Crossings", fold: "narrow", label: "", cell: ({ crossings }) => crossings },
    { key: "food", head: "Food, a week", label: "food a week", figure: true, fold: "phone", width: 6, cell: ({ food }) => food },
    { key: "left", head: "Left over, a week", label: "left over a week", figure: true, fold: "phone", width: 6, cell: ({ left }) => left },
    { key: "menu", head: "Menu’s food cost", label: "menu", figure: true, width: 7, cell: ({ menu }) => menu },
    { key: "who", head: "Last kept by", fold: "narrow", label: "", cell: ({ tryout }) => <span className="quiet">{tryout.changedBy}, {printMoment(tryout.changedAt, kitchen)}</span> },
    { key: "state", head: "Stands", fold: "narrow", label: "", cell: ({ tryout }) => <span className="quiet">{tryout.madeChange === null ? standing(tryout, kitchen) : <Link href={`/record/${tryout.madeChange}`} prefetch={false}>{standing(tryout, kitchen)}</Link>}</span> },
  ];
  const groups = [{ key: "open", title: "Open", rows: rows.filter(({ tryout }) => isOpen(tryout)) }, { key: "closed", title: "Made real or dropped", rows: rows.filter(({ tryout }) => !isOpen(tryout)) }].filter((group) => group.rows.length > 0);
  const choices = [{ value: "", label: "none" }, ...open.map(({ id, name }) => ({ value: id, label: name }))];
  return (
    <>
      <PageTop title="Try-outs" of={`${open.length} open · told for ${printDay(live.today, kitchen)}`}
        answer="Prices, portions, menu prices and substitutions tried together. Nothing in a try-out is in the book until somebody makes it real.">
        <form action={beginTry}><Button type="submit">Begin a try-out</Button></form>
      </PageTop>
      {all.length === 0
        ? <EmptyPage what="A try-out holds as many pretended changes as you like, kept by name: the strip 8 % dearer, the steak at 8 oz, a new menu price. It says what all of them together do to the menu. Begin one here, or press “Try it” on any edit form and put the change in one." />
        : <Table caption={`${movesCount(all.length)}, open ones first`} quietCaption columns={columns} groups={groups} rowKey={({ tryout }) => tryout.id} />}
      {stretch.of > stretch.before + rows.length && <nav className="stretches" aria-label="The rest of the list"><Link href={`/tries?from=${stretch.before + rows.length + 1}`}>The rest</Link></nav>}
      {open.length > 1 && (
        <section aria-labelledby="side-by-side">
          <h2 id="side-by-side">Side by side</h2>
          <CompareForm choices={choices} chosen={{ a: open[0]?.id ?? "", b: open[1]?.id ?? "", c: "" }} />
        </section>
      )}
    </>
  );
}

function movesCount(count: number): string {
  return count === 1 ? "1 try-out" : `${count} try-outs`;
}

/** What a try-out would do; of a closed one nothing is worked out. */
function rowOf(tryout: Tryout, { cascade }: LiveBook, kitchen: Parameters<typeof printShare>[1] & Parameters<typeof signedMoney>[1]): Row {
  if (tryout.madeChange !== null || tryout.dropped !== null || tryout.moves.length === 0) return { tryout, crossings: "", food: "", left: "", menu: tryout.moves.length === 0 ? movesWord(0) : "" };
  const { report, menu } = tryMoves(cascade, tryout.moves);
  if (report === null) return { tryout, crossings: "no figures: see what is wrong", food: "", left: "", menu: "" };
  const { moneyAWeek: food, takingsAWeek: takings } = report;
  return {
    tryout,
    crossings: crossingSentence(report) ?? "None crosses.",
    food: food === null ? "not known" : signedMoney(food, kitchen),
    left: food === null || takings === null ? "not known" : signedMoney(takings.minus(food), kitchen),
    menu: menu.after?.ratio ? `${menu.after.atLeast ? "at least " : ""}${printShare(menu.after.ratio, kitchen)} %` : "not known",
  };
}
