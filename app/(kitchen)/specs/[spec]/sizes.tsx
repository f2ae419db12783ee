/** Which sizes divide the pieces well: counted out around the portion's own, on the pieces as tested. */
import type { Cut, FactOf, PortionSpec, YieldTest } from "@/lib/book";
import { type Ratio, UNITS, moneyFigure, printQuantity, printShare, quantityText, ratio } from "@/lib/measure";
import { type SizeTried, overByWeight, rateInBase, sizesTried, weightIn, wholeCost } from "@/lib/yield";
import { Figure } from "@/components/figure/Figure";
import { type Column, Table } from "@/components/table/Table";
import { currencySign } from "../../change-flow/ripple-view";

export function Sizes({ spec, cut, tests, C, kitchen }: {
  readonly spec: PortionSpec;
  readonly cut: Cut;
  readonly tests: readonly YieldTest[];
  /** What the cut costs per base unit; null while that is not wholly known. */
  readonly C: Ratio | null;
  readonly kitchen: FactOf["kitchen"];
}) {
  const tried = tests.length === 0 ? null : sizesTried(tests, cut.partKey, spec.size);
  if (tried === null || !tried.ok) return null;
  const endValue = spec.endValue === null ? ratio.ZERO : rateInBase(spec.endValue);
  const good = tried.value.filter((row) => row.dividesWell);
  const columns: readonly Column<SizeTried>[] = [
    { key: "size", head: "Size", cell: (row) => <><Figure of={printQuantity(row.size, kitchen)} strong={row.asked} />{row.asked && <span className="quiet"> as it is</span>}{row.dividesWell && <strong> divides well</strong>}</> },
    { key: "portions", head: "Portions", figure: true, width: 4.5, cell: (row) => row.counted.portions.toString() },
    { key: "end", head: "Left over", figure: true, width: 6, cell: (row) => <Figure of={printQuantity(weightIn(row.counted.ends, row.size.unit), kitchen)} /> },
    { key: "share", head: "Of the pieces", figure: true, fold: "phone", label: "of the pieces", cell: (row) => <Figure of={{ figure: printShare(ratio.toDecimal(row.endShare), kitchen), unit: "%" }} /> },
    ...(C === null ? [] : [
      { key: "cost", head: `A portion, ${currencySign(kitchen)}`, label: "a portion", figure: true, fold: "phone" as const, cell: (row: SizeTried) => moneyFigure(ratio.toDecimal(wholeCost(row, C, endValue)), kitchen) },
    ]),
    { key: "extra", head: "Over by weight", label: "over by weight", figure: true, fold: "phone", cell: (row) => {
      const over = C === null ? row.extra : overByWeight(row, C, endValue);
      return over === null ? "" : <Figure of={{ figure: printShare(ratio.toDecimal(over), kitchen), unit: "%" }} />;
    } },
  ];
  return (
    <>
      <h2 id="sizes">Sizes that divide the piece well</h2>
      <p>
        {good.length === 0 ? "None of the sizes near this one divides these pieces well." : <>{good.map((row, index) => <span key={index}>{index > 0 && (index === good.length - 1 ? " and " : ", ")}<strong>{quantityText(row.size, kitchen)}</strong></span>)} {good.length === 1 ? "leaves" : "leave"} least of the sizes near {good.length === 1 ? "it" : "them"}.</>}
        {" "}By chance about half a portion is lost of each piece.
      </p>
      <Table caption={`Counted out on ${tried.value[0]?.counted.pieces.length === 1 ? "the piece" : `the ${tried.value[0]?.counted.pieces.length ?? 0} pieces`} as tested; ${spec.endValue === null ? "what is left over is worth nothing" : `what is left over is worth ${moneyFigure(ratio.toDecimal(ratio.mul(endValue, ratio.fromExact(UNITS[spec.endValue.per].base))), kitchen)} ${currencySign(kitchen)} / ${UNITS[spec.endValue.per].one}`}`}
        columns={columns} rows={tried.value} rowKey={(row) => row.size.amount} narrow />
    </>
  );
}
