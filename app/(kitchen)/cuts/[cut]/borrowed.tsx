/**
 * The borrowed yield of a cut: what it is, where it is from and that a test should replace it; while there is neither, the
 * tables to borrow from, found by words. On file beside a test of the house's own it is told, and not used.
 */
import Link from "next/link";
import { type BorrowedYield, type Cut, borrowedInUse, factName } from "@/lib/book";
import { printDay, printShare, toDecimal } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { publishedYields } from "@/lib/yield";
import { BorrowForm, GiveBackForm } from "@/components/cut/BorrowForm";
import { Find } from "@/components/find/Find";
import { IfMay } from "@/components/kitchen/IfMay";
import { MOST_CHOICES, borrowChoice, kindOfOrigin, offered } from "../borrow";
import type { OpenKitchen } from "../../open-kitchen";
import { borrowYield, giveBack } from "./borrowed-actions";

export function Borrowed({ open, cut, asked }: { readonly open: OpenKitchen; readonly cut: Cut; readonly asked: string }) {
  const { live, kitchen } = open;
  const facts = basedOn(live, [{ kind: "cut", id: cut.id }]);
  const inUse = borrowedInUse(cut);
  const at = `/cuts/${encodeURIComponent(cut.id)}`;
  if (cut.testIds.length > 0) {
    return cut.borrowed === null ? null : (
      <details className="stands">
        <summary>A borrowed yield is on file, and not used</summary>
        <p>{say(cut.borrowed, kitchen)} The tests above stand in its place.</p>
        <IfMay deed="change tests and cuts"><GiveBackForm action={giveBack} basedOn={facts} hidden={{ id: cut.id }} /></IfMay>
      </details>
    );
  }
  const choosing = <Choosing open={open} cut={cut} asked={asked} page={at} facts={facts} />;
  if (inUse === null) {
    return (
      <>
        <h2 id="borrow-a-yield">Until you have a test of your own, borrow a published yield</h2>
        {choosing}
      </>
    );
  }
  return (
    <>
      <p><strong>Borrowed yield:</strong> {say(inUse, kitchen)}</p>
      <p>A yield differs with the dealer, the season and the hand that cuts. A test of your own should replace this one; until then every cost that rests on it says so. <IfMay deed="record a test"><Link href={`/tests/new?${cut.of.kind}=${encodeURIComponent(cut.of.id)}`}>Record a test</Link></IfMay></p>
      <IfMay deed="change tests and cuts">
        <details className="stands">
          <summary>Give the borrowed yield back</summary>
          <p>The yield would be unknown again, and what rests on it only known as “at least”.</p>
          <GiveBackForm action={giveBack} basedOn={facts} hidden={{ id: cut.id }} />
        </details>
      </IfMay>
      <details className="stands" open={asked !== ""}>
        <summary>Borrow another yield</summary>
        {choosing}
      </details>
    </>
  );
}

/** The tables: a search that asks the same page again, and the rows to choose from. */
function Choosing({ open, cut, asked, page, facts }: { readonly open: OpenKitchen; readonly cut: Cut; readonly asked: string; readonly page: string; readonly facts: ReturnType<typeof basedOn> }) {
  const { live, kitchen } = open;
  const originName = factName(live.book, cut.of.kind, cut.of.id);
  const byWeight = kindOfOrigin(live.book, cut.of) === "mass";
  const { rows, guess } = offered(asked, `${originName} ${cut.name}`);
  return (
    <>
      {byWeight ? (
        <>
          <Find page={page} label="Find a food in the tables" asked={asked} found={rows.length} all={publishedYields().length} locale={kitchen.locale} />
          {guess !== "" && <p className="quiet">What the tables have under “{guess}”. Choose the row whose preparation is yours.</p>}
          {asked === "" && guess === "" && <p className="quiet">The tables have nothing under the name of {originName}. Find it by another word, or type a yield by hand.</p>}
          {rows.length > MOST_CHOICES && <p className="quiet">The first {MOST_CHOICES} of {rows.length} are shown: add a word.</p>}
        </>
      ) : <p>Published yields are of weight, and {originName} is not costed by weight. A yield typed by hand has to be of what it is costed by.</p>}
      <BorrowForm key={asked} action={borrowYield} basedOn={facts} hidden={{ id: cut.id }} choices={byWeight ? rows.slice(0, MOST_CHOICES).map((row) => borrowChoice(row, kitchen)) : []} />
    </>
  );
}

function say({ share, what, source, on }: BorrowedYield, kitchen: OpenKitchen["kitchen"]): string {
  return `${printShare(toDecimal(share), kitchen)} % usable, ${what}. ${source}. Taken up ${printDay(on, kitchen)}.`;
}
