/** An item from each dealer that quotes it: what is asked, what a usable pound of a cut costs, what the plate comes to, and whether the tests can tell. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type DealerCompared, compareDealers, leftText } from "@/lib/buying";
import { cutKind, printPack, quotesOf } from "@/lib/book";
import { UNITS, customaryUnit, moneyFigure, perUnit, printDay, printNumber, printShare, ratio } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { CompareForm } from "@/components/compare-dealers/CompareForm";
import { ButtonLink } from "@/components/form";
import { MissingWords } from "@/components/figure/Missing";
import { Term } from "@/components/glossary/Term";
import { BoughtFromForm } from "@/components/item/ItemForms";
import { IfMay } from "@/components/kitchen/IfMay";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign } from "../../../change-flow/ripple-view";
import type { Asked } from "../../../find";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { buyFrom } from "../../actions";
import { askedThing } from "./asked";
import { dealersSentence, lostText, marksOf, perText, toldSentence, yieldWords } from "./view";

interface Props {
  readonly params: Promise<{ readonly item: string }>;
  readonly searchParams: Promise<Asked>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: `${live.book.shelves.item.get(pathId((await params).item))?.name ?? "Item"}: dealers compared` };
}

export default async function DealersPage({ params, searchParams }: Props) {
  const id = pathId((await params).item);
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const item = book.shelves.item.get(id);
  if (item === undefined) notFound();
  const page = `/items/${encodeURIComponent(id)}`;
  const thing = askedThing(book, id, await searchParams);
  const { cut, spec, dish } = thing;
  const quotes = quotesOf(book, id);
  const trail = [{ name: "Items", href: "/items" }, { name: item.name, href: page }];
  const title = `${item.name}: dealers compared`;
  if (item.transfer !== null) {
    return (
      <>
        <PageTop title={title} trail={trail} />
        <EmptyPage what="It is a by-product of the house, with a transfer price: no dealer is asked for it."><ButtonLink href={page} plain>Back to it</ButtonLink></EmptyPage>
      </>
    );
  }
  if (cut === null || quotes.length === 0) {
    return (
      <>
        <PageTop title={title} trail={trail} />
        <EmptyPage what={quotes.length === 0 ? "Nobody quotes it yet: add a dealer’s price first." : "No cut is made of it yet, so a usable pound costs what a pound costs. Record a test of it and adopt it for a cut: then dealers can be compared by what is left of what they bring."}>
          {quotes.length === 0 ? <IfMay deed="change items and prices"><ButtonLink href={`${page}/edit#quote`}>Add a dealer’s price</ButtonLink></IfMay> : <IfMay deed="record a test"><ButtonLink href={`/tests/new?item=${encodeURIComponent(id)}`}>Record a test</ButtonLink></IfMay>}
        </EmptyPage>
      </>
    );
  }
  const side = compareDealers(cascade, { itemId: id, cutId: cut.id, specId: spec?.id ?? null, dishId: dish?.id ?? null });
  const units = { item: customaryUnit(item.kind, kitchen), cut: customaryUnit(cutKind(book, cut.id) ?? "mass", kitchen) };
  const sign = currencySign(kitchen);
  const money = (perBase: DealerCompared["cost"], unit = units.item): string => (perBase === null ? "not known" : moneyFigure(perUnit(ratio.toDecimal(perBase), unit), kitchen));
  const plain = (amount: DealerCompared["cost"]): string => (amount === null ? "not known" : moneyFigure(ratio.toDecimal(amount), kitchen));
  const onTop = side.dealers.some(({ quote }) => quote.landed.length > 0 || quote.currency !== null);
  const columns: readonly Column<DealerCompared>[] = [
    { key: "dealer", head: "Dealer", cell: (one) => <>{one.name}{marksOf(one, side).length > 0 && <> <span className="quiet small">{marksOf(one, side).join(", ")}</span></>}</> },
    { key: "asked", head: `Asked, ${sign} / ${UNITS[units.item].one}`, label: "asked", figure: true, width: 6, fold: "phone", cell: (one) => money(one.asked) },
    ...(onTop ? [{ key: "door", head: <><Term of="price at the door">At the door</Term>, {sign} / {UNITS[units.item].one}</>, label: "at the door", figure: true, width: 6, fold: "narrow", cell: (one) => money(one.door) } satisfies Column<DealerCompared>] : []),
    { key: "yield", head: "Yield", fold: "narrow", label: "yield", cell: (one) => yieldWords(one, kitchen) },
    { key: "usable", head: `Usable, ${sign} / ${UNITS[units.cut].one}`, label: "usable", figure: true, width: 7, cell: (one) => (one.cost === null ? "not known" : <strong>{money(one.cost, units.cut)}</strong>) },
    ...(spec === null ? [] : [{ key: "portion", head: `A portion, ${sign}`, label: "a portion", figure: true, width: 6, fold: "phone", cell: (one) => plain(one.portion) } satisfies Column<DealerCompared>]),
    ...(dish === null ? [] : [
      { key: "plate", head: `The plate, ${sign}`, label: "the plate", figure: true, width: 6, fold: "phone", cell: (one) => plain(one.plate) } satisfies Column<DealerCompared>,
      { key: "food", head: "Food cost, %", label: "food cost", figure: true, width: 5, fold: "phone", cell: (one) => (one.foodCost === null ? "" : printShare(one.foodCost, kitchen)) } satisfies Column<DealerCompared>,
    ]),
  ];
  const tested = side.dealers.filter(({ tests }) => tests.length > 0);
  const level = side.dealers.filter(({ levelAt, door }) => levelAt !== null && door !== null);
  const missing = side.dealers.flatMap((one) => one.missing.map((lack) => ({ one, lack })));
  const chosen = side.dealers.find(({ dealerId }) => dealerId === thing.buy)?.dealerId ?? side.cheapestUsable ?? item.dealerId ?? "";
  return (
    <>
      <PageTop title={title} trail={trail} of={`${side.dealers.length} ${side.dealers.length === 1 ? "dealer" : "dealers"} · as ${cut.name}${spec === null ? "" : `, ${spec.name}`}${dish === null ? "" : `, on ${dish.name}`} · as of ${printDay(live.today, kitchen)}`}
        answer={dealersSentence(side, units, kitchen)} />
      {(thing.cuts.length > 1 || thing.specs.length > 0 || thing.dishes.length > 0) && (
        <CompareForm action={`${page}/dealers`} cuts={thing.cuts.map((one) => ({ value: one.id, label: one.name }))} portions={thing.specs.map((one) => ({ value: one.id, label: one.name }))} dishes={thing.dishes.map((one) => ({ value: one.id, label: one.name }))}
          values={{ cut: cut.id, portion: spec?.id ?? "none", dish: dish?.id ?? "none" }} />
      )}
      <Table caption={`${side.dealers.length} ${side.dealers.length === 1 ? "dealer" : "dealers"}, the cheapest as used first; by-products at what they are worth here today, whoever’s meat they come off`} columns={columns} rows={side.dealers} rowKey={({ dealerId }) => dealerId} />
      {missing.length > 0 && <ul>{missing.map(({ one, lack }) => <li key={`${one.dealerId} ${lack.what} ${lack.of.id}`}>{one.name}: <MissingWords missing={[lack]} />.</li>)}</ul>}
      {side.dealers.length === 1 && <p>Only one dealer quotes it, so there is nobody to compare with. <IfMay deed="change items and prices"><Link href={`${page}/edit#quote`}>Add another dealer’s price</Link></IfMay></p>}

      {side.told.length > 0 && (
        <>
          <h2>Can the tests tell?</h2>
          <ul>{side.told.map((one) => <li key={one.other}>{toldSentence(one, side.dealers, units.cut, kitchen)}</li>)}</ul>
          <p className="quiet">Only what the tests differ by is in this: another cutter, season or grade on one side proves nothing about the dealer. {tested.length > 0 && <Link href={`/cuts/${encodeURIComponent(cut.id)}/tests`}>The tests of {cut.name}</Link>}</p>
        </>
      )}

      {tested.length > 0 && (
        <>
          <h2>What their goods leave on the block</h2>
          <Table caption="Shares of what was billed, over each dealer’s own tests" rows={tested} rowKey={({ dealerId }) => dealerId} columns={[
            { key: "dealer", head: "Dealer", cell: ({ name, tests }) => <>{name} <span className="quiet small">{tests.length === 1 ? "one test" : `${tests.length} tests`}</span></> },
            { key: "piece", head: "A piece, billed", label: "a piece, billed", figure: true, width: 7, fold: "phone", cell: ({ piece }) => (piece === null ? "" : leftText(piece, cutKind(book, cut.id) ?? "mass", kitchen)) },
            { key: "purge", head: "Purge", label: "purge", figure: true, fold: "phone", cell: ({ lost }) => lostText(lost?.purge ?? null, kitchen) },
            { key: "glaze", head: "Glaze", label: "glaze", figure: true, fold: "narrow", cell: ({ lost }) => lostText(lost?.glaze ?? null, kitchen) },
            { key: "by", head: "By-products", label: "by-products", figure: true, fold: "phone", cell: ({ lost }) => lostText(lost?.byProducts ?? null, kitchen) },
            { key: "discard", head: "Thrown", label: "thrown", figure: true, fold: "phone", cell: ({ lost }) => lostText(lost?.discard ?? null, kitchen) },
            { key: "loss", head: "Loss", label: "loss", figure: true, fold: "narrow", cell: ({ lost }) => lostText(lost?.loss ?? null, kitchen) },
            ...(tested.some(({ portionsAPiece }) => portionsAPiece !== null) ? [{ key: "count", head: "Portions a piece", label: "portions a piece", figure: true, fold: "narrow", cell: ({ portionsAPiece }: DealerCompared) => (portionsAPiece === null ? "" : printNumber(ratio.toDecimal(portionsAPiece), kitchen, { places: portionsAPiece.d === 1n ? 0 : 1 })) } satisfies Column<DealerCompared>] : []),
            { key: "usable", head: "Usable", figure: true, width: 5, cell: (one) => (one.yield === null ? "" : `${printShare(ratio.toDecimal(one.yield), kitchen)} %`) },
          ]} />
        </>
      )}
      {side.dealers.some(({ shortAtDoor }) => shortAtDoor !== null) && (
        <ul>{side.dealers.filter(({ shortAtDoor }) => shortAtDoor !== null).map((one) => <li key={one.dealerId}>{one.name}: {one.shortAtDoor !== null && ratio.sign(one.shortAtDoor) > 0 ? `${lostText(one.shortAtDoor, kitchen)} of what was billed did not arrive, over the deliveries that were weighed. That is short weight: a claim on the dealer, and not in the yield.` : "what was weighed at the door was all there."}</li>)}</ul>
      )}

      {level.length > 0 && (
        <>
          <h2>What the others would have to ask</h2>
          <ul>{level.map((one) => <li key={one.dealerId}>{one.name} would be level with the cheapest at {perText(ratio.toDecimal(one.levelAt ?? ratio.ZERO), units.item, kitchen)} at the door, in place of {perText(ratio.toDecimal(one.door ?? ratio.ZERO), units.item, kitchen)}.</li>)}</ul>
        </>
      )}

      <h2>The packs</h2>
      <ul>{side.dealers.map(({ dealerId, name, quote }) => <li key={dealerId}>{name}: {printPack(quote.pack, kitchen)}{quote.per === "pack" ? ", priced by the pack" : `, priced per ${UNITS[quote.per].one}`}{quote.basis === "contract" && quote.until !== null && `, by contract until ${printDay(quote.until, kitchen)}`}</li>)}</ul>

      {side.dealers.length > 1 && (
        <IfMay deed="change items and prices">
          <section id="buy" aria-labelledby="buy-from">
            <h2 id="buy-from">Buy from one of them</h2>
            <p>Try it first: below stands what it does to every dish. The cut stays on the tests it stands on; adopt the new dealer’s tests for it where they differ.</p>
            <BoughtFromForm action={buyFrom} basedOn={basedOn(live, [{ kind: "item", id }])} hidden={{ id }} id="buy-from-dealer" values={{ dealerId: chosen }} dealers={side.dealers.map((one) => ({ value: one.dealerId, label: one.name }))} />
          </section>
        </IfMay>
      )}
    </>
  );
}
