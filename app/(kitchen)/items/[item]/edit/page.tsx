/**
 * An item changed and another dealer's quote added; with ?quote=… what a dealer asks changed, with ?correct=… (a
 * revision) a price that was recorded wrongly put right.
 */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { ALLERGENS, type Item, type Quote, printPack, quotesOf } from "@/lib/book";
import { printDay, shareText } from "@/lib/measure";
import { basedOn, newId } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { EditItemForm, QuoteForm } from "@/components/item/ItemForms";
import type { Values } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { dealerChoices, quantityInput } from "../../../tests/sheet-props";
import { editItem, saveQuote, withdrawQuote } from "../../actions";
import { quoteCurrencies, quoteUnits } from "../../quote-units";

export const metadata: Metadata = { title: "Change an item" };

interface Props {
  readonly params: Promise<{ readonly item: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}

export default async function EditItem({ params, searchParams }: Props) {
  const id = pathId((await params).item);
  const asked = await searchParams;
  const { live } = await openKitchen("change items and prices");
  const item = live.book.shelves.item.get(id);
  if (item === undefined) notFound();
  if (typeof asked["correct"] === "string") return <CorrectQuote item={item} revision={asked["correct"]} />;
  if (typeof asked["quote"] === "string") return <ChangeQuote item={item} quoteId={asked["quote"]} />;
  return <ChangeItem item={item} />;
}

async function ChangeItem({ item }: { readonly item: Item }) {
  const { live, kitchen } = await openKitchen("change items and prices");
  const { book } = live;
  const dealers = dealerChoices(book);
  const quoting = new Set(quotesOf(book, item.id).map((quote) => quote.dealerId));
  const newQuote = newId("quote");
  return (
    <>
      <PageTop title={`Change ${item.name}`} trail={trailOf(item)} answer="What it is, whom it is bought from, how its weight, volume and count meet, what its label says." />
      <EditItemForm action={editItem} basedOn={basedOn(live, [{ kind: "item", id: item.id }])} hidden={{ id: item.id }} id="item" bought={item.transfer === null}
        dealers={dealers.filter((dealer) => quoting.has(dealer.value) || dealer.value === item.dealerId)}
        values={{
          name: item.name, section: item.section, specification: item.specification, kind: item.kind, dealerId: item.dealerId ?? "",
          "density.gramsPerMl": item.density?.gramsPerMl ?? "", "density.source": item.density?.source ?? "",
          "eachWeight.weight": item.eachWeight === null ? "" : quantityInput(item.eachWeight.weight), "eachWeight.source": item.eachWeight?.source ?? "",
          ...labelValues(item),
        }} />
      {item.transfer !== null ? <p>It is not bought: <Link href={`/by-products/${encodeURIComponent(item.id)}`}>how it is passed on</Link> stands among the by-products.</p> : (
        <section id="quote">
          <h2>{quoting.size === 0 ? "A dealer’s price" : "Another dealer’s price"}</h2>
          <QuoteForm action={saveQuote} basedOn={basedOn(live, [{ kind: "quote", id: newQuote }])} hidden={{ itemId: item.id, quoteId: newQuote, newDealerId: newId("dealer") }} id="quote-form" recordLabel="Record this price"
            dealers={dealers.filter((dealer) => !quoting.has(dealer.value))} units={quoteUnits(item.kind, kitchen)} currencies={quoteCurrencies(kitchen)} values={{}} />
        </section>
      )}
    </>
  );
}

async function ChangeQuote({ item, quoteId }: { readonly item: Item; readonly quoteId: string }) {
  const { live, kitchen } = await openKitchen("change items and prices");
  const quote = live.book.shelves.quote.get(quoteId);
  if (quote === undefined || quote.itemId !== item.id) notFound();
  const dealer = live.book.shelves.dealer.get(quote.dealerId);
  const standing = basedOn(live, [{ kind: "quote", id: quote.id }]);
  return (
    <>
      <PageTop title={`${item.name}: what ${dealer?.name ?? "its dealer"} asks`} trail={trailOf(item)} answer="A new price, another pack or another order code, from the day it applies. What was asked before stays in the record." />
      <section id="quote">
        <QuoteForm action={saveQuote} basedOn={standing} hidden={{ itemId: item.id, quoteId: quote.id }} id="quote-form" recordLabel="Record this price"
          dealers={dealerChoices(live.book).filter((choice) => choice.value === quote.dealerId)} newDealer={false} units={quoteUnits(item.kind, kitchen, quote.per)} currencies={quoteCurrencies(kitchen, quote.currency)} values={quoteValues(quote, kitchen)} landed={landedRows(quote, kitchen)} />
      </section>
      <details>
        <summary>{dealer?.name ?? "This dealer"} does not offer it any more</summary>
        <p>Its prices stay in the record.</p>
        <ChangeForm action={withdrawQuote} basedOn={standing} hidden={{ itemId: item.id, quoteId: quote.id }} recordLabel="Take the price off" id="withdraw"><></></ChangeForm>
      </details>
    </>
  );
}

async function CorrectQuote({ item, revision }: { readonly item: Item; readonly revision: string }) {
  const { store, kitchenId, live, kitchen } = await openKitchen("change items and prices");
  const revisions = (await Promise.all(quotesOf(live.book, item.id).map((quote) => store.revisionsOf(kitchenId, "quote", quote.id)))).flat();
  const wrong = revisions.find((one) => String(one.revision) === revision && one.fact !== null);
  if (wrong === undefined) notFound();
  const quote = wrong.fact as Quote;
  const by = revisions.find((one) => one.revision === wrong.replacedBy);
  return (
    <>
      <PageTop title={`${item.name}: correct the price from ${printDay(wrong.validFrom, kitchen)}`} trail={trailOf(item)}
        answer={by === undefined ? "What was recorded stays on file; the corrected price counts in its place from the same day." : `${by.by} has corrected this price already. Open the item again to see what counts now.`} />
      {by === undefined && (
        <section id="quote">
          <QuoteForm action={saveQuote} basedOn={basedOn(live, [{ kind: "quote", id: quote.id }])} hidden={{ itemId: item.id, quoteId: quote.id, replaces: revision, validFrom: wrong.validFrom }} id="quote-form" recordLabel="Record the correction" dated={false}
            dealers={dealerChoices(live.book).filter((choice) => choice.value === quote.dealerId)} newDealer={false} units={quoteUnits(item.kind, kitchen, quote.per)} currencies={quoteCurrencies(kitchen, quote.currency)} values={quoteValues(quote, kitchen)} landed={landedRows(quote, kitchen)} />
        </section>
      )}
    </>
  );
}

function labelValues({ allergens }: Item): Values {
  if (allergens === null) return { label: "unknown" };
  const { contains, mayContain, source } = allergens;
  return {
    label: contains.length + mayContain.length === 0 ? "none" : "named", "allergens.source": source,
    ...Object.fromEntries(ALLERGENS.map((one) => [`allergen.${one.replace(" ", "-")}`, contains.includes(one) ? "contains" : mayContain.includes(one) ? "may" : ""])),
  };
}

function quoteValues(quote: Quote, kitchen: Parameters<typeof printPack>[1]): Values {
  return {
    "quote.dealerId": quote.dealerId, "quote.pack": printPack({ ...quote.pack, catchWeight: false }, kitchen), "quote.catchWeight": quote.pack.catchWeight ? "yes" : "",
    "quote.price": quote.price.typed ?? quote.price.amount, "quote.per": quote.per, "quote.basis": quote.basis, "quote.code": quote.code,
    "quote.currency": quote.currency ?? "", "quote.until": quote.until ?? "", "quote.gtin": quote.gtin,
  };
}

function landedRows(quote: Quote, kitchen: Parameters<typeof printPack>[1]): readonly Values[] {
  return quote.landed.map(({ key, name, way, of }) => ({
    key, name, way, per: of.kind === "share" ? "share" : of.per, amount: of.kind === "share" ? shareText(of.share, kitchen) : of.amount.typed ?? of.amount.amount,
  }));
}

function trailOf(item: Item) {
  return [{ name: "Items", href: "/items" }, { name: item.name, href: `/items/${encodeURIComponent(item.id)}` }];
}
