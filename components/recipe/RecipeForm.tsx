/** The form of a standard recipe: its lines, what a batch yields once cooked, what is reckoned on it, and the method. */
"use client";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { AllowanceFields } from "@/components/dish/AllowanceFields";
import { LineField, LinesField, QuantityField, TextField, type Values } from "@/components/form";
import { StepFields } from "./StepFields";

const ANY = ["mass", "volume", "count"] as const;

export interface RecipeFormProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> {
  readonly values: Values;
  readonly rows: readonly Values[];
  readonly allowances?: readonly Values[];
  readonly steps?: readonly Values[];
  /** Every line is edible portion already, so that what was lost stands in its cost. */
  readonly allEdible?: boolean;
}

export function RecipeForm({ values, rows, allowances = [], steps = [], allEdible = false, ...form }: RecipeFormProps) {
  return (
    <ChangeForm {...form} values={values}>
      <div className="fields">
        <TextField name="name" label="Name of the recipe" hint="As the kitchen says it" required />
        <TextField name="section" label="Section" hint="Stocks, sauces, sides" />
      </div>
      <fieldset>
        <legend>What a batch yields, measured after cooking</legend>
        <div className="fields">
          <QuantityField name="yields.0" label="Yield" kinds={ANY} required hint="4 qt, 3.8 L, 8 lb, 32 portions" />
          <QuantityField name="yields.1" label="The same, measured another way" kinds={ANY} hint="Only if it is used by another kind of unit" />
          <QuantityField name="yields.2" label="And another" kinds={ANY} hint="Weight, volume and portions" />
        </div>
      </fieldset>
      <LinesField name="lines" legend="What goes into it" noun="line" rows={rows} blankWhen={["text"]} hidden={["key"]} least={1}>
        {(prefix, index, { says }) => (
          <>
            <LineField name={`${prefix}.text`} label="How much of what" says={says} {...(index === 0 ? { hint: "2 1/4 cup heavy cream; an item, a cut, a portion or a recipe" } : {})} />
            <TextField name={`${prefix}.note`} label="Note" {...(index === 0 ? { hint: "If it needs one" } : {})} />
          </>
        )}
      </LinesField>
      <p className="quiet">An item is taken as purchased. A cut is edible portion: its yield is in its cost already, so nothing is divided twice.</p>
      <AllowanceFields rows={allowances} of="a batch" />
      <p className="quiet">5 % on 10.00 is 10.50 on the cost, 10.53 of the whole. {allEdible ? <strong>Every line here is edible portion: what is lost stands in its yield already, so a share for waste would count it twice.</strong> : "A yield contains its own waste: no share for waste on top of it."}</p>
      <div className="fields"><TextField name="method" label="Method" wide lines={3} hint="What stands before the steps: pans, how it is kept" /></div>
      <StepFields rows={steps} />
    </ChangeForm>
  );
}
