/** Allergens of everything on the menu, or with ?of=recipes of every recipe, on one landscape page. No money. */
import type { Metadata } from "next";
import Link from "next/link";
import { allergensOf } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { Matrix, type MatrixRow } from "@/components/allergen/Matrix";
import { printCount } from "@/components/find/count";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Allergens" };

export default async function Allergens({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const asked = await searchParams;
  const { live, kitchen, may } = await openKitchen("read the book");
  const { book } = live;
  const kind = asked["of"] === "recipes" ? "recipe" : "dish";
  const paper = paperSize(asked["paper"], kitchen.locale);
  const rows = [...book.shelves[kind].values()]
    .toSorted((a, b) => (a.section === b.section ? (a.name < b.name ? -1 : 1) : a.section < b.section ? -1 : 1))
    .map(({ id, name, section }): MatrixRow => ({
      id, name, section, found: allergensOf(book, { kind, id }),
      // A recipe's card carries no money; a dish's page does.
      href: kind === "recipe" ? `/recipes/${encodeURIComponent(id)}/card` : may("see money") ? `/dishes/${encodeURIComponent(id)}` : null,
    }));
  const unread = [...book.shelves.item.values()].filter((item) => item.allergens === null);
  const open = rows.filter(({ found }) => found.unknown.length > 0).length;
  const what = kind === "dish" ? (rows.length === 1 ? "dish" : "dishes") : rows.length === 1 ? "recipe" : "recipes";
  const title = kind === "dish" ? "Allergens of the menu" : "Allergens of the recipes";
  const ask = (paperAsked: string) => `/allergens?${new URLSearchParams({ ...(kind === "recipe" ? { of: "recipes" } : {}), paper: paperAsked }).toString()}`;
  return (
    <>
      <div className="no-print">
        <PageTop title="Allergens" of={`${printCount(rows.length, kitchen.locale)} ${what} against the fourteen · as of ${printDay(live.today, kitchen)}`}
          answer={rows.length === 0 ? undefined : open === 0 ? "Every label under them was read by somebody." : <>{printCount(open, kitchen.locale)} of {printCount(rows.length, kitchen.locale)} {what} hold something whose label nobody has read: they are told as “?” and not as free of it.</>} />
        <p>{kind === "dish" ? <Link href="/allergens?of=recipes">The recipes, with their cards</Link> : <Link href="/allergens">The menu</Link>}</p>
        {unread.length > 0 && (
          <details className="labels-unread">
            <summary>{printCount(unread.length, kitchen.locale)} {unread.length === 1 ? "item" : "items"} whose label nobody has read</summary>
            <ul>{unread.slice(0, MOST_TOLD).map((item) => <li key={item.id}>{may("see money") ? <Link href={`/items/${encodeURIComponent(item.id)}`}>{item.name}</Link> : item.name}</li>)}{unread.length > MOST_TOLD && <li>and {printCount(unread.length - MOST_TOLD, kitchen.locale)} more</li>}</ul>
          </details>
        )}
        {rows.length > MOST_ROWS && <p>The first {printCount(MOST_ROWS, kitchen.locale)} by section stand below; the others tell theirs on their own pages.</p>}
        {rows.length > 0 && <PrintBar paper={paper} href={ask} />}
        {rows.length > 0 && <TakeAway name="Allergens" href="/out/allergens">Take the matrix away</TakeAway>}
      </div>
      {rows.length === 0 ? <EmptyPage what="What is in each dish by the labels of everything it is made of. Put items with their labels into the book, then dishes." />
        : <Matrix title={title} rows={rows.slice(0, MOST_ROWS)} paper={paper} printed={`${kitchen.name} · as of ${printDay(live.today, kitchen)}`} />}
    </>
  );
}

const MOST_TOLD = 40;
/** More than a printed matrix is read for. */
const MOST_ROWS = 500;
