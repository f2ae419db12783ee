/**
 * A worth that goes round in a circle, explained, and the three ways out of it. Stands inside the form that would have made
 * the circle: what is chosen goes with the next try, which shows what it does before anything is recorded.
 */
"use client";
import type { Unit } from "@/lib/measure";
import { Button, RadioField, RateField, TextField } from "@/components/form";
import { Table } from "@/components/table/Table";
import type { LoopView } from "./loop-view";

export function LoopWays({ loop, busy }: { readonly loop: LoopView; readonly busy: boolean }) {
  const last = loop.worths.every((worth) => worth.last !== null);
  return (
    <fieldset className="loop-ways">
      <legend>A worth that goes round in a circle</legend>
      <p>{loop.way}. A by-product is to be worth what it earns in something that is made, in the end, of what it came off: so nothing in the circle has a cost until one price in it is fixed. With a price of its own the by-product becomes one of the house, credited and charged with that price from then on.</p>
      <Table narrow quietCaption caption="What each way out comes to" rows={loop.worths} rowKey={(worth) => worth.label} columns={[
        { key: "worth", head: "By-product", cell: (worth) => <>{worth.label}{worth.working !== "" && <span className="from">{worth.working}</span>}</> },
        { key: "last", head: "At its last cost", figure: true, width: 8, fold: "phone", cell: (worth) => worth.last ?? <span className="quiet">not known</span> },
        { key: "solved", head: "Worked out together", figure: true, width: 9, cell: (worth) => worth.solved ?? <span className="quiet">none</span> },
      ]} />
      {loop.unsolved !== null && <p><strong>No price comes out by working it out together.</strong> {loop.unsolved}</p>}
      <RadioField name="loop.way" label="Give it" start={loop.chosen} choices={[
        ...(loop.unsolved === null ? [{ value: "solved", label: "the price at which it is worth just what it earns" }] : []),
        ...(last ? [{ value: "last", label: "what that cost before the circle, fixed" }] : []),
        { value: "market", label: "what a market pays, which never goes round" },
      ]} />
      <div className="fields">
        {loop.worths.map((worth, at) => <RateField key={worth.label} name={`loop.rate.${at}`} label={loop.worths.length === 1 ? "The market’s price" : `The market’s price: ${worth.label}`} bare={worth.unit as Unit} hint="Only for the third way" />)}
        <TextField name="loop.source" label="Which market" hint="A price report with its week, the renderer’s offer" />
      </div>
      <p><Button type="submit" name="intent" value="try" plain aria-disabled={busy}>Try it that way</Button></p>
    </fieldset>
  );
}
