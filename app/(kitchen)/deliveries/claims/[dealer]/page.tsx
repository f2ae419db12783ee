/** What is claimed of one dealer, as a letter: one delivery of it, or all that stand open. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Delivery, deliveryTotal } from "@/lib/book";
import { toCent } from "@/lib/buying";
import { type Ratio, moneyFigure, printDay, quantityText, ratio } from "@/lib/measure";
import { ClaimLetter, type ClaimLine } from "@/components/delivery/ClaimLetter";
import { PrintBar } from "@/components/paper/PrintBar";
import { type PaperSize, paperSize } from "@/components/paper/paper-size";
import { PageTop } from "@/components/sheet/PageTop";
import { currencySign } from "../../../change-flow/ripple-view";
import { type OpenKitchen, openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { type JudgedDelivery, type QuotesAsked, judgedDelivery } from "../../judged";
import { paperName, perText, priceText } from "../../words";

export const metadata: Metadata = { title: "Claim on a dealer" };

/** Papers looked through, the newest first: a claim a year old is settled or lost. */
const MOST_PAPERS = 120;

interface Claimed extends ClaimLine {
  readonly money: Ratio;
}

export default async function ClaimPage({ params, searchParams }: { readonly params: Promise<{ readonly dealer: string }>; readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const dealerId = pathId((await params).dealer);
  const asked = await searchParams;
  const open = await openKitchen("see money");
  const { live, kitchen, visitor } = open;
  const dealer = live.book.shelves.dealer.get(dealerId);
  const only = typeof asked["delivery"] === "string" ? asked["delivery"] : null;
  if (dealer === undefined) notFound();
  const papers = [...live.book.shelves.delivery.values()].filter((delivery) => delivery.dealerId === dealerId && (only === null || delivery.id === only)).toSorted((a, b) => (a.on < b.on ? 1 : -1)).slice(0, MOST_PAPERS).reverse();
  const quotesAsked: QuotesAsked = new Map();
  const lines = (await Promise.all(papers.filter(({ kind }) => kind === "invoice").map(async (delivery) => claimLines(delivery, await judgedDelivery(delivery, open, quotesAsked), open)))).flat();
  const since = lines.length === 0 || only !== null ? [] : papers.filter(({ kind, on }) => kind === "credit" && on >= (papers.find((paper) => paper.kind === "invoice")?.on ?? ""));
  const credited = since.map((delivery): Claimed => {
    const money = deliveryTotal(delivery);
    return { key: delivery.id, paper: `${paperName(delivery)}, ${printDay(delivery.on, kitchen)}`, item: [...new Set(delivery.lines.map(({ itemId }) => live.book.shelves.item.get(itemId)?.name ?? itemId))].join(", "), what: "credited", amount: figure(ratio.neg(money), open), money };
  });
  const total = sum(lines);
  const given = sum(credited);
  const paper = paperSize(asked["paper"], kitchen.locale);
  const href = (one: PaperSize): string => `/deliveries/claims/${encodeURIComponent(dealerId)}?${new URLSearchParams({ ...(only === null ? {} : { delivery: only }), paper: one }).toString()}`;
  return (
    <>
      <div className="no-print">
        <PageTop title={`Claim on ${dealer.name}`} trail={[{ name: "Deliveries", href: "/deliveries" }, ...(only === null || papers[0] === undefined ? [] : [{ name: paperName(papers[0]), href: `/deliveries/${encodeURIComponent(only)}` }])]}
          answer={lines.length === 0 ? "Nothing is to be claimed: what was weighed came as billed, and prices and totals hold." : "Short weight is claimed at the price that was billed; a price above the quote of its day and a total that is not price times quantity stand beside it. Send what you mean to ask for."} />
        {lines.length > 0 && <PrintBar paper={paper} href={href} />}
      </div>
      {lines.length > 0 && <ClaimLetter kitchen={kitchen.name} place={kitchen.place} dealer={dealer.name} currency={currencySign(kitchen)} lines={lines} total={figure(total, open)} credited={credited}
        creditedTotal={credited.length === 0 ? null : figure(ratio.neg(given), open)} left={credited.length === 0 ? null : figure(ratio.sub(total, given), open)} printed={`${kitchen.name} · printed ${printDay(live.today, kitchen)} by ${visitor.name}`} paper={paper} />}
    </>
  );
}

const sum = (lines: readonly Claimed[]): Ratio => lines.reduce((all, { money }) => ratio.add(all, money), ratio.ZERO);
const figure = (money: Ratio, { kitchen }: Pick<OpenKitchen, "kitchen">): string => moneyFigure(ratio.toDecimal(money), kitchen);

function claimLines(delivery: Delivery, { lines }: JudgedDelivery, open: OpenKitchen): readonly Claimed[] {
  const { kitchen } = open;
  const paper = `${paperName(delivery)}, ${printDay(delivery.on, kitchen)}`;
  return lines.flatMap(({ line, short, price, totalOff, itemName, quoted }): Claimed[] => {
    const claim = (what: string, words: string, exact: Ratio): Claimed => {
      const money = toCent(exact, kitchen.currency);
      return { key: `${delivery.id} ${line.key} ${what}`, paper, item: itemName, what: words, amount: figure(money, open), money };
    };
    // What did not come is not paid for at all, so only what came is asked back by the difference in price.
    const cameShare = short === null ? ratio.ONE : ratio.sub(ratio.ONE, ratio.div(ratio.fromExact(short.quantity.amount), ratio.fromExact(line.billed.amount)));
    return [
      ...(short === null || line.received === null ? [] : [claim("short", `billed ${quantityText(line.billed, kitchen)}, received ${quantityText(line.received, kitchen)}: ${quantityText(short.quantity, kitchen)} short`, short.claim)]),
      ...(price.kind !== "dearer" ? [] : [claim("price", `billed at ${priceText(ratio.add(price.quoted, price.by), kitchen)} ${perText(price.per)}, quoted ${priceText(price.quoted, kitchen)}${quoted === null ? "" : ` on ${printDay(quoted.from, kitchen)}`}`, ratio.mul(price.over, cameShare))]),
      ...(totalOff === null || ratio.sign(totalOff) <= 0 ? [] : [claim("total", `price times quantity comes to ${figure(toCent(ratio.sub(ratio.fromExact(line.amount?.amount ?? line.price.amount), totalOff), kitchen.currency), open)}`, totalOff)]),
    ];
  });
}
