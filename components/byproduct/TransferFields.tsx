/**
 * At which price the house passes a by-product on, where it goes, and how much of it is used. One of three prices counts;
 * the fields of the other two may stay as they are. The list of names stands once on the page: `PickList id="in-place-of"`.
 */
"use client";
import { type Kind, type Unit, UNITS } from "@/lib/measure";
import { type Choice, PickField, QuantityField, RadioField, RateField, TextField } from "@/components/form";

export const TRANSFER_KINDS: readonly Choice[] = [
  { value: "item", label: "what it takes the place of costs, less the work" },
  { value: "market", label: "what a market pays" },
  { value: "fixed", label: "a fixed price" },
];

export function TransferFields({ kind, unit }: { readonly kind: Kind; /** What a price is for where nobody says. */ readonly unit: Unit }) {
  const rate = { bare: unit, kinds: [kind] } as const;
  return (
    <>
      <fieldset>
        <legend>At which price it is passed on</legend>
        <p className="quiet">What it comes off is credited with this price, and what it goes into is charged with it: the same number. What nobody uses counts nothing.</p>
        <RadioField name="transfer.kind" label="It is worth" choices={TRANSFER_KINDS} />
        <div className="fields">
          <PickField name="transfer.inPlaceOf" label="It takes the place of" list="in-place-of" hint="The item that would be bought without it" />
          <RateField name="transfer.less" label="Less the work still to be done" hint="Grinding, cleaning, cooking; empty: none" {...rate} />
        </div>
        <div className="fields">
          <RateField name="transfer.rate" label="A market’s price, or the fixed one" hint={`For 1 ${UNITS[unit].one}, unless you say`} {...rate} />
          <TextField name="transfer.source" label="Where that price comes from" hint="A price report with its week; how the house decided" />
        </div>
      </fieldset>
      <fieldset>
        <legend>Where it goes</legend>
        <div className="fields">
          <TextField name="transfer.destination" label="Into what" hint="Burger grind, stock, staff meal" wide />
        </div>
        <p className="quiet">How much comes off and how much of it is used, over the same weeks. The credit is held to what is used; left empty, all of it is taken for used.</p>
        <div className="fields">
          <QuantityField name="transfer.use.produced" label="Comes off" kinds={[kind]} bare={unit} />
          <QuantityField name="transfer.use.used" label="Is used" kinds={[kind]} bare={unit} />
          <TextField name="transfer.use.over" label="Over which weeks" hint="A usual week, November" />
        </div>
      </fieldset>
    </>
  );
}
