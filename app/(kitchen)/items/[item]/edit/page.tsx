/** An item changed; another dealer's quote added; a wrong price corrected (?correct=revision). */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Quote, printPack, quotesOf } from "@/lib/book";
import { customaryUnit, printDay } from "@/lib/measure";
import { basedOn, newId } from "@/lib/store";
import { EditItemForm, QuoteForm } from "@/components/item/ItemForms";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { dealerChoices, quantityInput } from "../../../tests/sheet-props";
import { editItem, saveQuote } from "../../actions";

export const metadata: Metadata = { title: "Change an item" };

export default async function EditItem({ params, searchParams }: {
  readonly params: Promise<{ readonly item: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}) {
  const id = pathId((await params).item);
  const asked = (await searchParams)["correct"];
  const { store, kitchenId, live, kitchen } = await openKitchen();
  const { book } = live;
  const item = book.shelves.item.get(id);
  if (item === undefined) notFound();
  const quotes = quotesOf(book, id);
  const dealers = dealerChoices(book);
  const quoting = new Set(quotes.map((quote) => quote.dealerId));
  const revisions = typeof asked === "string" ? (await Promise.all(quotes.map((quote) => store.revisionsOf(kitchenId, "quote", quote.id)))).flat() : [];
  const wrong = revisions.find((one) => String(one.revision) === asked && one.fact !== null && one.replacedBy === null);
  const fact = wrong?.fact as Quote | undefined;
  const newQuote = newId("quote");
  const unit = customaryUnit(item.kind, kitchen);
  return (
    <>
      <PageTop title={`Change ${item.name}`} trail={[{ name: "Items", href: "/items" }, { name: item.name, href: `/items/${encodeURIComponent(id)}` }]}
        answer="What it is, whom it is bought from, how its weight, volume and count meet." />
      <EditItemForm action={editItem} basedOn={basedOn(live, [{ kind: "item", id }])} hidden={{ id }} id="item"
        dealers={dealers.filter((dealer) => quoting.has(dealer.value) || dealer.value === item.dealerId)}
        values={{
          name: item.name, section: item.section, specification: item.specification, kind: item.kind, dealerId: item.dealerId ?? "",
          "density.gramsPerMl": item.density?.gramsPerMl ?? "", "density.source": item.density?.source ?? "",
          "eachWeight.weight": item.eachWeight === null ? "" : quantityInput(item.eachWeight.weight), "eachWeight.source": item.eachWeight?.source ?? "",
        }} />
      <section id="quote">
        {wrong !== undefined && fact !== undefined
          ? (
            <>
              <h2>Correct the price from {printDay(wrong.validFrom, kitchen)}</h2>
              <p className="quiet">What was recorded stays on file; the corrected price counts in its place from the same day.</p>
              <QuoteForm action={saveQuote} basedOn={basedOn(live, [{ kind: "quote", id: fact.id }])} hidden={{ itemId: id, quoteId: fact.id, replaces: String(wrong.revision), validFrom: wrong.validFrom }} id="quote-form" recordLabel="Record the correction" dealers={dealers} unit={unit}
                values={{ "quote.dealerId": fact.dealerId, "quote.pack": printPack(fact.pack, kitchen), "quote.catchWeight": fact.pack.catchWeight ? "yes" : "", "quote.price": fact.price.typed ?? fact.price.amount, "quote.per": fact.per, "quote.basis": fact.basis, "quote.code": fact.code }} />
            </>
          )
          : (
            <>
              <h2>Another dealer’s price</h2>
              <QuoteForm action={saveQuote} basedOn={basedOn(live, [{ kind: "quote", id: newQuote }])} hidden={{ itemId: id, quoteId: newQuote, newDealerId: newId("dealer") }} id="quote-form" recordLabel="Record this price" dealers={dealers.filter((dealer) => !quoting.has(dealer.value))} unit={unit} values={{}} />
            </>
          )}
      </section>
    </>
  );
}
