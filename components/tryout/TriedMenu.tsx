/** What a try-out does to the whole menu: what crosses first, then money and percentage, then dish by dish. */
import Link from "next/link";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { Told } from "@/components/sheet/Told";
import { type Column, Table } from "@/components/table/Table";
import { Hangs } from "@/components/target/StateWord";
import type { TriedDishView, TriedMenuView } from "./state";

export function TriedSentence({ menu }: { readonly menu: TriedMenuView }) {
  return (
    <p className="say">
      {menu.crossing !== null && <strong className={menu.adverse ? "over" : undefined}>{menu.crossing} </strong>}
      {menu.rest}
    </p>
  );
}

export function TriedFacts({ menu }: { readonly menu: TriedMenuView }) {
  return (
    <dl className="tried-facts">
      {menu.facts.map((fact) => (
        <div key={fact.key}>
          <dt>{fact.label}</dt>
          <dd>{fact.before === null || fact.before === fact.after ? <span className="figure"><strong>{fact.after}</strong>{fact.unit !== "" && <span className="u">{"\u00a0"}{fact.unit}</span>}</span> : <BeforeAfter before={fact.before} after={fact.after} unit={fact.unit} />}</dd>
          {fact.words !== "" && <dd className="quiet">{fact.words}</dd>}
        </div>
      ))}
    </dl>
  );
}

export function TriedDishes({ menu, caption }: { readonly menu: TriedMenuView; readonly caption: string }) {
  if (menu.rows.length === 0) return null;
  return <Table caption={caption} columns={columnsOf(menu)} rows={menu.rows} rowKey={({ dish }) => dish.id} />;
}

export function NoFigures({ problems }: { readonly problems: readonly string[] }) {
  if (problems.length === 0) return null;
  return <Told adverse><p><strong>There are no figures of this.</strong></p><ul>{problems.map((sentence) => <li key={sentence}>{sentence}</li>)}</ul></Told>;
}

function columnsOf(menu: TriedMenuView): readonly Column<TriedDishView>[] {
  const priced = menu.rows.some(({ dish }) => dish.menuPrice !== null);
  return [
    { key: "name", head: "Dish", cell: ({ dish }) => <Hangs state={dish.crossing}><Link href={dish.href} prefetch={false}>{dish.name}</Link></Hangs> },
    ...(priced ? [{ key: "price", head: `Menu price, ${menu.currency}`, label: "menu price", figure: true, fold: "phone" as const, width: 8, cell: ({ dish }: TriedDishView) => dish.menuPrice && <BeforeAfter {...dish.menuPrice} /> }] : []),
    { key: "plate", head: `Plate cost, ${menu.currency}`, label: "plate", figure: true, fold: "phone", width: 8, cell: ({ dish }) => <BeforeAfter {...dish.plate} /> },
    { key: "food", head: "Food cost", figure: true, width: 8, cell: ({ dish }) => dish.foodCost.after === null && dish.foodCost.before === null ? <span className="quiet">no menu price</span> : <BeforeAfter {...dish.foodCost} unit="%" tone={dish.over ? "over" : undefined} /> },
    { key: "week", head: "Left over, a week", label: "left over a week", figure: true, fold: "phone", width: 6, cell: ({ aWeek }) => aWeek ?? <span className="quiet">not known</span> },
    { key: "words", head: "In words", fold: "narrow", label: "", cell: ({ dish }) => <span className="quiet">{dish.words}</span> },
  ];
}
