/** A recipe's lines at the size asked for, beside what was written: what to weigh out, what was rounded, what comes out broken. */
import { type ConversionFigure } from "@/lib/cascade";
import { type FactOf } from "@/lib/book";
import { printDay, quantityText } from "@/lib/measure";
import { Table } from "@/components/table/Table";
import type { LineAtSize } from "./scaled";

export function ScaledLines({ caption, lines, through, kitchen }: {
  readonly caption: string;
  readonly lines: readonly LineAtSize[];
  /** By a line's key: the recorded figures its cost is reached through. */
  readonly through: ReadonlyMap<string, readonly ConversionFigure[]>;
  readonly kitchen: FactOf["kitchen"];
}) {
  return (
    <Table narrow caption={caption} rows={lines} rowKey={(line) => line.key} columns={[
      { key: "name", head: "What goes in", cell: (line) => (
        <>
          {line.name}
          {line.basis !== "" && <span className="from">{line.basis}</span>}
          {line.note !== "" && <span className="from">{line.note}</span>}
          {line.broken !== null && <span className="from"><strong>Comes out broken:</strong> take {line.broken}, or weigh it</span>}
          {(through.get(line.key) ?? []).map((figure) => <span className="from" key={figure.what}>by {figure.what === "density" ? "its density" : "what one weighs"} ({figure.source}, {printDay(figure.on, kitchen)})</span>)}
        </>
      ) },
      { key: "written", head: "As written", figure: true, fold: "phone", label: "as written", cell: (line) => <span className="quiet">{quantityText(line.written, kitchen)}</span> },
      { key: "now", head: "To measure", figure: true, width: 8, cell: (line) => <>{!line.exact && <span className="quiet small">about </span>}<strong>{line.quantity}</strong></> },
    ]} />
  );
}
