/** One delivery: each line as billed and as received, its price against the quote of that day, and what follows from it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { deliveryTotal, factKey } from "@/lib/book";
import { type JudgedDelivered, billedPack, packOff, shortClaims, toCent } from "@/lib/buying";
import { type Ratio, customaryUnit, moneyFigure, perUnit, printDay, printNumber, printShare, quantityText, ratio } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { RECEIVING_CARE } from "@/components/delivery/words";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { currencySign } from "../../change-flow/ripple-view";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { withdrawDelivery } from "../actions";
import { judgedDelivery } from "../judged";
import { againstWords, findings, moneyWords, paperName, perText, priceText } from "../words";

type Params = { readonly params: Promise<{ readonly delivery: string }> };

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  const delivery = live.book.shelves.delivery.get(pathId((await params).delivery));
  return { title: delivery === undefined ? "Delivery" : paperName(delivery) };
}

export default async function DeliveryPage({ params }: Params) {
  const id = pathId((await params).delivery);
  const open = await openKitchen("see money");
  const { live, kitchen } = open;
  const { book } = live;
  const delivery = book.shelves.delivery.get(id);
  if (delivery === undefined) notFound();
  const { lines } = await judgedDelivery(delivery, open);
  const dealer = book.shelves.dealer.get(delivery.dealerId)?.name ?? delivery.dealerId;
  const found = findings(lines);
  const claims = shortClaims(delivery, kitchen);
  const dearer = lines.reduce((sum, { price }) => (price.kind === "dearer" ? ratio.add(sum, toCent(price.over, kitchen.currency)) : sum), ratio.ZERO);
  const at = encodeURIComponent(id);
  const currency = currencySign(kitchen);
  const known = book.provenance.get(factKey("delivery", id));
  const credit = delivery.kind === "credit";
  const packs = lines.flatMap(({ line, quoted, itemName }, index) => {
    if (quoted === null || !quoted.quote.pack.catchWeight || lines.findIndex((other) => other.line.itemId === line.itemId) !== index) return [];
    const billed = billedPack(book.shelves.delivery.values(), line.itemId, delivery.dealerId);
    const off = billed === null ? null : packOff(quoted.quote, billed);
    return billed === null || off === null ? [] : [{ key: line.key, itemName, quote: quoted.quote, billed, off }];
  });
  return (
    <>
      <PageTop title={paperName(delivery)} trail={[{ name: "Dealers", href: "/dealers" }, { name: "Deliveries", href: "/deliveries" }]}
        of={<><Link href={`/dealers/${encodeURIComponent(delivery.dealerId)}`}>{dealer}</Link> · {printDay(delivery.on, kitchen)}{known !== undefined && <> · recorded by {known.by}</>}</>}
        answer={credit ? <>It takes {moneyWords(deliveryTotal(delivery), kitchen)} back.</> : <>{answer(found, claims.claimed, dearer, (amount) => moneyWords(amount, kitchen))} The paper comes to {moneyWords(deliveryTotal(delivery), kitchen)}.</>}>
        <IfMay deed="record deliveries"><ButtonLink href={`/deliveries/${at}/edit`} plain>Correct it</ButtonLink></IfMay>
        {!credit && (found.short > 0 || found.dearer > 0 || found.off > 0) && <ButtonLink href={`/deliveries/claims/${encodeURIComponent(delivery.dealerId)}?delivery=${at}`} plain>The claim as a letter</ButtonLink>}
      </PageTop>

      <Table caption={`${lines.length} ${lines.length === 1 ? "line" : "lines"}, as ${credit ? "credited" : "billed"}`} rows={lines} rowKey={({ line }) => line.key} columns={[
        { key: "item", head: "Item", cell: ({ line, itemName }) => <><Link href={`/items/${encodeURIComponent(line.itemId)}`}>{itemName}</Link>{lotWords(line, kitchen)}</> },
        { key: "billed", head: credit ? "Credited" : "Billed", figure: true, width: 7, cell: ({ line }) => <>{quantityText(line.billed, kitchen)}{line.packs !== null && <span className="from">{packsText(ratio.fromExact(line.packs), kitchen)}</span>}</> },
        { key: "received", head: "Received", fold: "phone", figure: true, label: "received", cell: ({ line, short, more }) => (line.received === null ? <span className="quiet">not weighed</span> : <>{quantityText(line.received, kitchen)}{short !== null && <span className="from"><strong className="over">{quantityText(short.quantity, kitchen)} short</strong></span>}{more !== null && <span className="from"><span className="near">{quantityText(more, kitchen)} more</span></span>}</>) },
        { key: "price", head: "Price", fold: "phone", figure: true, label: "", cell: ({ line, price }) => <>{priceText(ratio.fromExact(line.price.amount), kitchen)} {perText(line.per)}{!credit && <span className="from"><span className={price.kind === "dearer" ? "near" : undefined}>{againstWords(price, kitchen)}</span></span>}</> },
        { key: "total", head: `Comes to, ${currency}`, figure: true, width: 6, cell: ({ line, value, totalOff }) => <>{moneyFigure(ratio.toDecimal(line.amount === null ? toCent(value, kitchen.currency) : ratio.fromExact(line.amount.amount)), kitchen)}{totalOff !== null && <span className="from"><span className="over">price × quantity is {moneyFigure(ratio.toDecimal(toCent(value, kitchen.currency)), kitchen)}</span></span>}</> },
      ]} />
      {delivery.note !== "" && <p>{delivery.note}</p>}

      {found.short > 0 && (
        <>
          <h2>Short weight</h2>
          <ul>{lines.flatMap(({ line, short, itemName }) => (short === null ? [] : [<li key={line.key}><strong>{itemName}.</strong> {short.sentence}</li>]))}</ul>
        </>
      )}
      {packs.length > 0 && (
        <>
          <h2>What a piece weighs</h2>
          <Table narrow caption={`Catch weight of ${dealer}, as reckoned and as billed on average`} rows={packs} rowKey={({ key }) => key} columns={[
            { key: "item", head: "Item", cell: ({ itemName }) => itemName },
            { key: "estimate", head: "Reckoned", figure: true, width: 6, cell: ({ quote }) => quantityText(quote.pack.size, kitchen) },
            { key: "average", head: "Billed", figure: true, width: 6, cell: ({ billed }) => inCustomary(billed.average, kitchen) },
            { key: "off", head: "Off by", figure: true, fold: "phone", label: "off by", cell: ({ off }) => (ratio.sign(off) === 0 ? "nothing" : `${printShare(ratio.toDecimal(off), kitchen)} %`) },
            { key: "of", head: "Of", fold: "phone", label: "", cell: ({ billed }) => <span className="quiet">{packsText(billed.packs, kitchen)} in {billed.deliveries} {billed.deliveries === 1 ? "delivery" : "deliveries"}</span> },
          ]} />
          <p className="quiet">A pack of catch weight is only an estimate until it is weighed. Orders are reckoned with the estimate: where it is off, change the pack on the item’s page.</p>
        </>
      )}
      <p className="quiet">{RECEIVING_CARE}</p>
      <IfMay deed="record deliveries">
        <details>
          <summary>Take this delivery off the book</summary>
          <p>It was entered by mistake. Prices that were taken over from it stay; the record keeps all of it.</p>
          <ChangeForm action={withdrawDelivery} basedOn={basedOn(live, [{ kind: "delivery", id }])} hidden={{ id }} recordLabel="Take it off" tryLabel="See what that does" dated={false} id="withdraw">{null}</ChangeForm>
        </details>
      </IfMay>
    </>
  );
}

function answer({ short, dearer, off }: ReturnType<typeof findings>, claimed: Ratio, over: Ratio, money: (amount: Ratio) => string): string {
  const said = [
    short === 0 ? "" : `${short === 1 ? "One line came" : `${short} lines came`} short: ${money(claimed)} to be claimed of the dealer, which is not yield.`,
    dearer === 0 ? "" : `${dearer === 1 ? "One line is" : `${dearer} lines are`} dearer than quoted, ${money(over)} in all.`,
    off === 0 ? "" : `${off === 1 ? "One total is" : `${off} totals are`} not price times quantity.`,
  ].filter(Boolean);
  return said.length === 0 ? "Nothing to claim: what was weighed came, prices and totals hold." : said.join(" ");
}

function lotWords({ lot, useBy, note }: JudgedDelivered["line"], kitchen: Parameters<typeof printDay>[1]) {
  const words = [lot === "" ? "" : `lot ${lot}`, useBy === null ? "" : `use by ${printDay(useBy, kitchen)}`, note].filter(Boolean).join(" · ");
  return words === "" ? null : <span className="from">{words}</span>;
}

function packsText(packs: Ratio, kitchen: Parameters<typeof printNumber>[1]): string {
  return `${printNumber(ratio.toDecimal(packs), kitchen)} ${ratio.compare(packs, ratio.ONE) === 0 ? "pack" : "packs"}`;
}

function inCustomary(base: Ratio, kitchen: Parameters<typeof quantityText>[1] & { readonly measures: "us" | "metric" }): string {
  const unit = customaryUnit("mass", kitchen);
  const one = perUnit(ratio.toDecimal(ratio.ONE), unit);
  return `${printNumber(ratio.toDecimal(base).div(one), kitchen, { places: 2 })} ${unit}`;
}

