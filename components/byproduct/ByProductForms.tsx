/** The forms of by-products: how one is passed on, a part made one of the house, a worth that goes round. */
"use client";
import type { Kind, Unit } from "@/lib/measure";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, PickList, SelectField, TextField, TickField, type Values } from "@/components/form";
import { TransferFields } from "./TransferFields";

type Form = Pick<ChangeFormProps, "action" | "basedOn" | "hidden" | "deed" | "id">;

export interface Measured {
  readonly kind: Kind;
  readonly unit: Unit;
  /** The items that it may take the place of, by name. */
  readonly items: readonly string[];
}

export function TransferForm({ values, kind, unit, items, ...form }: Form & Measured & { readonly values: Values }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Record how it is passed on">
      <PickList id="in-place-of" labels={items} />
      <TransferFields kind={kind} unit={unit} />
    </ChangeForm>
  );
}

/** `alike`: other parts that may be the same thing. */
export function MakeByProductForm({ values, kind, unit, items, alike, ...form }: Form & Measured & { readonly values: Values; readonly alike: readonly Choice[] }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Make it a by-product of the house">
      <PickList id="in-place-of" labels={items} />
      <div className="fields">
        <TextField name="name" label="Name of the by-product" hint="As recipes will ask for it" required />
        <TextField name="section" label="Shelf" hint="By-products" />
      </div>
      {alike.length > 0 && (
        <fieldset>
          <legend>It comes off these, too</legend>
          {alike.map(({ value, label }) => <TickField key={value} name={`also.${value}`} label={label} />)}
        </fieldset>
      )}
      <TransferFields kind={kind} unit={unit} />
    </ChangeForm>
  );
}

/** A part valued at what it earns in something: tried, the form says the way round and the ways out. */
export function WorthForm({ values, parts, earners, ...form }: Form & { readonly values: Values; readonly parts: readonly Choice[]; readonly earners: readonly Choice[] }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Record what it is worth">
      <div className="fields">
        <SelectField name="part" label="The part" choices={parts} required />
        <SelectField name="earns" label="Is worth what this costs" choices={earners} required />
      </div>
    </ChangeForm>
  );
}

