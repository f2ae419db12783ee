/** One order: what has to be bought, dealer by dealer, in whole packs; how each quantity was found; what comes out beside; what is not known. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type ByProduct, type CutNeed, type HouseNeed, type ItemNeed, leftText, neededText, orderOf } from "@/lib/buying";
import { lineText } from "@/lib/book";
import { printDay, printNumber, printShare, ratio, toDecimal } from "@/lib/measure";
import { MissingWords } from "@/components/figure/Missing";
import { Button, ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { DealerPart } from "@/components/order/DealerPart";
import "@/components/order/order.css";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import { type Column, Table } from "@/components/table/Table";
import { printMoment } from "../../moment";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { doubleOrder, dropOrder } from "../actions";
import { minimumText, orderSentence, piecesText, planWords, rowOf, sumText, yieldText } from "../view";

interface Params {
  readonly params: Promise<{ readonly order: string }>;
}

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { store, kitchenId } = await openKitchen("see money");
  return { title: (await store.readOrderPlan(kitchenId, pathId((await params).order)))?.name ?? "Order" };
}

export default async function OrderPage({ params }: Params) {
  const id = pathId((await params).order);
  const open = await openKitchen("see money");
  const { store, kitchenId, kitchen, live } = open;
  const kept = await store.readOrderPlan(kitchenId, id);
  if (kept === null) notFound();
  const { plan } = kept;
  const { book } = live;
  const order = orderOf(live.cascade, plan);
  const { needs } = order;
  const page = `/orders/${encodeURIComponent(id)}`;
  const cuts = [...needs.items, ...needs.house].flatMap((item) => item.cuts.map((need) => ({ item, need })));
  return (
    <>
      <PageTop title={kept.name} trail={[{ name: "Orders", href: "/orders" }]}
        of={`${kept.forDay === null ? "" : `for ${printDay(kept.forDay, kitchen)} · `}${planWords(plan, kitchen)} · kept by ${kept.changedBy}, ${printMoment(kept.changedAt, kitchen)} · prices and yields as of ${printDay(live.today, kitchen)}`}
        answer={orderSentence(order, kitchen)}>
        <IfMay deed="plan orders">{kept.dropped === null && <ButtonLink href={`${page}/edit`} plain>Change the order</ButtonLink>}</IfMay>
        {order.dealers.length > 0 && <ButtonLink href={`${page}/paper`} plain>Order sheets to print</ButtonLink>}
      </PageTop>
      {kept.dropped !== null && <Told><p>It was dropped by {kept.dropped.by} on {printMoment(kept.dropped.at, kitchen)}, and can be taken up again.</p></Told>}
      {kept.lost > 0 && <Told adverse><p>{kept.lost === 1 ? "One row" : `${kept.lost} rows`} of it cannot be read any more and {kept.lost === 1 ? "is" : "are"} left out: the order is too small by that. Change the order, and keep it anew.</p></Told>}
      {(needs.missing.length > 0 || needs.empty.length > 0) && (
        <Told adverse>
          <p><strong>The order is not whole.</strong> What hangs on this is told as “at least”, and may be more.</p>
          <ul>
            {needs.missing.map((one) => <li key={`${one.what} ${one.of.kind} ${one.of.id}`}>{one.what === "fact" ? <>{one.name} is not in the book any more: take it out of the order.</> : <MissingWords missing={[one]} />}</li>)}
            {needs.empty.map((name) => <li key={name}>{name} has no lines yet, so nothing is bought for it.</li>)}
          </ul>
        </Told>
      )}

      {order.dealers.map((part, at) => (
        <DealerPart key={part.dealerId ?? ""} name={part.dealerId === null ? "Nobody asks a price for it" : part.name} dealerHref={part.dealerId === null ? null : `/dealers/${encodeURIComponent(part.dealerId)}`}
          ordering={part.ordering} minimum={minimumText(part, kitchen)} short={part.minimum !== null && part.minimum.short !== null} total={part.dealerId === null ? null : sumText(part.total, part, kitchen)} explained={at === 0} rows={part.lines.map((line) => rowOf(line, open))}
          sheets={part.dealerId === null ? null : { csv: `${page}/sheet?dealer=${encodeURIComponent(part.dealerId)}&as=csv`, xlsx: `${page}/sheet?dealer=${encodeURIComponent(part.dealerId)}&as=xlsx`, paper: `${page}/paper?dealer=${encodeURIComponent(part.dealerId)}` }} />
      ))}
      {order.dealers.length > 1 && <p>All dealers: <strong className="figure">{sumText(order.total, order, kitchen)}</strong> as asked. <a href={`${page}/sheet?as=csv`} download>All of it as CSV</a> · <a href={`${page}/sheet?as=xlsx`} download>as a spreadsheet</a></p>}

      {order.covered.length > 0 && (
        <>
          <h2>In the house already</h2>
          <ul>{order.covered.map(({ need }) => <li key={need.itemId}>{need.name}: {neededText(need.needed, need.kind, kitchen)} needed, all of it in the house.</li>)}</ul>
        </>
      )}

      {cuts.length > 0 && (
        <>
          <h2>What is cut, and by which yield</h2>
          <p>As purchased = edible portion ÷ yield. The cost factor is for costs, and buys nothing.{plan.sureness === null ? " At the mean yield it falls short as often as not." : ` Sureness asked for: ${printShare(toDecimal(plan.sureness), kitchen, { places: 0 })} %.`}</p>
          <div className="order-cuts"><CutTable rows={cuts} kitchen={kitchen} /></div>
        </>
      )}

      {needs.portions.length > 0 && (
        <>
          <h2>Portions to cut</h2>
          <ul>{needs.portions.map(({ specId, name, portions }) => <li key={specId}>{printNumber(ratio.toDecimal(portions), kitchen, { places: portions.d === 1n ? 0 : 1 })} × <Link href={`/specs/${encodeURIComponent(specId)}`} prefetch={false}>{name}</Link></li>)}</ul>
        </>
      )}

      <h2>How much of each item, and what for</h2>
      <details>
        <summary>{needs.items.length} {needs.items.length === 1 ? "item" : "items"} as purchased</summary>
        <Table quietCaption caption="Every item as purchased, before packs" rows={needs.items} rowKey={({ itemId }) => itemId} columns={[
          { key: "item", head: "Item", cell: ({ itemId, name }) => <Link href={`/items/${encodeURIComponent(itemId)}`} prefetch={false}>{name}</Link> },
          { key: "needed", head: "Needed", figure: true, width: 7, cell: (need) => <>{need.missing.length > 0 && "at least "}{neededText(need.needed, need.kind, kitchen)}</> },
          { key: "hand", head: "In the house", label: "in the house", figure: true, fold: "phone", cell: (need) => (ratio.sign(need.onHand) === 0 ? "" : leftText(need.onHand, need.kind, kitchen)) },
          { key: "for", head: "For", fold: "phone", label: "", cell: (need) => <span className="quiet">{usersText(need)}</span> },
        ]} />
      </details>

      {needs.house.length > 0 && (
        <>
          <h2>From the house</h2>
          <p>By-products of the house are not bought: they come off something else.</p>
          <Table narrow caption={`${needs.house.length} ${needs.house.length === 1 ? "by-product" : "by-products"} that the order takes`} rows={needs.house} rowKey={({ itemId }) => itemId} columns={[
            { key: "name", head: "By-product", cell: ({ itemId, name }) => <Link href={`/items/${encodeURIComponent(itemId)}`} prefetch={false}>{name}</Link> },
            { key: "needed", head: "Needed", figure: true, width: 7, cell: (need) => <>{need.missing.length > 0 && "at least "}{neededText(need.needed, need.kind, kitchen)}</> },
            { key: "out", head: "Comes out of this order", label: "comes out", figure: true, fold: "phone", width: 8, cell: (need) => (ratio.sign(need.comesOut) === 0 ? "none" : `about ${leftText(need.comesOut, need.kind, kitchen)}`) },
            { key: "short", head: "Short", label: "", fold: "phone", cell: (need) => houseText(need, kitchen) },
          ]} />
        </>
      )}

      {needs.byProducts.length > 0 && (
        <>
          <h2>What comes out beside</h2>
          <p>By the mean of the tests, of what is cut for this order. It is not taken off what is bought: say that it is in the house once it is.</p>
          <Table narrow caption={`${needs.byProducts.length} ${needs.byProducts.length === 1 ? "part" : "parts"} beside what was wanted`} rows={needs.byProducts} rowKey={({ name, of }) => `${of.id} ${name}`} columns={[
            { key: "name", head: "Part", cell: ({ name }: ByProduct) => name },
            { key: "of", head: "Off", fold: "phone", label: "off", cell: ({ ofName }: ByProduct) => ofName },
            { key: "amount", head: "About", figure: true, width: 7, cell: ({ amount, kind }: ByProduct) => leftText(amount, kind, kitchen) },
            { key: "instead", head: "Takes the place of", label: "takes the place of", fold: "phone", cell: ({ instead }: ByProduct) => (instead === null ? "" : book.shelves[instead.kind].get(instead.id)?.name ?? "") },
          ]} />
        </>
      )}

      {needs.spare.length > 0 && (
        <>
          <h2>In the house, and not taken off</h2>
          <ul>{needs.spare.map(({ line, why }) => <li key={line.key}>{lineText(book, line, kitchen)}: {why === "not-taken" ? "nothing in this order takes it." : "it is told in a measure that nothing turns into its own."}</li>)}</ul>
        </>
      )}

      {plan.note !== "" && <><h2>Note</h2><p className="order-note">{plan.note}</p></>}
      {cuts.length > 0 && <p className="quiet">A portion’s weight is promised before cooking: where an order comes out short, buy more rather than cut below it. Whether what is bought beyond the need keeps is the kitchen’s to judge.</p>}

      <h2>What is served</h2>
      <ul>
        {plan.dishes.map(({ key, dishId, covers }) => { const dish = book.shelves.dish.get(dishId); return <li key={key}>{printNumber(toDecimal(covers), kitchen)} × {dish === undefined ? dishId : <Link href={`/dishes/${encodeURIComponent(dishId)}`} prefetch={false}>{dish.name}</Link>}</li>; })}
        {plan.lines.map((line) => <li key={line.key}>{lineText(book, line, kitchen)}</li>)}
      </ul>
      <IfMay deed="plan orders">
        <div className="order-more">
          <form action={doubleOrder}><input type="hidden" name="order" value={id} /><Button type="submit" plain>Make a copy</Button></form>
          <form action={dropOrder}><input type="hidden" name="order" value={id} /><input type="hidden" name="drop" value={kept.dropped === null ? "yes" : "no"} /><Button type="submit" plain>{kept.dropped === null ? "Drop the order" : "Take it up again"}</Button></form>
        </div>
      </IfMay>
    </>
  );
}

type Kitchen = Awaited<ReturnType<typeof openKitchen>>["kitchen"];

function CutTable({ rows, kitchen }: { readonly rows: readonly { readonly item: ItemNeed; readonly need: CutNeed }[]; readonly kitchen: Kitchen }) {
  const columns: readonly Column<{ readonly item: ItemNeed; readonly need: CutNeed }>[] = [
    { key: "cut", head: "Cut", cell: ({ need }) => <Link href={`/cuts/${encodeURIComponent(need.cutId)}`} prefetch={false}>{need.name}</Link> },
    { key: "ep", head: "Edible portion", label: "edible portion", figure: true, width: 8, fold: "phone", cell: ({ need }) => neededText(need.needed, need.kind, kitchen) },
    { key: "yield", head: "Yield reckoned with", label: "yield", fold: "narrow", cell: ({ need }) => yieldText(need, kitchen) },
    { key: "ap", head: "As purchased", label: "as purchased", figure: true, width: 8, cell: ({ need }) => (need.bought === null ? "not known" : neededText(need.bought.quantity, need.kind, kitchen)) },
    { key: "pieces", head: "Pieces", fold: "narrow", label: "", cell: ({ need }) => <>{piecesText(need, kitchen)}{need.comesWith !== null && <span className="quiet">{need.pieces !== null && "; "}comes off the pieces for {need.comesWith}</span>}</> },
  ];
  return <Table caption={`${rows.length} ${rows.length === 1 ? "cut" : "cuts"} to make`} columns={columns} rows={rows} rowKey={({ need }) => need.cutId} />;
}

function usersText({ users, cuts }: ItemNeed): string {
  return [...users, ...cuts.map(({ name }) => `cut as ${name}`)].join(", ");
}

function houseText(need: HouseNeed, kitchen: Kitchen): string {
  const short = ratio.sub(ratio.sub(need.needed, need.onHand), need.comesOut);
  return ratio.sign(short) <= 0 ? "covered" : `short by ${neededText(short, need.kind, kitchen)}`;
}
