/**
 * A figure opened: every step of its arithmetic as a row of the ledger, with where it comes from under its name, down
 * to the quote and the readings of the scale. Each row that rests on another cost can be opened in turn.
 */
import type { ReactNode } from "react";
import Link from "next/link";
import type { Allowance, BorrowedYield, FactOf, Landed, Provenance } from "@/lib/book";
import { printPack } from "@/lib/book";
import type { AskedAbroad, Behind, CreditCap, Explanation, Step } from "@/lib/cascade";
import { type Decimal, UNITS, moneyFigure, moneyPlaces, printDay, printMoney, printQuantity, printShare, quantityText, shareText, toDecimal, oneOf, printNumber } from "@/lib/measure";
import { borrowedText } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { MissingWords } from "@/components/figure/Missing";
import { type Column, Table } from "@/components/table/Table";

type Kitchen = FactOf["kitchen"];

type Row = { readonly is: "step"; readonly step: Step } | { readonly is: "total" } | { readonly is: "divided" };

export function ExplanationLedger({ explanation, kitchen, currency, on }: { readonly explanation: Explanation; readonly kitchen: Kitchen; readonly currency: string; readonly on: string | null }) {
  const { steps, divisor } = explanation;
  const rows: Row[] = [...steps.map((step): Row => ({ is: "step", step })), ...(steps.length > 1 || divisor !== null ? [{ is: "total" } as const] : []), ...(divisor !== null && (explanation.ref.kind !== "item" || landsAtTheDoor(explanation)) ? [{ is: "divided" } as const] : [])];
  const ask = on === null ? "" : `?on=${on}`;
  const columns: readonly Column<Row>[] = [
    { key: "name", head: explanation.about.kind === "cut" && explanation.about.borrowed !== null ? "From the invoice and a borrowed yield" : explanation.about.kind === "item" && explanation.about.transfer !== null ? "From inside the house" : HEAD[explanation.ref.kind], cell: (row) => nameCell(row, explanation, kitchen, ask) },
    { key: "quantity", head: "Quantity", figure: true, fold: "phone", label: "", cell: (row) => quantityCell(row, explanation, kitchen) },
    { key: "rate", head: `${currency} for one`, label: "at", figure: true, fold: "phone", cell: (row) => row.is === "step" && row.step.rate !== null ? <Figure of={{ figure: rateFigure(row.step.rate.amount, kitchen), unit: `/ ${UNITS[row.step.rate.per].one}` }} /> : "" },
    { key: "amount", head: currency, figure: true, width: 5.5, cell: (row) => amountCell(row, explanation, kitchen) },
    ...(explanation.ref.kind === "recipe" ? [{ key: "share", head: "Share", label: "share", figure: true, fold: "phone", cell: (row) => row.is === "step" && row.step.share !== null ? <Figure of={{ figure: printShare(row.step.share, kitchen), unit: "%" }} /> : "" } satisfies Column<Row>] : []),
  ];
  return <Table caption={explanation.about.kind === "item" && explanation.about.transfer !== null ? "The price at which the house passes it on" : CAPTION[explanation.ref.kind]} columns={columns} rows={rows} rowKey={(row) => (row.is === "step" ? row.step.key : row.is)} rowRule={(row) => row.is === "total" ? "sum" : row.is === "step" && SET_IN.has(row.step.kind) ? "in" : null} narrow />;
}

/** An item whose price at the door is another than is asked, for more than one of its unit. */
function landsAtTheDoor({ steps, divisor, costOf }: Explanation): boolean {
  const unit = costOf[0]?.quantity.unit;
  return steps.some(({ detail }) => detail?.of === "landed" || detail?.of === "exchange") && !(divisor?.amount === "1" && divisor.unit === unit);
}

const HEAD: Readonly<Record<Explanation["ref"]["kind"], string>> = {
  item: "From the dealer’s list", cut: "From the invoice and the scale", spec: "From the cut", recipe: "What goes into a batch", dish: "What is on the plate",
};
const CAPTION: Readonly<Record<Explanation["ref"]["kind"], string>> = {
  item: "The price it is costed at", cut: "What was paid for, what it gave back, what is left", spec: "What one portion takes", recipe: "Each line at its price of the day", dish: "Each line at its price of the day, largest first",
};
const SET_IN: ReadonlySet<Step["kind"]> = new Set(["extra", "rebate", "work", "by-product", "discard", "purge", "loss", "borrowed", "other-main", "end"]);

function nameCell(row: Row, explanation: Explanation, kitchen: Kitchen, ask: string): ReactNode {
  if (row.is === "total") return explanation.ref.kind === "cut" ? "Usable" : explanation.ref.kind === "recipe" ? "The batch" : explanation.ref.kind === "dish" ? "The plate" : explanation.steps.some(({ detail }) => detail?.of === "landed" || detail?.of === "exchange") ? "At the door" : "Together";
  if (row.is === "divided") return <>for one {dividedUnit(explanation)}</>;
  const { step } = row;
  const name = LESS.has(step.kind) ? <>less {step.name}</> : step.name;
  return (
    <>
      {step.ref === null ? name : <Link href={`${figureHref(step.ref)}${ask}`}>{name}</Link>}
      {fromWords(step, kitchen).map((words, index) => <span key={index} className="from">{words}</span>)}
      {step.missing.length > 0 && <span className="from"><MissingWords missing={step.missing} most={2} /></span>}
    </>
  );
}

const LESS: ReadonlySet<Step["kind"]> = new Set(["rebate", "work", "by-product", "other-main", "end"]);

function dividedUnit(explanation: Explanation): string {
  const divisor = explanation.ref.kind === "item" ? explanation.costOf[0]?.quantity ?? null : explanation.divisor;
  return divisor === null ? "" : UNITS[divisor.unit].one;
}

/** Where a step comes from, in the second ink. */
export function fromWords(step: Step, kitchen: Kitchen): ReactNode[] {
  const words: ReactNode[] = [];
  const { detail } = step;
  if (step.behind !== null) words.push(behindWords(step.behind, kitchen));
  if (detail?.of === "borrowed") words.push(borrowedYieldWords(detail.borrowed, kitchen), <>taken up {printDay(detail.borrowed.on, kitchen)}; a test of your own should replace it</>);
  if (step.borrowed.length > 0 && step.behind?.kind !== "borrowed") words.push(<>on a borrowed yield of {borrowedText(step.borrowed)}</>);
  if (step.kind === "discard") words.push("discarded: weighed, worth nothing");
  if (step.kind === "purge") words.push("liquid in the bag: it was billed");
  if (step.kind === "loss") words.push(<>by difference{detail?.of === "loss" && <>, {printShare(detail.ofWhole, kitchen)} % of the piece{detail.among && <>, {printShare(detail.among.least, kitchen)} to {printShare(detail.among.greatest, kitchen)} % among the tests</>}</>}</>);
  if (detail?.of === "credit" && detail.value !== null) {
    if (detail.cap !== null) words.push(capWords(detail.cap, kitchen));
    words.push(detail.value.kind === "linked"
      ? <>worth what {detail.value.name} costs</>
      : <>worth {printMoney(detail.value.typed.amount, kitchen)} / {detail.value.typed.per} to this house, typed {printDay(detail.value.on, kitchen)}{detail.value.movesWithPrice && ", moved with the dealer’s price"}</>);
  }
  if (detail?.of === "line") {
    const basis = { "as-purchased": "as purchased", "edible-portion": step.behind?.kind === "borrowed" ? "edible portion, by a borrowed yield" : "edible portion, by its yield test", portion: null, batch: null }[detail.basis];
    if (basis !== null) words.push(basis);
    if (detail.batch !== null) words.push(<>{printShare(detail.batch.share, kitchen)} % of a batch of {quantityText(detail.batch.yield, kitchen)}</>);
    if (detail.note !== "") words.push(detail.note);
  }
  if (detail?.of === "allowance") words.push(allowanceWords(detail.allowance, kitchen));
  if (detail?.of === "exchange") words.push(exchangeWords(detail, kitchen));
  if (detail?.of === "landed") words.push(landedWords(detail.landed, { ...kitchen, currency: detail.currency ?? kitchen.currency }));
  if (detail?.of === "joint") words.push(<>carries {printShare(detail.share, kitchen)} % of the joint cost</>);
  if (step.converted !== null) {
    words.push(<>= {quantityText(step.converted.quantity, kitchen)}{step.converted.through.map((figure) => (
      <span key={figure.what}>, by {figure.what === "density" ? "its density" : "what one weighs"} ({figure.source}, {printDay(figure.on, kitchen)})</span>
    ))}</>);
  }
  return words;
}

/** "5 % on the cost of the lines", "2 % of the whole", "money, as it is". */
export function allowanceWords(allowance: Allowance, kitchen: Kitchen): string {
  return allowance.kind === "money" ? "reckoned in money" : `${shareText(allowance.share, kitchen)} ${allowance.basis === "on-cost" ? "on the cost of the lines" : "of the whole"}`;
}

/** "€42.00 asked, at 1.09 for one EUR (the bank, Mon 23 Nov 2026)". */
function exchangeWords({ asked, currency, rate }: AskedAbroad, kitchen: Kitchen): ReactNode {
  const price = printMoney(asked, { ...kitchen, currency });
  if (rate === null) return <>{price} asked; nobody has said what one {currency} is worth. <Link href="/house#exchange">Say it in the house rules</Link></>;
  return <>{price} asked, at {printNumber(toDecimal(rate.rate), kitchen)} for one {currency} ({[rate.source, printDay(rate.on, kitchen)].filter(Boolean).join(", ")})</>;
}

/** "4 % of the asked price", "$12.00 a pack", "$0.05 a pound". */
export function landedWords({ of }: Landed, kitchen: Kitchen): string {
  if (of.kind === "share") return `${shareText(of.share, kitchen)} of the asked price`;
  return `${printMoney(toDecimal(of.amount.amount), kitchen, { places: toDecimal(of.amount.amount).decimalPlaces() > moneyPlaces(kitchen.currency) ? toDecimal(of.amount.amount).decimalPlaces() : undefined })} ${of.per === "pack" ? "a pack" : oneOf(of.per)}`;
}

const BASIS = { quoted: "quoted by", contract: "by contract with", market: "at the market’s price by", invoice: "invoiced by" } as const;

/** "borrowed yield, 89 %: Carrots, raw; … (USDA …; mean of n = 20)". */
function borrowedYieldWords(borrowed: BorrowedYield, kitchen: Kitchen): ReactNode {
  return <>borrowed yield, {printShare(toDecimal(borrowed.share), kitchen)} %: {borrowed.what} ({borrowed.source})</>;
}

/** "made in the house, transfer price by a market: a price report; decided Thu 26 Nov 2026, recorded by the chef". */
function transferWords({ transfer, inPlaceOf, provenance }: Behind & { readonly kind: "transfer" }, kitchen: Kitchen): ReactNode {
  const { price } = transfer;
  const by = price.kind === "item" ? <>in the place of {inPlaceOf?.name ?? price.itemId}{price.less !== null && <>, less {printMoney(toDecimal(price.less.amount), kitchen)} / {UNITS[price.less.per].one} of work</>}</>
    : price.kind === "market" ? <>by a market: {price.source}</> : <>fixed: {price.source}</>;
  return <>made in the house, transfer price {by}; decided {printDay(transfer.on, kitchen)}{provenance !== null && <>, recorded by {provenance.by}</>}</>;
}

/** "40 lb come off (a usual week), 25 lb are used: 62.5 % of the credit". */
export function capWords({ share, use }: CreditCap, kitchen: Kitchen): string {
  return `${quantityText(use.produced, kitchen)} come off${use.over === "" ? "" : ` (${use.over})`}, ${quantityText(use.used, kitchen)} are used: ${printShare(share, kitchen)} % of the credit`;
}

export function behindWords(behind: Behind, kitchen: Kitchen): ReactNode {
  if (behind.kind === "borrowed") return borrowedYieldWords(behind.borrowed, kitchen);
  if (behind.kind === "tests") {
    return <>{behind.count === 1 ? "one test" : `${behind.count} tests`}, {behind.count === 1 ? "" : "newest "}{printDay(behind.newestOn, kitchen)}{behind.cutter !== "" && <>, cut by {behind.cutter}</>}</>;
  }
  if (behind.kind === "transfer") return transferWords(behind, kitchen);
  return <>{BASIS[behind.quote.basis]} {behind.dealerName}, {printPack(behind.quote.pack, kitchen)}{behind.quote.until !== null && <>, to {printDay(behind.quote.until, kitchen)}</>}{behind.provenance !== null && <>, since {printDay(behind.provenance.validFrom, kitchen)}, recorded by {behind.provenance.by}</>}</>;
}

function quantityCell(row: Row, explanation: Explanation, kitchen: Kitchen): ReactNode {
  if (row.is === "total") return explanation.divisor === null || explanation.ref.kind === "item" ? "" : <Figure of={printQuantity(explanation.divisor, kitchen)} />;
  if (row.is === "divided" || row.step.quantity === null) return "";
  return <Figure of={printQuantity(row.step.quantity, kitchen)} />;
}

function amountCell(row: Row, explanation: Explanation, kitchen: Kitchen): ReactNode {
  if (row.is === "total") return minus(moneyFigure(explanation.total, kitchen));
  if (row.is === "divided") {
    const per = explanation.costOf[0];
    return per === undefined ? "" : <strong>{moneyFigure(per.amount, kitchen)}</strong>;
  }
  const { step } = row;
  if (step.amount === null) return <span className="quiet">unknown</span>;
  return <>{step.missing.length > 0 && <span className="quiet small">at least </span>}{minus(amountFigure(step.amount, kitchen))}</>;
}

/** An amount in the money column: to the cent, unless that would say nothing of it. */
function amountFigure(amount: Decimal, kitchen: Kitchen): string {
  const least = moneyPlaces(kitchen.currency);
  const places = amount.isZero() || amount.abs().gte("0.005") ? least : least + 2;
  return moneyFigure(amount, kitchen, { places });
}

/** To the cent, or to as many places as it takes to say something of a very small figure. */
function rateFigure(amount: Decimal, kitchen: Kitchen): string {
  const least = moneyPlaces(kitchen.currency);
  const places = amount.isZero() || amount.abs().gte("0.1") ? least : least + 2;
  return moneyFigure(amount, kitchen, { places });
}

function minus(figure: string): string {
  return figure.replace("-", "−");
}

/** Who recorded a fact, when it applies from, and why. */
export function RecordedBy({ provenance, kitchen }: { readonly provenance: Provenance | null; readonly kitchen: Kitchen }) {
  if (provenance === null) return null;
  return <p className="quiet">Recorded by {provenance.by}, valid from {printDay(provenance.validFrom, kitchen)}{provenance.why !== "" && <>: “{provenance.why}”</>}.</p>;
}
