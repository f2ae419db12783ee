/** The block, before anything is on the scale: go on with a sheet under way, or take what is at hand and begin one. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Book, blockSheet, factName, stopsOf } from "@/lib/book";
import { printDay } from "@/lib/measure";
import { Button, FormFrame, SelectField } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { KINDS, TEST_KINDS } from "@/components/yield-test/kinds";
import { printMoment } from "../../(kitchen)/moment";
import { openKitchen } from "../../(kitchen)/open-kitchen";
import { originIn } from "../../(kitchen)/tests/read-test";
import { originChoices } from "../../(kitchen)/tests/sheet-props";
import { beginSheet, putAway } from "./actions";
import "@/components/block/block.css";

export const metadata: Metadata = { title: "At the block" };

/** So many things that were worked lately can be begun with one tap. */
const MOST_LATELY = 8;

export default async function Block({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const { live, kitchen, kitchenId, store } = await openKitchen("record a test");
  const { book } = live;
  const asked = await searchParams;
  const chosen = typeof asked["of"] === "string" ? asked["of"] : "";
  // A sheet whose test is in the book is done, also where the server stopped before it could say so.
  const sheets = (await store.sheetsUnderWay(kitchenId)).filter(({ id }) => !book.shelves.test.has(id));
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="At the block" trail={[{ name: "Tests", href: "/tests" }]} of={`${kitchen.name} · ${printDay(live.today, kitchen)}`} answer="Take what is at hand. Each part is weighed one after another; what you key in is kept at once." />
      {"choose" in asked && <p className="wrong" role="alert">Choose what is being worked: an item as purchased, or a cut of an earlier test.</p>}
      {sheets.length > 0 && (
        <section aria-labelledby="under-way">
          <h2 id="under-way">Under way</h2>
          <ul className="plain-list">
            {sheets.map((one) => {
              const sheet = blockSheet(one.entries);
              const stops = stopsOf(sheet);
              const done = stops.filter(({ readings, none }) => readings.length > 0 || none !== null).length;
              return (
                <li key={one.id} className="under-way">
                  <Link className="btn" href={`/block/${encodeURIComponent(one.id)}`}>{nameOf(book, sheet.about?.of ?? "")}</Link>
                  <span className="quiet">{done} of {stops.length} weighed · begun by {one.startedBy}, {printMoment(one.lastAt, kitchen)}</span>
                  <form action={putAway}><input type="hidden" name="sheet" value={one.id} /><Button type="submit" small aria-label={`Put away the sheet of ${nameOf(book, sheet.about?.of ?? "")}`}>Put away</Button></form>
                </li>
              );
            })}
          </ul>
        </section>
      )}
      <section aria-labelledby="lately">
        <h2 id="lately">Worked lately</h2>
        {lately(book).length === 0 && <p className="quiet">Nothing yet.</p>}
        <div className="take">
          {lately(book).map((of) => (
            <form key={of} action={beginSheet}><input type="hidden" name="of" value={of} /><Button type="submit" plain>{nameOf(book, of)}</Button></form>
          ))}
        </div>
      </section>
      <section aria-labelledby="other">
        <h2 id="other">Something else</h2>
        <form className="form" action={beginSheet}>
          <FormFrame id="begin" values={chosen === "" ? {} : { of: chosen }} problems={[]}>
            <div className="fields">
              <SelectField name="of" label="What is being worked" groups={originChoices(book)} none="Choose…" required />
              <SelectField name="kind" label="Kind of test" choices={TEST_KINDS.map((kind) => ({ value: kind, label: KINDS[kind].name }))} none="As last time" />
            </div>
            <div className="send"><Button type="submit">To the scale</Button></div>
          </FormFrame>
        </form>
      </section>
      <p className="quiet"><Link href="/tests/new">The whole form on one page</Link>, or <Link href="/tests/paper">a blank form on paper</Link> for the clipboard</p>
    </main>
  );
}

/** What the newest tests were of, newest first, each once. */
function lately(book: Book): readonly string[] {
  const tests = [...book.shelves.test.values()].sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : a.id < b.id ? 1 : -1));
  return [...new Set(tests.map((test) => `${test.of.kind}:${test.of.id}`))].slice(0, MOST_LATELY);
}

function nameOf(book: Book, of: string): string {
  const { kind, id } = originIn(of);
  return factName(book, kind, id);
}
