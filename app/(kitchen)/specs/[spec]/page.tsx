/** One portion spec: what it costs, how many come whole from each piece and what is left over, and what rests on it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { costOf, explain, usersOf } from "@/lib/cascade";
import { printDay, printFactor, printMoney, printQuantity, quantityText } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { weightIn, wholePortionLine } from "@/lib/yield";
import { ChangeForm } from "@/components/change/ChangeForm";
import { SpecForm } from "@/components/cut/SpecForm";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Missing } from "@/components/figure/Missing";
import { UsedBy } from "@/components/figure/UsedBy";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { saveSpec, withdrawSpec } from "../../cuts/actions";
import { quantityInput, rateInput } from "../../tests/sheet-props";

export const metadata: Metadata = { title: "Portion" };

export default async function SpecPage({ params }: { readonly params: Promise<{ readonly spec: string }> }) {
  const id = pathId((await params).spec);
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const spec = book.shelves.spec.get(id);
  const cost = spec && costOf(cascade, { kind: "spec", id });
  const cut = spec && book.shelves.cut.get(spec.cutId);
  if (!spec || !cost || !cut) notFound();
  const opened = explain(cascade, { kind: "spec", id });
  const about = opened?.about.kind === "spec" ? opened.about : null;
  const tests = cut.testIds.flatMap((testId) => book.shelves.test.get(testId) ?? []);
  const counted = tests.length === 0 ? null : wholePortionLine(tests, cut.partKey, spec.size);
  const unit = tests[0]?.billed.unit ?? spec.size.unit;
  const money = printMoney(cost.amount, kitchen);
  const facts = [{ kind: "spec", id }] as const;
  return (
    <>
      <PageTop title={spec.name} trail={[{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${encodeURIComponent(cut.id)}` }]}
        of={<>{quantityText(spec.size, kitchen)}{spec.tolerance !== null && <> ± {quantityText(spec.tolerance, kitchen)}</>} of <Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link>{spec.thickness !== "" && <> · {spec.thickness}</>} · as of {printDay(live.today, kitchen)}</>}
        answer={cost.missing.length > 0
          ? <><Missing atLeast={money} missing={cost.missing} />.<RestsOnBorrowed borrowed={cost.borrowed} /></>
          : <>A portion costs <Figure of={{ figure: money, unit: "" }} href={figureHref({ kind: "spec", id })} label={`What ${spec.name} costs`} strong />, {spec.costing === "whole" ? "counted in whole portions with the end left over" : "by weight"}{about?.factor && <>: {printFactor(about.factor.perPortion, kitchen)} {about.factor.unit} of {about.factor.name} paid for with each</>}.<RestsOnBorrowed borrowed={cost.borrowed} /></>} />

      <h2>From each piece</h2>
      {counted === null || !counted.ok
        ? <p className="quiet">{counted === null ? "No test stands behind the cut, so pieces cannot be counted." : counted.problems[0]?.sentence}</p>
        : (
          <Table caption="Portions are counted whole and rounded down; what is left of one piece cannot be added to another" narrow
            rows={counted.value.counted.pieces.map((piece, index) => ({ ...piece, no: index + 1 }))} rowKey={(piece) => String(piece.no)} columns={[
              { key: "piece", head: "Piece", cell: (piece) => <Figure of={printQuantity(weightIn(piece.piece, unit), kitchen)} /> },
              { key: "portions", head: "Whole portions", figure: true, width: 5, cell: (piece) => piece.portions.toString() },
              { key: "end", head: "Left over", figure: true, width: 4.5, cell: (piece) => <Figure of={printQuantity(weightIn(piece.end, spec.size.unit), kitchen)} /> },
            ]} />
        )}
      {counted?.ok && (
        <p>
          {counted.value.counted.portions.toString()} {counted.value.counted.portions === 1n ? "portion" : "portions"} from {counted.value.counted.pieces.length} {counted.value.counted.pieces.length === 1 ? "piece" : "pieces"} as tested, <Figure of={printQuantity(weightIn(counted.value.counted.ends, spec.size.unit), kitchen)} /> left over in all.
          {about?.byWeight && spec.costing === "whole" && <> By weight alone a portion would cost {printMoney(about.byWeight, kitchen)}; the ends make the difference.</>}
          {spec.costing === "by-weight" && <> Told by weight, the cost leaves these ends out.</>}
        </p>
      )}
      {spec.trim !== "" && <p>Trim: {spec.trim}</p>}

      <h2>Where it goes</h2>
      <UsedBy users={usersOf(book, { kind: "spec", id })} nothing="No recipe or dish uses this portion yet." />

      <h2>Change this portion</h2>
      <p className="quiet">Try another size before you record it: every recipe and dish that moves is shown. If the size changes, the weight promised on the menu must follow.</p>
      <SpecForm action={saveSpec} basedOn={basedOn(live, facts)} recordLabel="Record the change" hidden={{ id, cutId: spec.cutId }} values={{
        name: spec.name, size: quantityInput(spec.size), tolerance: spec.tolerance === null ? "" : quantityInput(spec.tolerance), thickness: spec.thickness, trim: spec.trim,
        costing: spec.costing, endValue: spec.endValue === null ? "" : rateInput(spec.endValue),
      }} />
      <IfMay deed="change specs">
        <details className="stands">
          <summary>Take this portion off the book</summary>
          <p>It stays in the record. It cannot be taken off while a recipe or a dish uses it.</p>
          <ChangeForm action={withdrawSpec} basedOn={basedOn(live, facts)} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
        </details>
      </IfMay>
    </>
  );
}
