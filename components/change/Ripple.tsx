/**
 * A ripple on the screen: what crosses its target is told first, then how many dishes move and what it comes to a
 * week; then the chain from the price through cuts, specs and recipes; then every dish, before → after, in words.
 * The same whether it was only tried, has just been recorded, or is read in the record years later.
 */
import Link from "next/link";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { type Column, Table } from "@/components/table/Table";
import { Hangs } from "@/components/target/StateWord";
import { TargetGauge } from "@/components/target/TargetGauge";
import type { ChainView, DishMoveView, MovedView, RippleView } from "./state";

/** How many rows of a section of the chain stand open; the rest unfold. */
const OPEN_ROWS = 5;

export function RippleSentence({ ripple }: { readonly ripple: RippleView }) {
  return (
    <p className="say">
      {ripple.crossing !== null && <strong className={ripple.adverse ? "over" : undefined}>{ripple.crossing} </strong>}
      {ripple.rest}
      {ripple.when !== null && <> {ripple.when}</>}
    </p>
  );
}

export function Ripple({ ripple, sentence = true }: { readonly ripple: RippleView; readonly sentence?: boolean }) {
  return (
    <div>
      {sentence && <RippleSentence ripple={ripple} />}
      {ripple.chain.length > 0 && (
        <div className="chain">
          {ripple.chain.map((section) => <Section key={section.title} section={section} />)}
        </div>
      )}
      {ripple.dishes.length > 0 && (
        <Table
          caption={`${ripple.dishes.length === 1 ? "The dish that moves" : `The ${ripple.dishes.length + ripple.dishesMore} dishes that move`}, before and after`}
          columns={columnsOf(ripple)} rows={ripple.dishes} rowKey={(dish) => dish.id} />
      )}
      {ripple.dishesMore > 0 && <p className="quiet">…and {ripple.dishesMore} more that move by less.</p>}
    </div>
  );
}

function columnsOf(ripple: RippleView): Column<DishMoveView>[] {
  const priced = ripple.dishes.some((dish) => dish.menuPrice !== null);
  return [
    { key: "name", head: "Dish", cell: (dish) => <Hangs state={dish.crossing}><Link href={dish.href}>{dish.name}</Link></Hangs> },
    ...(priced ? [{
      key: "price", head: `Menu price, ${ripple.currency}`, label: "menu price", figure: true, fold: "phone" as const, width: 8,
      cell: (dish: DishMoveView) => dish.menuPrice && <BeforeAfter {...dish.menuPrice} />,
    }] : []),
    { key: "plate", head: `Plate cost, ${ripple.currency}`, label: "plate", figure: true, fold: "phone", width: 8, cell: (dish) => <BeforeAfter {...dish.plate} /> },
    {
      key: "food", head: "Food cost", figure: true, width: 8,
      cell: (dish) => dish.foodCost.after === null && dish.foodCost.before === null ? <span className="quiet">no menu price</span>
        : <BeforeAfter {...dish.foodCost} unit="%" tone={dish.over ? "over" : undefined} />,
    },
    { key: "gauge", head: "Against target", fold: "hide-narrow", cell: (dish) => <TargetGauge {...dish.gauge} /> },
    { key: "words", head: "In words", fold: "narrow", label: "", cell: (dish) => <span className="quiet">{dish.words}</span> },
  ];
}

function Section({ section }: { readonly section: ChainView }) {
  const open = section.rows.slice(0, OPEN_ROWS);
  const folded = section.rows.slice(OPEN_ROWS);
  return (
    <section>
      <h3>{section.title}</h3>
      <ul>{open.map((row) => <MovedRow key={row.key} row={row} />)}</ul>
      {folded.length > 0 && (
        <details>
          <summary>and {folded.length} more</summary>
          <ul>{folded.map((row) => <MovedRow key={row.key} row={row} />)}</ul>
        </details>
      )}
    </section>
  );
}

function MovedRow({ row }: { readonly row: MovedView }) {
  return (
    <li>
      <Link href={row.href}>{row.name}</Link>
      <span className="moved">
        {row.missing !== null && <span className="quiet small">at least </span>}
        <BeforeAfter before={row.before} after={row.after} unit={row.unit} />
        {row.missing !== null && <span className="from">{row.missing}</span>}
        {row.borrowed !== null && <span className="from">{row.borrowed}</span>}
      </span>
    </li>
  );
}
