/** Up to three try-outs side by side: what each does to the menu as a whole, and dish by dish. */
import type { Metadata } from "next";
import Link from "next/link";
import type { ReactNode } from "react";
import { moneyFigure, printDay, printShare } from "@/lib/measure";
import { type DishMove, type TriedMoves, dishFigures, leftAWeek, tryMoves } from "@/lib/menu";
import type { Tryout } from "@/lib/store";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { StateWord } from "@/components/target/StateWord";
import { CompareForm } from "@/components/tryout/CompareForm";
import "@/components/tryout/tryout.css";
import { currencySign } from "../../change-flow/ripple-view";
import type { Asked } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { MOST_DISHES, menuFacts, movesWord, signedMoney } from "../view";

export const metadata: Metadata = { title: "Try-outs side by side" };

const PLACES = ["a", "b", "c"] as const;

const leftOf = (move: DishMove | undefined) => (move === undefined ? null : leftAWeek(move));

interface Way {
  readonly tryout: Tryout;
  readonly tried: TriedMoves;
  readonly moves: ReadonlyMap<string, DishMove>;
}

interface FactRow {
  readonly key: string;
  readonly label: string;
  readonly cells: readonly { readonly before: string | null; readonly after: string; readonly unit: string }[];
}

export default async function Compare({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const { store, kitchenId, kitchen, live } = await openKitchen("see money");
  const asked = await searchParams;
  const all = await store.tryouts(kitchenId);
  const wanted = PLACES.map((place) => { const id = asked[place]; return typeof id === "string" ? id : ""; });
  const ways = [...new Set(wanted)].flatMap((id): readonly Way[] => {
    const tryout = all.find((one) => one.id === id);
    if (tryout === undefined) return [];
    const tried = tryMoves(live.cascade, tryout.moves);
    return [{ tryout, tried, moves: new Map((tried.report?.dishes ?? []).map((move) => [move.dishId, move])) }];
  });
  const choices = [{ value: "", label: "none" }, ...all.filter(({ dropped, madeChange }) => dropped === null && madeChange === null).map(({ id, name }) => ({ value: id, label: name }))];
  const facts = ways.map(({ tried }) => (tried.report === null ? [] : menuFacts(tried.report, tried.menu, kitchen)));
  const factRows = (facts[0] ?? []).map(({ key, label }): FactRow => ({ key, label, cells: facts.map((list) => list.find((fact) => fact.key === key) ?? { before: null, after: "—", unit: "" }) }));
  const head = ({ tryout }: Way): ReactNode => <><Link href={`/tries/${encodeURIComponent(tryout.id)}`} prefetch={false}>{tryout.name}</Link> <span className="quiet small">{movesWord(tryout.moves.length)}</span></>;
  const factColumns: readonly Column<FactRow>[] = [
    { key: "label", head: "The menu", cell: ({ label }) => label },
    ...ways.map((way, at): Column<FactRow> => ({ key: way.tryout.id, head: head(way), label: way.tryout.name, figure: true, fold: "phone", width: 8, cell: ({ cells }) => {
      const cell = cells[at];
      return cell === undefined ? "" : cell.before === null || cell.before === cell.after ? <strong>{cell.after}{cell.unit === "" ? "" : ` ${cell.unit}`}</strong> : <BeforeAfter before={cell.before} after={cell.after} unit={cell.unit} />;
    } })),
  ];
  const dishes = [...new Set(ways.flatMap(({ moves }) => [...moves.keys()]))].map((id) => {
    const most = Math.max(...ways.map(({ moves }) => Math.abs(leftOf(moves.get(id))?.toNumber() ?? 0)));
    return { id, most, crosses: ways.some(({ moves }) => (moves.get(id)?.crossing ?? null) !== null), name: ways.map(({ moves }) => moves.get(id)?.name).find((name) => name !== undefined) ?? id, today: dishFigures(live.cascade, id) };
  }).sort((a, b) => b.most - a.most || Number(b.crosses) - Number(a.crosses) || (a.name < b.name ? -1 : 1));
  const share = (ratio: Parameters<typeof printShare>[0] | null | undefined): string => (ratio === null || ratio === undefined ? "—" : `${printShare(ratio, kitchen)} %`);
  const dishColumns: readonly Column<(typeof dishes)[number]>[] = [
    { key: "name", head: "Dish", cell: ({ id, name }) => <Link href={`/dishes/${encodeURIComponent(id)}`} prefetch={false}>{name}</Link> },
    { key: "today", head: "Today", label: "today", figure: true, fold: "phone", width: 6, cell: ({ today }) => today === null ? "—" : <>{share(today.foodCost)} <span className="quiet small">{moneyFigure(today.plateCost.amount, kitchen)}</span></> },
    ...ways.map((way): Column<(typeof dishes)[number]> => ({ key: way.tryout.id, head: <>{way.tryout.name}</>, label: way.tryout.name, figure: true, fold: "phone", width: 9, cell: ({ id }) => {
      const move = way.moves.get(id);
      if (move === undefined) return <span className="quiet">as today</span>;
      if (move.after === null) return <span className="quiet">off the menu</span>;
      const left = leftOf(move);
      return (
        <>
          {move.crossing !== null && <><StateWord state={move.crossing === "over" ? "crosses over" : "back under"} shape />{" "}</>}
          <strong className={move.after.state === "over" ? "over" : undefined}>{share(move.after.foodCost)}</strong> <span className="quiet small">{moneyFigure(move.after.plateCost.amount, kitchen)}{left === null ? "" : `, ${signedMoney(left, kitchen)} a week`}</span>
        </>
      );
    } })),
  ];
  return (
    <>
      <PageTop title="Try-outs side by side" trail={[{ name: "Try-outs", href: "/tries" }]} of={`costs as of ${printDay(live.today, kitchen)} · of each dish its food cost in %, its plate cost in ${currencySign(kitchen)}, and what it leaves over more or less in a usual week`} />
      <CompareForm choices={choices} chosen={Object.fromEntries(PLACES.map((place, at) => [place, ways[at]?.tryout.id ?? ""]))} />
      {ways.length === 0
        ? <EmptyPage what="Choose two or three try-outs to see side by side what each of them does to the menu."><Link href="/tries">All try-outs</Link></EmptyPage>
        : (
          <div className="compare-ways">
            <h2>The whole menu</h2>
            <Table caption={`What ${ways.length === 1 ? "the try-out does" : `the ${ways.length} try-outs do`} to the whole menu`} quietCaption columns={factColumns} rows={factRows} rowKey={({ key }) => key} />
            <h2>Dish by dish</h2>
            {dishes.length === 0 ? <p>No dish moves under any of them.</p>
              : <Table caption={dishes.length > MOST_DISHES ? `The ${MOST_DISHES} of ${dishes.length} dishes that move most, by money a week` : dishes.length === 1 ? "The dish that moves" : `The ${dishes.length} dishes that move, most money a week first`} columns={dishColumns} rows={dishes.slice(0, MOST_DISHES)} rowKey={({ id }) => id} />}
          </div>
        )}
    </>
  );
}
