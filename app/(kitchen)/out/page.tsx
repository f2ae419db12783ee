/** All that can be taken away as files: every list as CSV and XLSX, and the whole kitchen in one document. */
import type { Metadata } from "next";
import Link from "next/link";
import { LEFT_OUT } from "@/lib/exchange";
import { printDay } from "@/lib/measure";
import { printCount } from "@/components/find/count";
import { TakeAwayLinks } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { openKitchen } from "../open-kitchen";
import { LISTS } from "./out-lists";

export const metadata: Metadata = { title: "Files" };

export default async function Files() {
  const open = await openKitchen("see money");
  const { kitchen, live, may } = open;
  return (
    <>
      <PageTop title="Files" of={`What can be taken away from ${kitchen.name} · as of ${printDay(live.today, kitchen)}`}
        answer="Everything here is yours to take away. Lists open in any spreadsheet, with figures as figures; the whole kitchen is one document, and can be opened again from it." />
      <div className="out-list">
        <Table caption="Lists of the book as it applies today" rowKey={({ what }) => what} groups={LISTS.map(({ title, lists }) => ({ key: title, title, rows: lists }))} columns={[
          { key: "title", head: "List", cell: ({ title }) => title },
          { key: "holds", head: "What it holds", fold: "narrow", label: "", cell: ({ holds }) => <span className="quiet">{holds}</span> },
          { key: "count", head: "How many", figure: true, width: 4, cell: (list) => { const count = list.count(open); return count === null ? "" : printCount(count, kitchen.locale); } },
          { key: "as", head: "Take it", width: 9, cell: ({ what, title }) => <TakeAwayLinks name={title} href={`/out/${what}`} /> },
        ]} />
      </div>
      <p className="quiet">Recipe cards, cost sheets, station cards and price charts are taken away from their own pages. Nobody’s name to sign in with is in any of these files.</p>
      <section className="whole-kitchen" aria-labelledby="whole">
        <h2 id="whole">The whole kitchen</h2>
        <p>Every change of the record with who, when and why, every fact as it became, corrections and what was taken off, try-outs, order plans and how dealers write their lists: one JSON document, to the last digit. Left out: {LEFT_OUT.join("; ")}.</p>
        {may("change the kitchen")
          ? <p><a className="btn plain" href="/out/kitchen.json">Take the whole kitchen away</a></p>
          : <p className="quiet">It is for the owner and the chef to take away.</p>}
        <p className="quiet">A kitchen is opened from such a file where a new one is opened: <Link href="/kitchens">Kitchens</Link>. The shape of the document is described in docs/kitchen-file.schema.json.</p>
      </section>
    </>
  );
}
