/**
 * Tests of one dealer, cutter or time held against those of another. What is compared stands in the address
 * (?by=cutter, ?by=date&from=2026-06-02), so that it can be sent to somebody and works without a script.
 */
import { type Ratio, printDay, printShare, ratio } from "@/lib/measure";
import { compareGroups, confoundings, sayComparison, sayConfounding, spreadOf } from "@/lib/yield";
import { isDay } from "@/lib/book";
import { Button } from "@/components/form";
import { Figure } from "@/components/figure/Figure";
import { type Column, Table } from "@/components/table/Table";
import type { OpenKitchen } from "../../../open-kitchen";
import { type ComparedBy, type CutHistory, groupsBy } from "./history";

export interface Comparing {
  readonly by: ComparedBy;
  /** For "date": the first day of the later group. */
  readonly from: string;
  /** What was asked and is not a day. */
  readonly notADay: string | null;
}

/** What the address asks to compare; by dealer where it asks nothing, and from the middle test's day. */
export function readComparing(asked: Readonly<Record<string, string | readonly string[] | undefined>>, history: CutHistory, today: string): Comparing {
  const by = asked["by"];
  const from = typeof asked["from"] === "string" ? asked["from"].trim() : "";
  const middle = history.counted[Math.floor(history.counted.length / 2)]?.on ?? today;
  const good = from === "" || isDay(from);
  return { by: by === "cutter" || by === "date" ? by : "dealer", from: from !== "" && good ? from : middle, notADay: good ? null : from.slice(0, 40) };
}

export function CompareForm({ comparing }: { readonly comparing: Comparing }) {
  return (
    <form className="form" method="get" action="#compare">
      <div className="fields">
        <div className="field">
          <label htmlFor="compare-by">Compare by</label>
          <select id="compare-by" name="by" defaultValue={comparing.by}>
            <option value="dealer">Dealer</option>
            <option value="cutter">Who cut</option>
            <option value="date">Before and since a day</option>
          </select>
        </div>
        <div className={comparing.notADay === null ? "field" : "field bad"}>
          <label htmlFor="compare-from">The day, for before and since</label>
          <input id="compare-from" name="from" type="date" defaultValue={comparing.from} min="1990-01-01" max="2199-12-31" aria-describedby={comparing.notADay === null ? undefined : "compare-from-wrong"} aria-invalid={comparing.notADay === null ? undefined : true} />
          {comparing.notADay !== null && <p className="wrong" id="compare-from-wrong">“{comparing.notADay}” is not a calendar day: give one such as 2026-06-02.</p>}
        </div>
        <div className="field" style={{ alignSelf: "end", justifySelf: "start" }}><Button type="submit" plain>Compare</Button></div>
      </div>
    </form>
  );
}

const WHAT: Readonly<Record<ComparedBy, string>> = { dealer: "dealer", cutter: "cutter", date: "time" };

export function Compared({ history, comparing, kitchen }: { readonly history: CutHistory; readonly comparing: Comparing; readonly kitchen: OpenKitchen["kitchen"] }) {
  const { groups, known, unknown } = groupsBy(history, comparing.by, comparing.from, kitchen);
  const compared = groups.length < 2 ? null : compareGroups(groups);
  const share = (of: Ratio) => <Figure of={{ figure: printShare(ratio.toDecimal(of), kitchen), unit: "%" }} />;
  const rows = groups.map((group) => ({ ...group, spread: spreadOf(group.tests) }));
  const columns: readonly Column<(typeof rows)[number]>[] = [
    { key: "name", head: WHAT_HEAD[comparing.by], cell: ({ name }) => name },
    { key: "tests", head: "Tests", figure: true, width: 3.5, cell: ({ tests }) => tests.length },
    { key: "mean", head: "Mean yield", figure: true, width: 5.5, cell: ({ spread }) => (spread.ok ? share(spread.value.mean) : "–") },
    { key: "range", head: "From and to", figure: true, fold: "phone", cell: ({ spread }) => (spread.ok ? <>{share(spread.value.least.yield)} to {share(spread.value.greatest.yield)}</> : "") },
  ];
  const beside = compared?.ok ? confoundings(groups, known, WHAT[comparing.by]) : [];
  return (
    <>
      {compared === null && <p>{groups[0] === undefined ? "Nobody has said that of any of these tests" : `Every test that says it is of ${groups[0].name}`}: there is nothing to compare it with yet.</p>}
      {compared?.ok === false && compared.problems.map(({ sentence }) => <p key={sentence}>{sentence}</p>)}
      {compared?.ok === true && compared.value.map((one) => <p key={`${one.a} ${one.b}`}>{sayComparison(one, kitchen)}</p>)}
      {beside.map((one) => <p key={`${one.a} ${one.b} ${one.what}`} role="note"><strong>Beware:</strong> {sayConfounding(one, WHAT[comparing.by])}</p>)}
      {groups.length > 0 && <Table narrow caption={`${history.counted.length - unknown} tests that are not left out${unknown > 0 ? `; of ${unknown} more it is not said` : ""}${comparing.by === "date" ? `, before and since ${printDay(comparing.from, kitchen)}` : ""}`} columns={columns} rows={rows} rowKey={({ name }) => name} />}
    </>
  );
}

const WHAT_HEAD: Readonly<Record<ComparedBy, string>> = { dealer: "Dealer", cutter: "Cut by", date: "When" };
