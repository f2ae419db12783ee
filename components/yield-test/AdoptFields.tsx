/**
 * Which cut a test stands behind from now on: a new one, or one made from the same thing, alone or pooled by weight with
 * the tests it stands on already. The same fields serve the sheet (adopted in the same step) and the page of a test.
 */
"use client";
import { useState } from "react";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, RadioField, SelectField, TextField, TickField } from "@/components/form";
import { useField } from "@/components/form/FormContext";
import { JOINT, REPRICING } from "@/components/cut/choices";
import "./yield-test.css";

/** A cut, and what it is made from: "item:…" or "cut:…". */
export interface CutChoice extends Choice {
  readonly of: string;
  /** How many tests it stands on. */
  readonly tests: number;
}

export function AdoptFields({ cuts, severalMains }: {
  readonly cuts: readonly CutChoice[];
  /** null while the parts are still being typed. */
  readonly severalMains: boolean | null;
}) {
  const [adopt, setAdopt] = useState(useField("adopt").start);
  const known = cuts.find((cut) => cut.value === adopt);
  const isNew = adopt === "new";
  return (
    <fieldset>
      <legend>Which cut does it stand behind?</legend>
      <div className="fields">
        <SelectField name="adopt" label="Adopt for" choices={[{ value: "new", label: "A new cut" }, ...cuts]} none="Not yet" onChoice={setAdopt}
          hint="From then on the cut’s cost follows from this test" />
        {isNew && <TextField name="adoptName" label="Name of the cut" required />}
        {(isNew || known !== undefined) && (
          <SelectField key={isNew ? "new" : "known"} name="repricing" label="How a new dealer’s price reaches it" choices={isNew ? REPRICING : [{ value: "keep", label: "As the cut says already" }, ...REPRICING]} />
        )}
        {(isNew || known !== undefined) && severalMains !== false && (
          <SelectField key={isNew ? "joint new" : "joint known"} name="joint" label="How the cost is shared among usable parts" choices={isNew ? JOINT : [{ value: "keep", label: "As the cut says already" }, ...JOINT]}
            hint={severalMains === null ? "Matters only where several parts are usable; the first of them is the cut" : "The total is the same under each"} />
        )}
      </div>
      {known !== undefined && known.tests > 0 && (
        <TickField name="adoptPooled" label={`Pooled by weight with the ${known.tests === 1 ? "test" : `${known.tests} tests`} it stands on already; else this test alone`} />
      )}
    </fieldset>
  );
}

/** Adopts a recorded test: which part of it, for which cut. */
export function AdoptForm({ cuts, parts, ...form }: Pick<ChangeFormProps, "action" | "basedOn" | "hidden" | "id"> & { readonly cuts: readonly CutChoice[]; readonly parts: readonly Choice[] }) {
  return (
    <ChangeForm {...form} deed="change tests and cuts" recordLabel="Adopt this test" tryLabel="See what moves">
      {parts.length > 1 && <RadioField name="partKey" label="Which part is the cut?" choices={parts} />}
      {parts.length === 1 && <input type="hidden" name="partKey" value={parts[0]?.value ?? ""} />}
      <AdoptFields cuts={cuts} severalMains={parts.length > 1} />
    </ChangeForm>
  );
}
