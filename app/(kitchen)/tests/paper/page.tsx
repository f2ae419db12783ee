/** A blank form for the clipboard: for what will be worked (?of=item:… or cut:…), as the last test of it was, or for anything. */
import type { Metadata } from "next";
import { factName } from "@/lib/book";
import { Button, FormFrame, SelectField } from "@/components/form";
import { PaperForm } from "@/components/paper/PaperForm";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { PageTop } from "@/components/sheet/PageTop";
import { KINDS, TEST_KINDS } from "@/components/yield-test/kinds";
import { type OpenKitchen, openKitchen } from "../../open-kitchen";
import { originIn } from "../read-test";
import { originChoices } from "../sheet-props";
import { kindNamed, startOf } from "../start-of";
import { type BlankOf, blankForm } from "./forms";

export const metadata: Metadata = { title: "Form for the clipboard" };

export default async function BlankPaper({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const asked = await searchParams;
  const one = (name: string): string => (typeof asked[name] === "string" ? asked[name] : "");
  const open = await openKitchen("record a test");
  const { book } = open.live;
  const blank = blankOf(open, one("of"), one("kind"));
  const of = blank.of === null ? "" : `${blank.of.kind}:${blank.of.id}`;
  const paper = paperSize(one("paper"), open.kitchen.locale);
  return (
    <>
      <div className="no-print">
        <PageTop title="A form for the clipboard" trail={[{ name: "Tests", href: "/tests" }]} of={blank.of === null ? KINDS[blank.kind].name : `${KINDS[blank.kind].name} of ${factName(book, blank.of.kind, blank.of.id)}`}
          answer="Where no screen can go: weigh, write it down, and key it in afterwards." />
        <form className="form" action="/tests/paper" method="get" key={`${of} ${blank.kind}`}>
          <FormFrame id="blank" values={{ of, kind: one("kind") === "" ? "" : blank.kind }} problems={[]}>
            {one("paper") !== "" && <input type="hidden" name="paper" value={paper} />}
            <div className="fields">
              <SelectField name="of" label="What will be worked" groups={originChoices(book)} none="Anything: a line to write it on" />
              <SelectField name="kind" label="Kind of test" choices={TEST_KINDS.map((kind) => ({ value: kind, label: KINDS[kind].name }))} none="As last time" />
            </div>
            <div className="send"><Button type="submit" plain>Show its form</Button></div>
          </FormFrame>
        </form>
        <PrintBar paper={paper} href={(size) => `/tests/paper?${new URLSearchParams({ ...(of === "" ? {} : { of }), ...(one("kind") === "" ? {} : { kind: blank.kind }), paper: size }).toString()}`} />
      </div>
      <PaperForm form={blankForm(open, blank)} paper={paper} />
    </>
  );
}

/** As at the block; for anything where nothing of the book is asked for. */
function blankOf({ live: { book } }: OpenKitchen, asked: string, askedKind: string): BlankOf {
  const wanted = kindNamed(askedKind);
  const of = originIn(asked);
  if (!book.shelves[of.kind].has(of.id)) return { kind: wanted ?? "butcher", of: null, parts: wanted === undefined ? [] : KINDS[wanted].parts, last: undefined };
  return { of, ...startOf(book, of, wanted) };
}
