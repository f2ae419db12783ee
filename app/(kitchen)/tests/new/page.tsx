/** A new yield test: first which kind, then its sheet. Prefilled from what the address names (?kind, ?item, ?cut, ?follows). */
import Link from "next/link";
import type { Metadata } from "next";
import type { Origin, TestKind } from "@/lib/book";
import { basedOn, newId } from "@/lib/store";
import { PageTop } from "@/components/sheet/PageTop";
import { Caution } from "@/components/yield-test/Caution";
import { TestSheet } from "@/components/yield-test/TestSheet";
import { KINDS, TEST_KINDS, usualParts } from "@/components/yield-test/kinds";
import { openKitchen } from "../../open-kitchen";
import { recordTest } from "../actions";
import { cutChoices, dealerChoices, factsAdopted, originChoices, sheetStarts, startsWithoutMoney, worthChoices } from "../sheet-props";

export const metadata: Metadata = { title: "Record a test" };

type Search = Readonly<Record<string, string | readonly string[] | undefined>>;

export default async function NewTest({ searchParams }: { readonly searchParams: Promise<Search> }) {
  const asked = await searchParams;
  const { live, kitchen, visitor, may } = await openKitchen("record a test");
  const seesMoney = may("see money");
  const { book } = live;
  const one = (name: string): string => (typeof asked[name] === "string" ? asked[name] : "");
  const kind: TestKind = TEST_KINDS.find((known) => known === one("kind")) ?? "butcher";
  const of: Origin | null = book.shelves.cut.has(one("cut")) ? { kind: "cut", id: one("cut") } : book.shelves.item.has(one("item")) ? { kind: "item", id: one("item") } : null;
  const follows = book.shelves.test.has(one("follows")) ? one("follows") : "";
  const all = sheetStarts(live.cascade, kind, kitchen, of === null ? null : `${of.kind}:${of.id}`);
  const starts = seesMoney ? all : startsWithoutMoney(all);
  const start = of === null ? undefined : starts[`${of.kind}:${of.id}`];
  const id = newId("test");
  const keep = new URLSearchParams(Object.entries(asked).flatMap(([name, value]) => (typeof value === "string" && name !== "kind" ? [[name, value]] : [])));
  return (
    <>
      <PageTop title="Record a test" trail={[{ name: "Tests", href: "/tests" }]}
        answer={<>Weigh what was bought, cut it, weigh every part. What the parts do not account for is the loss; it is worked out, never typed.</>} />
      <nav aria-label="Kind of test">
        <ul className="kind-list">
          {TEST_KINDS.map((known) => (
            <li key={known}>
              <Link href={`/tests/new?kind=${known}${keep.size > 0 ? `&${keep.toString()}` : ""}`} aria-current={known === kind ? "page" : undefined}>{KINDS[known].name}</Link>
            </li>
          ))}
        </ul>
      </nav>
      <p className="quiet">{KINDS[kind].name}: {KINDS[kind].what}.</p>
      <Caution kind={kind} />
      <TestSheet
        key={`${kind} ${of?.kind ?? ""} ${of?.id ?? ""}`}
        kind={kind} action={recordTest} basedOn={basedOn(live, factsAdopted(book, id, null))} recordLabel="Record this test"
        hidden={{ id, followsTestId: follows, cutId: newId("cut") }}
        values={{
          of: of === null ? "" : `${of.kind}:${of.id}`, on: live.today, cutter: visitor.name, pieces: "1",
          dealerId: start?.dealerId ?? "", price: start?.price ?? "", scaleStep: start?.scaleStep ?? "",
        }}
        rows={start?.rows ?? (seesMoney ? usualParts(kind) : usualParts(kind).map((row) => (row["role"] === "by-product" ? { ...row, role: "discard" } : row)))} starts={starts} origins={originChoices(book)} dealers={dealerChoices(book)} worthOf={seesMoney ? worthChoices(book) : []} cuts={may("change tests and cuts") ? cutChoices(book, null) : null} isNew seesMoney={seesMoney}
      />
    </>
  );
}
