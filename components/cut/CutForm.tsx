/** The form of a cut: its name and specification, which tests it stands on, how a new price reaches it. */
"use client";
import "@/components/yield-test/yield-test.css";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, type ChoiceGroup, type Values, RadioField, SelectField, TextField, TickField } from "@/components/form";
import { JOINT, REPRICING } from "./choices";

export interface CutFormProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> {
  readonly values: Values;
  /** What a new cut can be made from; null for a cut that has an origin. */
  readonly origins: readonly ChoiceGroup[] | null;
  /** The tests it stands on; unticked ones leave the pool. */
  readonly tests: readonly Choice[];
  /** Main parts of its tests, where there are several to choose from. */
  readonly parts: readonly Choice[];
  readonly severalMains: boolean;
}

export function CutForm({ values, origins, tests, parts, severalMains, ...form }: CutFormProps) {
  return (
    <ChangeForm {...form} values={values} deed="change tests and cuts">
      <div className="fields">
        <TextField name="name" label="Name of the cut" required />
        {origins !== null && <SelectField name="of" label="Made from" groups={origins} none="Choose…" required />}
        <TextField name="specification" label="Cutting specification" hint="Trim, fat cover, length of the tail" wide lines={2} />
      </div>
      {tests.length > 0 && (
        <fieldset>
          <legend>Stands on these tests, pooled by weight</legend>
          {tests.map((test) => <TickField key={test.value} name={`keep.${test.value}`} label={test.label} start />)}
        </fieldset>
      )}
      {parts.length > 1 && <RadioField name="partKey" label="Which part of the test is it?" choices={parts} />}
      <div className="fields">
        <SelectField name="repricing" label="How a new dealer’s price reaches it" choices={REPRICING} />
        {severalMains && <SelectField name="joint" label="How the cost is shared among the usable parts" choices={JOINT} hint="The total is the same under each" />}
      </div>
    </ChangeForm>
  );
}
