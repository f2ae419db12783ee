/** One item: what it costs, tried at another price; its price over the year; other dealers; what is made of it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type Quote, costingQuote, factKey, factName, printPack, quoteRate, quotesOf } from "@/lib/book";
import { type PriceStep, priceSteps } from "@/lib/buying";
import { type CostOf, type NodeRef, borrowedBelow, dishesPerPrice, explain, usersOf } from "@/lib/cascade";
import { type Exact, type Ratio, customaryUnit, moneyFigure, oneOf, perUnit, printDay, printMoney, quantityText, ratio, toDecimal } from "@/lib/measure";
import { type Revision, basedOn } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { CHECK_THE_LABEL } from "@/components/allergen/words";
import { Figure, figureHref } from "@/components/figure/Figure";
import { UsedBy } from "@/components/figure/UsedBy";
import { ButtonLink } from "@/components/form";
import { BoughtFromForm, NewPriceForm } from "@/components/item/ItemForms";
import { heldUntil } from "@/components/item/held-until";
import { PriceChart } from "@/components/item/PriceChart";
import { askedFigure, askedText, basisText, contractEnd, moneyOf } from "@/components/item/quote-words";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { currencySign } from "../../change-flow/ripple-view";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { buyFrom, repriceItem, withdrawItem } from "../actions";
import { asKitchens, asQuotes } from "../revisions";

type Params = { readonly params: Promise<{ readonly item: string }> };

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: live.book.shelves.item.get(pathId((await params).item))?.name ?? "Item" };
}

export default async function ItemPage({ params }: Params) {
  const id = pathId((await params).item);
  const { store, kitchenId, live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const item = book.shelves.item.get(id);
  const opened = item && explain(cascade, { kind: "item", id });
  if (!item || !opened) notFound();
  const { cost } = opened;
  const quote = costingQuote(book, id);
  const others = quotesOf(book, id).filter((one) => one.id !== quote?.id);
  const revisions = quote === null ? [] : (await store.revisionsOf(kitchenId, "quote", quote.id)).filter((one) => one.replacedBy === null && one.fact !== null);
  const history = [...revisions].sort((a, b) => (a.validFrom === b.validFrom ? b.revision - a.revision : a.validFrom < b.validFrom ? 1 : -1)).slice(0, 60);
  const unit = customaryUnit(item.kind, kitchen);
  const at = encodeURIComponent(id);
  const dealerName = (one: Quote): string => book.shelves.dealer.get(one.dealerId)?.name ?? one.dealerId;
  const tests = [...book.shelves.test.values()].filter((test) => test.of.kind === "item" && test.of.id === id).sort((a, b) => (a.on < b.on ? 1 : -1));
  const steps = quote === null ? [] : priceSteps(asQuotes(revisions), quote.currency === null ? [] : asKitchens(await store.revisionsOf(kitchenId, "kitchen", kitchen.id)), live.today);
  const ahead = live.ahead.flatMap((one) => one.kind === "quote" && (one.after?.itemId ?? book.shelves.quote.get(one.id)?.itemId) === id ? [{ ...one, quote: one.after }] : []);
  const lands = quote !== null && (quote.currency !== null || quote.landed.length > 0);
  const [large, small] = opened.costOf;
  const users = usersOf(book, { kind: "item", id });
  const borrowed = (of: NodeRef) => borrowedBelow(book, of);
  const direct = new Set(users.map((user) => user.ref.id));
  const reached = [...dishesPerPrice(cascade, id).keys()].filter((dish) => !direct.has(dish))
    .map((dish) => ({ ref: { kind: "dish", id: dish } as const, name: book.shelves.dish.get(dish)?.name ?? dish })).sort((a, b) => (a.name < b.name ? -1 : 1));
  return (
    <>
      <PageTop title={item.name} trail={[{ name: "Items", href: "/items" }]}
        of={<>{item.transfer !== null ? "a by-product of the house" : quote === null ? "no price yet" : <>{dealerName(quote)} · {printPack(quote.pack, kitchen)}</>}{item.specification !== "" && <> · {item.specification}</>}</>}
        answer={cost.missing.length > 0 && item.transfer !== null ? <>What it is passed on at is not known yet: what rests on it is only known as “at least”.</>
          : cost.missing.some(({ what }) => what === "exchange-rate") && quote !== null ? <>{dealerName(quote)} asks {askedText(quote, kitchen)}, and nobody has said what one {quote.currency} is worth: what rests on it is only known as “at least”. <Link href="/house#exchange">Say it in the house rules</Link></>
          : cost.missing.length > 0 ? <>{others.length > 0 ? "The dealer it is bought from has no price for it" : "Nobody has recorded a price for it yet"}: what rests on it is only known as “at least”.</>
          : <>It costs {large !== undefined && <Figure of={{ figure: printMoney(large.amount, kitchen), unit: oneOf(unit) }} href={figureHref({ kind: "item", id })} strong />}{small !== undefined && <>, {smallText(small, kitchen)}</>}{revisions[0] !== undefined && <>, since {printDay(newestInForce(history, live.today)?.validFrom ?? "", kitchen)}</>}.</>}>
        <IfMay deed="change items and prices"><ButtonLink href={`/items/${at}/edit`} plain>Change the item</ButtonLink></IfMay>
        <IfMay deed="record a test"><ButtonLink href={`/tests/new?item=${at}`} plain>Record a test</ButtonLink></IfMay>
      </PageTop>

      {item.transfer !== null ? <p>It comes off in the house and is passed on at a transfer price. <Link href={`/by-products/${at}`}>Open it among the by-products</Link></p> : quote === null
        ? <p><IfMay deed="change items and prices"><ButtonLink href={`/items/${at}/edit#quote`}>Add a dealer’s price</ButtonLink></IfMay></p>
        : (
          <>
            <h2 className="visually-hidden">Try another price</h2>
            <NewPriceForm action={repriceItem} basedOn={basedOn(live, [{ kind: "quote", id: quote.id }])} hidden={{ quoteId: quote.id }} id="price"
              what={quote.per === "pack" ? `a ${printPack(quote.pack, kitchen)}` : oneOf(quote.per)} now={printMoney(toDecimal(quote.price.amount), moneyOf(quote, kitchen))} per={quote.per} currency={quote.currency} values={{ price: quote.price.typed ?? quote.price.amount }} />
            {lands && cost.missing.length === 0 && <p><Link href={`/dealers/${encodeURIComponent(quote.dealerId)}`}>{dealerName(quote)}</Link> asks {askedText(quote, kitchen)}. With {[quote.currency === null ? "" : "the exchange rate", ...quote.landed.map(({ name }) => name.toLowerCase())].filter(Boolean).join(", ")} it comes to {large !== undefined && <Figure of={{ figure: printMoney(large.amount, kitchen), unit: oneOf(unit) }} href={figureHref({ kind: "item", id })} />} at the door.</p>}
            {contractEnd(quote, live.today) !== null && <p><span className="near">{sentence(basisText(quote, kitchen, live.today))}</span>{contractEnd(quote, live.today) === "ended" ? ": its price stands until a new one is recorded." : "."}</p>}
            {ahead.length > 0 && <ul>{ahead.map((one) => <li key={one.revision}>{one.quote === null ? <>{one.name} ends by itself on {printDay(one.validFrom, kitchen)}.</> : <>A new price waits: {dealerName(one.quote)}, {askedText(one.quote, kitchen)}. It applies by itself from {printDay(one.validFrom, kitchen)}.</>}</li>)}</ul>}
          </>
        )}

      {history.length > 0 && quote !== null && (
        <>
          <h2>Its price since {printDay(history.at(-1)?.validFrom ?? "", kitchen)}</h2>
          {history.length > 2 && <PriceChart label={`Price of ${item.name} at ${dealerName(quote)}; the table below has every figure`} per={oneOf(unit)} points={pointsOf(steps, kitchen, unit, live.today)} />}
          <details open={history.length <= 6}>
            <summary>{history.length} {history.length === 1 ? "price" : "prices"} as a table</summary>
            <Table narrow quietCaption caption={`${history.length} prices of ${dealerName(quote)}, newest first`} rows={history} rowKey={(one) => String(one.revision)} columns={[
              { key: "from", head: "From", cell: (one) => <>{printDay(one.validFrom, kitchen)}{one.validFrom > live.today && <span className="quiet">, waits</span>}</> },
              { key: "price", head: `Price, ${currencySign(kitchen)}`, figure: true, width: 6, cell: (one) => <Figure of={askedFigure(one.fact as Quote, kitchen)} /> },
              { key: "by", head: "Recorded by", fold: "phone", label: "", cell: (one) => <span className="quiet">{one.by}</span> },
              { key: "fix", head: "", figure: true, width: 5, cell: (one) => <IfMay deed="change items and prices"><Link href={`/items/${at}/edit?correct=${one.revision}`} aria-label={`Correct the price from ${printDay(one.validFrom, kitchen)}`}>correct</Link></IfMay> },
            ]} />
          </details>
          <p style={{ marginTop: "var(--s3)" }}><IfMay deed="change items and prices"><Link href={`/items/${at}/edit?quote=${encodeURIComponent(quote.id)}`}>Change the pack, the code or the unit of {dealerName(quote)}’s price</Link> · </IfMay><Link href={`/items/${at}/prices`}>Every price of every dealer</Link></p>
        </>
      )}

      {item.transfer === null && <h2>Other dealers</h2>}
      {item.transfer !== null ? null : others.length === 0 ? <p className="quiet">No other dealer quotes it. <IfMay deed="change items and prices"><Link href={`/items/${at}/edit#quote`}>Add another dealer’s price</Link></IfMay></p> : (
        <>
          <Table narrow caption={`${others.length} other ${others.length === 1 ? "price" : "prices"} for it, restated ${oneOf(unit)}`} rows={others} rowKey={(one) => one.id} columns={[
            { key: "dealer", head: "Dealer", cell: (one) => <IfMay deed="change items and prices" otherwise={dealerName(one)}><Link href={`/items/${at}/edit?quote=${encodeURIComponent(one.id)}`} aria-label={`Change the price of ${dealerName(one)}`}>{dealerName(one)}</Link></IfMay> },
            { key: "pack", head: "Pack", fold: "phone", label: "", cell: (one) => <>{printPack(one.pack, kitchen)}{basisText(one, kitchen, live.today) !== "" && <span className="from">{basisText(one, kitchen, live.today)}</span>}</> },
            { key: "asked", head: "Asked", figure: true, fold: "phone", label: "asked", cell: (one) => <Figure of={askedFigure(one, kitchen)} /> },
            { key: "cost", head: `${currencySign(kitchen)} ${oneOf(unit)}`, figure: true, width: 6, cell: (one) => rateFigure(quoteRate(book, one), unit, kitchen) },
            { key: "since", head: "Since", fold: "phone", cell: (one) => { const from = book.provenance.get(factKey("quote", one.id))?.validFrom; return from === undefined ? "" : printDay(from, kitchen); } },
          ]} />
          <IfMay deed="change items and prices">
            <details id="dealer">
              <summary>Buy it from another dealer</summary>
              <p>It is costed at the price of the dealer it is bought from. The cheapest price is not always the cheapest usable pound: a test tells.</p>
              <BoughtFromForm action={buyFrom} basedOn={basedOn(live, [{ kind: "item", id }])} hidden={{ id }} id="from-dealer" values={{ dealerId: item.dealerId ?? "" }}
                dealers={quotesOf(book, id).map((one) => ({ value: one.dealerId, label: dealerName(one) }))} />
            </details>
          </IfMay>
          <p style={{ marginTop: "var(--s3)" }}><Link href={`/items/${at}/dealers`}>Compare the dealers by what is left of their goods</Link> <IfMay deed="change items and prices">· <Link href={`/items/${at}/edit#quote`}>Add another dealer’s price</Link></IfMay></p>
        </>
      )}

      <h2>Tests of it</h2>
      {tests.length === 0 ? <p className="quiet">No yield test has been made of it. <IfMay deed="record a test"><Link href={`/tests/new?item=${at}`}>Record a test</Link></IfMay></p>
        : <ul>{tests.slice(0, 8).map((test) => <li key={test.id}><Link href={`/tests/${encodeURIComponent(test.id)}`}>{printDay(test.on, kitchen)}</Link>, {quantityText(test.billed, kitchen)}{test.cutter !== "" && <>, cut by {test.cutter}</>}</li>)}</ul>}

      <h2>Where it goes</h2>
      <UsedBy users={users} nothing="Nothing is made of it yet." borrowed={borrowed} />
      {reached.length > 0 && <><p>Through these its price reaches {reached.length === 1 ? "one dish" : `${reached.length} dishes`}{direct.size > 0 && users.some((user) => user.ref.kind === "dish") ? " more" : ""}:</p><UsedBy users={reached} nothing="" borrowed={borrowed} /></>}
      {(item.density !== null || item.eachWeight !== null) && (
        <dl className="facts">
          {item.density !== null && <><dt>Density</dt><dd>{item.density.gramsPerMl} g in a mL <span className="quiet">{item.density.source}, {printDay(item.density.on, kitchen)}</span></dd></>}
          {item.eachWeight !== null && <><dt>One weighs</dt><dd>{quantityText(item.eachWeight.weight, kitchen)} <span className="quiet">{item.eachWeight.source}, {printDay(item.eachWeight.on, kitchen)}</span></dd></>}
        </dl>
      )}
      <h2 id="allergens">Allergens</h2>
      <dl className="facts">
        {item.allergens === null ? <><dt>Its label</dt><dd><strong>Nobody has looked yet.</strong> It may hold anything.</dd></> : (
          <>
            <dt>Contains</dt><dd>{item.allergens.contains.join(", ") || "none named on the label"}</dd>
            <dt>May contain traces of</dt><dd>{item.allergens.mayContain.join(", ") || "none named on the label"}</dd>
            <dt>Where it stands</dt><dd>{item.allergens.source} <span className="quiet">{printDay(item.allergens.on, kitchen)}</span></dd>
          </>
        )}
      </dl>
      <p className="quiet">{CHECK_THE_LABEL} <IfMay deed="change items and prices"><Link href={`/items/${at}/edit#allergens`}>Write down what the label says</Link></IfMay></p>
      <IfMay deed="change items and prices">
        <details>
          <summary>Take {factName(book, "item", id)} off the book</summary>
          <p>It stays in the record with its prices. It cannot be taken off while something is made of it.</p>
          <ChangeForm action={withdrawItem} basedOn={basedOn(live, [{ kind: "item", id }, ...quotesOf(book, id).map((one) => ({ kind: "quote", id: one.id }) as const)])} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
        </details>
      </IfMay>
    </>
  );
}

type Kitchen = Awaited<ReturnType<typeof openKitchen>>["kitchen"];

function newestInForce(history: readonly Revision[], today: string): Revision | undefined {
  return history.find((one) => one.validFrom <= today);
}

/** "$0.6781 an ounce", "€1.57 for 100 g". */
function smallText({ quantity, amount }: CostOf, kitchen: Kitchen): string {
  return quantity.amount === ONE ? `${printMoney(amount, kitchen, { places: 4 })} ${oneOf(quantity.unit)}` : `${printMoney(amount, kitchen)} for ${quantityText(quantity, kitchen)}`;
}

const ONE = "1" as Exact;

/** What a rate comes to per unit; a dash while the money it is asked in is not known. */
function rateFigure(rate: Ratio | null, unit: ReturnType<typeof customaryUnit>, kitchen: Kitchen): string {
  return rate === null ? "–" : moneyFigure(perUnit(ratio.toDecimal(rate), unit), kitchen);
}

/** Oldest first, at the door, restated per unit, for drawing; the price that holds today is drawn until today. */
function pointsOf(steps: readonly PriceStep[], kitchen: Kitchen, unit: ReturnType<typeof customaryUnit>, today: string) {
  const told = steps.slice(-60).flatMap(({ door, from }) => {
    if (door === null) return [];
    const cost = perUnit(ratio.toDecimal(door), unit);
    return [{ on: from, day: shortDay(from, kitchen), height: cost.toDecimalPlaces(4).toNumber(), price: `${printMoney(cost, kitchen)} ${oneOf(unit)}` }];
  });
  return heldUntil(today, shortDay(today, kitchen), told);
}

function sentence(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function shortDay(day: string, kitchen: Kitchen): string {
  return printDay(day, kitchen).split(" ").slice(1, 3).join(" ");
}
