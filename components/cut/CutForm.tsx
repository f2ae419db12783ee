/** The form of a cut: its name and specification, which tests it stands on, how a new price reaches it. */
"use client";
import "@/components/yield-test/yield-test.css";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, type ChoiceGroup, type Values, RadioField, SelectField, TextField } from "@/components/form";
import { type BorrowChoice, BorrowFields } from "./BorrowFields";
import { type PoolChoice, PoolFields } from "./PoolFields";
import { JOINT, REPRICING } from "./choices";

export interface CutFormProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> {
  readonly values: Values;
  /** What a new cut can be made from; null for a cut that has an origin. */
  readonly origins: readonly ChoiceGroup[] | null;
  /** The tests it stands on; unticked ones leave the pool, and say why. */
  readonly tests: readonly PoolChoice[];
  /** Main parts of its tests, where there are several to choose from. */
  readonly parts: readonly Choice[];
  readonly severalMains: boolean;
  /** Published yields that a new cut may begin with. */
  readonly borrow?: readonly BorrowChoice[];
}

export function CutForm({ values, origins, tests, parts, severalMains, borrow, ...form }: CutFormProps) {
  return (
    <ChangeForm {...form} values={values} deed="change tests and cuts">
      <div className="fields">
        <TextField name="name" label="Name of the cut" required />
        {origins !== null && <SelectField name="of" label="Made from" groups={origins} none="Choose…" required />}
        <TextField name="specification" label="Cutting specification" hint="Trim, fat cover, length of the tail" wide lines={2} />
      </div>
      {borrow !== undefined && <BorrowFields choices={borrow} none="None: what it costs is only known as “at least” until there is a test" />}
      {tests.length > 0 && <PoolFields tests={tests} />}
      {parts.length > 1 && <RadioField name="partKey" label="Which part of the test is it?" choices={parts} />}
      <div className="fields">
        <SelectField name="repricing" label="How a new dealer’s price reaches it" choices={REPRICING} />
        {severalMains && <SelectField name="joint" label="How the cost is shared among the usable parts" choices={JOINT} hint="The total is the same under each" />}
      </div>
    </ChangeForm>
  );
}
