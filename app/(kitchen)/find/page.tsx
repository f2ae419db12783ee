/** Everything in the book that answers to a few words, best first. The box that "/" opens asks the same. */
import type { Metadata } from "next";
import Link from "next/link";
import { printCount } from "@/components/find/count";
import type { AnswerView } from "@/components/find/answers";
import { Button } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { type Asked, askedFor } from "../find";
import { openKitchen } from "../open-kitchen";
import { foundViews } from "./found";

export const metadata: Metadata = { title: "Find" };

/** The most on the page: who finds more says more. */
const MOST_FOUND = 200;

const COLUMNS: readonly Column<AnswerView>[] = [
  { key: "name", head: "Name", cell: ({ href, name }) => <Link href={href}>{name}</Link> },
  { key: "kind", head: "What it is", cell: ({ kind }) => kind, width: 6 },
  { key: "note", head: "Beside it", fold: "narrow", label: "", cell: ({ note }) => note === "" ? "" : <span className="quiet">{note}</span> },
];

export default async function FindPage({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = askedFor((await searchParams)["q"]);
  const { live, kitchen, may } = await openKitchen("read the book");
  const seesMoney = may("see money");
  const { answers, of } = foundViews(live.book, asked, { seesMoney, most: MOST_FOUND, habits: kitchen });
  const what = seesMoney ? "dishes, recipes, cuts, portions, items and tests" : "tests";
  return (
    <>
      <PageTop title="Find" of={`Among ${what}: by name, section, dealer or order code`} />
      <form className="find" role="search" action="/find" method="get">
        <label htmlFor="find-q">Find</label>
        <input id="find-q" className="find" type="search" name="q" defaultValue={asked} autoComplete="off" spellCheck={false} maxLength={120} />
        <Button type="submit">Find</Button>
        {asked !== "" && <p role="status">{of === 0 ? `Nothing in the book answers to “${asked}”. The beginning of a word is enough; fewer words find more.` : `${printCount(of, kitchen.locale)} ${of === 1 ? "answers" : "answer"} to “${asked}”${of > answers.length ? `; the best ${answers.length} are shown` : ""}.`}</p>}
      </form>
      {answers.length > 0 && <Table caption={`What answers to “${asked}”, best first`} quietCaption columns={COLUMNS} rows={answers} rowKey={({ key }) => key} narrow />}
    </>
  );
}
