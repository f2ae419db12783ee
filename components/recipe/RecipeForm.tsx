/** The form of a standard recipe: its lines, what a batch yields once cooked, and the method. */
"use client";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { LinesField, PickField, PickList, QuantityField, TextField, type Values } from "@/components/form";

const ANY = ["mass", "volume", "count"] as const;

export interface RecipeFormProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> {
  readonly values: Values;
  readonly rows: readonly Values[];
  /** Everything a line can take. */
  readonly labels: readonly string[];
}

export function RecipeForm({ values, rows, labels, ...form }: RecipeFormProps) {
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
      <PickList id="larder" labels={labels} />
      <LinesField name="lines" legend="What goes into it" noun="line" rows={rows} blankWhen={["of", "quantity"]} hidden={["key"]} least={1}>
        {(prefix, index) => (
          <>
            <QuantityField name={`${prefix}.quantity`} label="Quantity" kinds={ANY} {...(index === 0 ? { hint: "2 1/4 cup, 3 lb, 1 portion" } : {})} />
            <PickField name={`${prefix}.of`} label="Of" list="larder" {...(index === 0 ? { hint: "Item, cut, portion or recipe" } : {})} />
            <TextField name={`${prefix}.note`} label="Note" {...(index === 0 ? { hint: "If it needs one" } : {})} />
          </>
        )}
      </LinesField>
      <p className="quiet">An item is taken as purchased. A cut is edible portion: its yield is in its cost already, so nothing is divided twice.</p>
      <div className="fields"><TextField name="method" label="Method" wide lines={5} hint="With the temperatures your food code asks for" /></div>
    </ChangeForm>
  );
}
