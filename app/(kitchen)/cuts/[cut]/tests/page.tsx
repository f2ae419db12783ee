/**
 * The yield history of one cut: how many tests, what they yield together, how sure that is, whether the newest is usual
 * and whether they still stand; then test by test, with what was left out and why; and the tests it stands on, chosen.
 * Somebody who sees no money sees the weights.
 */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { borrowedInUse, factName, matchingTests } from "@/lib/book";
import { basedOn } from "@/lib/store";
import { printDay, printShare, ratio } from "@/lib/measure";
import { sayAgainstEarlier, sayInterval, sayStale } from "@/lib/yield";
import { PoolForm } from "@/components/cut/PoolForm";
import { ButtonLink } from "@/components/form";
import { Term } from "@/components/glossary/Term";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { type OpenKitchen, openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { poolTests } from "../../actions";
import { poolChoices } from "../../pool-choices";
import { Chart } from "./chart";
import { Compared, CompareForm, readComparing } from "./compared";
import { type CutHistory, historyOf } from "./history";
import { CostToday, Intervals, Outliers, Tests, inMidSentence } from "./parts";

export const metadata: Metadata = { title: "Tests behind a cut" };

interface Props {
  readonly params: Promise<{ readonly cut: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}

export default async function TestsBehind({ params, searchParams }: Props) {
  const id = pathId((await params).cut);
  const open = await openKitchen("read the book");
  const { live, kitchen, may } = open;
  const cut = live.book.shelves.cut.get(id);
  if (cut === undefined) notFound();
  const seesMoney = may("see money");
  const history = await historyOf(open, cut);
  const comparing = readComparing(await searchParams, history, live.today);
  const stale = history.stale.filter(({ code }) => seesMoney || code !== "price-moved");
  const at = encodeURIComponent(id);
  const origin = factName(live.book, cut.of.kind, cut.of.id);
  const matching = matchingTests(live.book, cut);
  const specs = [...live.book.shelves.spec.values()].filter((spec) => spec.cutId === id);
  const trail = seesMoney ? [{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${at}` }] : [{ name: "Tests", href: "/tests" }];
  return (
    <>
      <PageTop title={`Tests behind ${cut.name}`} trail={trail} of={`${history.rows.length} ${history.rows.length === 1 ? "test" : "tests"} of ${origin} · as of ${printDay(live.today, kitchen)}`}
        answer={<Answer history={history} kitchen={kitchen} doubts={stale.length} borrowed={borrowedInUse(cut) !== null} />}>
        <IfMay deed="record a test"><ButtonLink href={`/tests/new?${cut.of.kind}=${encodeURIComponent(cut.of.id)}${matching[0] === undefined ? "" : `&kind=${matching[0].test.kind}`}`}>Record a new test</ButtonLink></IfMay>
      </PageTop>

      {specs.length > 0 && <p>Cards for the station: {specs.map((spec, index) => <span key={spec.id}>{index > 0 && ", "}<Link href={`/specs/${encodeURIComponent(spec.id)}/card`}>{spec.name}</Link></span>)}.</p>}
      {stale.length > 0 && <><h2>Why to doubt it</h2><ul>{stale.map((reason, index) => <li key={index}>{sayStale(reason, kitchen)}</li>)}</ul></>}

      {history.rows.length > 0 && (
        <>
          <h2>Test by test</h2>
          <Tests history={history} kitchen={kitchen} seesMoney={seesMoney} />
          <Outliers history={history} kitchen={kitchen} />
          {seesMoney && <CostToday cascade={live.cascade} cut={cut} history={history} kitchen={kitchen} />}

          <h2>How sure it is</h2>
          <Intervals history={history} kitchen={kitchen} />

          <h2>One test after another</h2>
          <Chart history={history} kitchen={kitchen} />

          <h2 id="compare">Compared</h2>
          <CompareForm comparing={comparing} />
          <Compared history={history} comparing={comparing} kitchen={kitchen} />
        </>
      )}

      {seesMoney && matching.length > 0 && (
        <>
          <h2 id="choose">Which tests it stands on</h2>
          <p>The cost follows the ticked tests. A test that is <Term of="left out">left out</Term> stays on file beside its reason; nothing leaves by itself. The tests it stood on before can be given back to it on <Link href={`/cuts/${at}`}>the page of the cut</Link>.</p>
          <PoolForm action={poolTests} basedOn={basedOn(live, [{ kind: "cut", id }])} hidden={{ id }} tests={poolChoices(live.book, cut.partKey, matching)} />
        </>
      )}
    </>
  );
}

/** How many tests, what they yield, how sure, whether the newest is usual, whether they are stale. */
function Answer({ history, kitchen, doubts, borrowed }: { readonly borrowed: boolean; readonly history: CutHistory; readonly kitchen: OpenKitchen["kitchen"]; readonly doubts: number }) {
  const { behind, counted, pooled, mean, newest } = history;
  const latest = counted.at(-1);
  const undecided = counted.length - behind.length;
  const out = history.rows.length - counted.length;
  return (
    <>
      {pooled.ok
        ? <>{behind.length === 1 ? "It stands on one test" : `It stands on ${behind.length} tests, pooled by weight`}: <strong>{printShare(ratio.toDecimal(pooled.value.pooled), kitchen)} % usable</strong>.</>
        : borrowed ? "No test of this house stands behind it: until one does, its yield is borrowed." : "No test stands behind this cut yet, so its yield is unknown."}
      {undecided > 0 && <> {undecided === 1 ? "One more test is" : `${undecided} more tests are`} neither pooled nor left out.</>}
      {out > 0 && <> {out === 1 ? "One test is" : `${out} tests are`} left out.</>}
      {mean.ok ? <> {counted.length === behind.length ? sayInterval(mean.value, kitchen) : <>Of all {counted.length} that are not left out, {inMidSentence(sayInterval(mean.value, kitchen))}</>}</> : counted.length === 1 && <> One test tells a yield, but not how sure it is.</>}
      {newest !== null && latest?.on && counted.length > 1 && <> The newest, of {printDay(latest.on, kitchen)}: {sayAgainstEarlier(newest, kitchen)}</>}
      {behind.length > 0 && (doubts === 0 ? " Nothing says that it is out of date." : <> <strong>{doubts === 1 ? "One thing says to doubt it" : `${doubts} things say to doubt it`}</strong>, see below.</>)}
    </>
  );
}
