/** One portion spec: what it costs and gives away, how many come whole from each piece, which sizes would divide it well, and what rests on it. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { cutWeight } from "@/lib/book";
import { costExactly, costOf, explain, usersOf } from "@/lib/cascade";
import { exact, printDay, printFactor, printMoney, printQuantity, quantityText, ratio } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { pieceOfPortion, rateInBase, usualThicknessTolerance, weightIn, wholePortionLine } from "@/lib/yield";
import { ChangeForm } from "@/components/change/ChangeForm";
import { SpecForm } from "@/components/cut/SpecForm";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Missing } from "@/components/figure/Missing";
import { UsedBy } from "@/components/figure/UsedBy";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { saveSpec, withdrawSpec } from "../../cuts/actions";
import { specValues } from "../spec-values";
import { GivenAway } from "./given-away";
import { Sizes } from "./sizes";

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
  const counted = tests.length === 0 ? null : wholePortionLine(tests, cut.partKey, cutWeight(spec));
  const unit = tests[0]?.billed.unit ?? spec.size.unit;
  const money = printMoney(cost.amount, kitchen);
  const facts = [{ kind: "spec", id }] as const;
  const at = encodeURIComponent(id);
  const cutCost = costOf(cascade, { kind: "cut", id: cut.id });
  const C = cutCost === null || cutCost.missing.length > 0 ? null : costExactly(cascade, { kind: "cut", id: cut.id });
  const onePiece = spec.pieces === null || spec.pieces === exact("1") ? null : pieceOfPortion(spec.size, spec.pieces);
  const thickness = usualThicknessTolerance(spec.thickness, kitchen);
  const endsValue = counted?.ok && spec.endValue !== null ? printMoney(ratio.toDecimal(ratio.mul(counted.value.counted.ends, rateInBase(spec.endValue))), kitchen) : null;
  return (
    <>
      <PageTop title={spec.name} trail={[{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${encodeURIComponent(cut.id)}` }]}
        of={<>{quantityText(spec.size, kitchen)}{spec.tolerance !== null && <> ± {quantityText(spec.tolerance, kitchen)}</>} of <Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link>{spec.thickness !== "" && <> · {spec.thickness}</>} · as of {printDay(live.today, kitchen)}</>}
        answer={cost.missing.length > 0
          ? <><Missing atLeast={money} missing={cost.missing} />.<RestsOnBorrowed borrowed={cost.borrowed} /></>
          : <>A portion costs <Figure of={{ figure: money, unit: "" }} href={figureHref({ kind: "spec", id })} label={`What ${spec.name} costs`} strong />, {spec.costing === "whole" ? "counted in whole portions with the end left over" : "by weight"}{about?.factor && <>: {printFactor(about.factor.perPortion, kitchen)} {about.factor.unit} of {about.factor.name} paid for with each</>}.<RestsOnBorrowed borrowed={cost.borrowed} /></>}>
        <ButtonLink href={`/specs/${at}/card`} plain>Card for the station</ButtonLink>
        <ButtonLink href={`/specs/${at}/prices`} plain>By price and size</ButtonLink>
        <ButtonLink href={`/specs/${at}/make-or-buy`} plain>Make or buy</ButtonLink>
      </PageTop>
      <GivenAway spec={spec} C={C} kitchen={kitchen} />

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
          {counted.value.counted.portions.toString()} {counted.value.counted.portions === 1n ? "portion" : "portions"} from {counted.value.counted.pieces.length} {counted.value.counted.pieces.length === 1 ? "piece" : "pieces"} as tested, <Figure of={printQuantity(weightIn(counted.value.counted.ends, spec.size.unit), kitchen)} /> left over in all.{endsValue !== null && <> The ends are worth {endsValue}.</>}{spec.meanCut !== null && <> Counted at {quantityText(cutWeight(spec), kitchen)}, as really cut.</>}
          {about?.byWeight && spec.costing === "whole" && <> By weight alone a portion would cost {printMoney(about.byWeight, kitchen)}; the ends make the difference.</>}
          {spec.costing === "by-weight" && <> Told by weight, the cost leaves these ends out.</>}
        </p>
      )}
      {onePiece !== null && <p>{spec.pieces} pieces to a portion, {quantityText(onePiece, kitchen)} each.</p>}
      {spec.trim !== "" && <p>Trim: {spec.trim}</p>}
      {thickness !== null && <p className="quiet">Bought to this thickness, ± {thickness} is usual.</p>}

      <Sizes spec={spec} cut={cut} tests={tests} C={C} kitchen={kitchen} />

      <h2>Where it goes</h2>
      <UsedBy users={usersOf(book, { kind: "spec", id })} nothing="No recipe or dish uses this portion yet." />

      <h2>Change this portion</h2>
      <p className="quiet">Try another size before you record it: every recipe and dish that moves is shown. If the size changes, the weight promised on the menu must follow.</p>
      <SpecForm action={saveSpec} basedOn={basedOn(live, facts)} recordLabel="Record the change" hidden={{ id, cutId: spec.cutId }} values={specValues(spec)} />
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
