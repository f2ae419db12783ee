/** One price list: how it is laid out, what each of its lines would change, what still waits for an answer, what all of it does, and recording it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import type { FactOf } from "@/lib/book";
import { FATES } from "@/lib/buying";
import { printDay } from "@/lib/measure";
import type { PriceList } from "@/lib/store";
import { Ripple } from "@/components/change/Ripple";
import { printCount } from "@/components/find/count";
import { Button, FormFrame, TextField, TickField } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { LayoutForm } from "@/components/price-list/LayoutForm";
import { FromForm } from "@/components/price-list/LinesForm";
import "@/components/price-list/price-list.css";
import { SendForm } from "@/components/price-list/SendForm";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import type { Asked } from "../../find";
import { printMoment } from "../../moment";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { dropList, keepFrom, keepLayout } from "../actions";
import { toldLast } from "../carry-out";
import { layoutForm, layoutWords } from "../layout-view";
import { type ListRipple, type OpenedList, openList, rippleOf } from "../opened";
import { readSummary } from "../summary";
import { fateCount } from "../words";
import { Lines } from "./lines";

interface Params {
  readonly params: Promise<{ readonly list: string }>;
  readonly searchParams: Promise<Asked>;
}




export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { store, kitchenId } = await openKitchen("see money");
  return { title: (await store.readPriceList(kitchenId, pathId((await params).list)))?.fileName ?? "Price list" };
}

export default async function ListPage({ params, searchParams }: Params) {
  const id = pathId((await params).list);
  const asked = await searchParams;
  const open = await openKitchen("see money");
  const { store, kitchenId, kitchen, live } = open;
  const list = await store.readPriceList(kitchenId, id);
  if (list === null) notFound();
  const dealer = live.book.shelves.dealer.get(list.dealerId)?.name ?? "a dealer of before";
  const again = asked["again"] === "yes";
  const top = (answer: React.ReactNode) => (
    <PageTop title={list.fileName} trail={[{ name: "Price lists", href: "/lists" }]} of={`${dealer} · read by ${list.readBy}, ${printMoment(list.readAt, kitchen)}`} answer={answer} />
  );
  if (list.madeChange !== null || list.dropped !== null) return <>{top(undefined)}<Closed list={list} kitchen={kitchen} again={again} /></>;
  const told = await toldLast(asked["told"]);
  const opened = await openList(store, live, list);
  if (!opened.ok) return <>{top(undefined)}<Told adverse>{opened.problems.map(({ sentence }) => <p key={sentence}>{sentence}</p>)}</Told><Drop list={list} /></>;
  const { judged, lacks, file, layout, from, read, choices, entries, newest } = opened.value;
  const ripple = await rippleOf(store, live, list, opened.value);
  const answer = lacks ?? <>{lineWords(opened.value, kitchen)}</>;
  return (
    <>
      {top(answer)}
      {again && <Told><p>This file was read already, on {printMoment(list.readAt, kitchen)} by {list.readBy}. Nothing was done: here it is.</p></Told>}
      {told.length > 0 && <Told adverse>{told.map((sentence) => <p key={sentence}>{sentence}</p>)}</Told>}
      {file !== null && layout !== null && (
        <IfMay deed="change items and prices">
          <details className="list-layout" open={lacks !== null}>
            <summary>Columns: {layoutWords(layout)}. Set them right</summary>
            <p className="quiet">{file.said}</p>
            <LayoutForm key={JSON.stringify([layout.sheet, layout.headings, layout.delimiter, layout.encoding])} action={keepLayout} list={list.id} version={list.version} dealer={dealer} {...layoutForm(file, layout, kitchen)} />
          </details>
        </IfMay>
      )}
      {lacks === null && (
        <>
          <Lines opened={opened.value} list={list} open={open} asked={asked} />
          <IfMay deed="change items and prices">
            <FromForm key={read.from ?? ""} action={keepFrom} list={list.id} version={list.version} from={from}
              hint={choices.from !== null ? "As chosen here" : read.from !== null ? "As the list says" : "The list names no day: today"} />
          </IfMay>
          <section aria-labelledby="does">
            <h2 id="does">What recording it would do</h2>
            <WhatItDoes ripple={ripple} />
          </section>
          {entries.length > 0 && (
            <IfMay deed="change items and prices">
              <section aria-labelledby="record">
                <h2 id="record">Record it</h2>
                <p>{entries.length === 1 ? "One price becomes" : `${printCount(entries.length, kitchen.locale)} prices become`} one change in the record, from {printDay(from, kitchen)}, which can be undone as a whole. The file is not kept afterwards.</p>
                <SendForm to={`/lists/${encodeURIComponent(list.id)}/record`} submit={`Record ${entries.length === 1 ? "this price" : `these ${printCount(entries.length, kitchen.locale)} prices`}`} begins="Looking at the list once more" stopped="Stopped. Nothing was recorded.">
                  <FormFrame id="record-list" values={{}} problems={[]}>
                    <input type="hidden" name="version" value={list.version} />
                    <input type="hidden" name="seen" value={newest} />
                    {judged.counts.asked > 0 && <TickField name="leave" label={judged.counts.asked === 1 ? "The line that waits for an answer may keep its old price" : `The ${printCount(judged.counts.asked, kitchen.locale)} lines that wait for an answer may keep their old prices`} />}
                    <div className="fields"><TextField name="why" label="Why" hint="One line for the record, if you like" wide /></div>
                  </FormFrame>
                </SendForm>
              </section>
            </IfMay>
          )}
        </>
      )}
      <Drop list={list} />
    </>
  );
}

/** "10,000 lines, 9,800 of them new prices; 46 wait for an answer." */
function lineWords({ judged, read }: OpenedList, { locale }: FactOf["kitchen"]): string {
  const { counts } = judged;
  const told = FATES.filter((fate) => counts[fate] > 0).map((fate) => fateCount(fate, counts[fate], locale));
  const passed = read.passedOver === 0 ? "" : ` ${printCount(read.passedOver, locale)} ${read.passedOver === 1 ? "row holds" : "rows hold"} headings or notes.`;
  return `${printCount(judged.lines.length, locale)} ${judged.lines.length === 1 ? "line" : "lines"}: ${told.join(", ")}.${passed}`;
}

function WhatItDoes({ ripple }: { readonly ripple: ListRipple }) {
  if (!ripple.ok) {
    return (
      <Told adverse>
        <p><strong>It cannot be recorded like this.</strong> Leave out or answer the lines that these are about:</p>
        <ul>{ripple.problems.slice(0, 20).map(({ sentence }, at) => <li key={at}>{sentence}</li>)}</ul>
        {ripple.problems.length > 20 && <p>…and {ripple.problems.length - 20} more.</p>}
      </Told>
    );
  }
  return ripple.view === null ? <p>Nothing in it is different from what the book says.</p> : <Ripple ripple={ripple.view} />;
}

function Closed({ list, kitchen, again }: { readonly list: PriceList; readonly kitchen: FactOf["kitchen"]; readonly again: boolean }) {
  const summary = readSummary(list.choices);
  return (
    <>
      <Told>
        {list.madeChange !== null
          ? <p>{again && "This file was recorded already, so nothing was done. "}It was recorded as <Link href={`/record/${list.madeChange}`}>change {list.madeChange}</Link> by {list.changedBy}, {printMoment(list.changedAt, kitchen)}.{!again && " The file itself was let go."}</p>
          : <p>It was dropped by {list.dropped?.by}, {list.dropped === null ? "" : printMoment(list.dropped.at, kitchen)}. The file was let go; read it once more if it is wanted after all.</p>}
      </Told>
      {summary !== null && (
        <>
          <p>{printCount(summary.lines, kitchen.locale)} {summary.lines === 1 ? "line" : "lines"}, from {printDay(summary.from, kitchen)}:</p>
          <ul>{FATES.filter((fate) => summary.counts[fate] > 0).map((fate) => <li key={fate}>{fateCount(fate, summary.counts[fate], kitchen.locale)}</li>)}</ul>
        </>
      )}
    </>
  );
}

function Drop({ list }: { readonly list: PriceList }) {
  return (
    <IfMay deed="change items and prices">
      <section aria-labelledby="drop">
        <h2 id="drop">Or drop it</h2>
        <p>Nothing of it is in the book. The file is let go; it can be read again.</p>
        <form action={dropList}><input type="hidden" name="list" value={list.id} /><Button type="submit" plain>Drop this list</Button></form>
      </section>
    </IfMay>
  );
}
