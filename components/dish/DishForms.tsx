/** The forms of a dish: what is on the plate, and what it sells for. */
"use client";
import { AllowanceFields } from "./AllowanceFields";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, LineField, LinesField, MoneyField, SelectField, ShareField, TextField, type Values } from "@/components/form";

const ROLES: readonly Choice[] = [
  { value: "main", label: "main" }, { value: "side", label: "side" }, { value: "garnish", label: "garnish" }, { value: "cover", label: "with every cover" }, { value: "packaging", label: "packaging" },
];

const CHANNELS: readonly Choice[] = [{ value: "any", label: "always" }, { value: "table", label: "at the table only" }, { value: "away", label: "taken away only" }];

type Form = Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden">;

export function DishForm({ values, rows, allowances, withPrice, ...form }: Form & { readonly values: Values; readonly rows: readonly Values[]; readonly allowances: readonly Values[]; readonly withPrice: boolean }) {
  return (
    <ChangeForm {...form} values={values}>
      <div className="fields">
        <TextField name="name" label="Name of the dish" hint="As printed on the menu" required />
        <TextField name="section" label="Section of the menu" hint="Starters, mains, desserts" />
        {withPrice && <MoneyField name="gross" label="Menu price" hint="As printed; may come later" />}
        {withPrice && <ShareField name="target" label="Target food cost" hint="Empty: its section’s, or the kitchen’s" />}
      </div>
      <LinesField name="lines" legend="What is on the plate" noun="line" rows={rows} blankWhen={["text"]} hidden={["key"]} least={1}>
        {(prefix, index, { says }) => (
          <>
            <LineField name={`${prefix}.text`} label="How much of what" says={says} {...(index === 0 ? { hint: "1 portion strip steak, 4 oz leeks" } : {})} />
            <SelectField name={`${prefix}.role`} label="What it is" choices={ROLES} start="main" {...(index === 0 ? { hint: "Its part on the plate" } : {})} />
            <SelectField name={`${prefix}.channel`} label="Goes with it" choices={CHANNELS} start="any" {...(index === 0 ? { hint: "Packaging: taken away only" } : {})} />
          </>
        )}
      </LinesField>
      <AllowanceFields rows={allowances} of="a plate" />
      <div className="fields"><TextField name="note" label="Note" wide lines={2} /></div>
    </ChangeForm>
  );
}

/** `kitchenTarget` and `kitchenTax` as printed: what counts where the dish has none of its own. */
export function PriceForm({ values, kitchenTarget, kitchenTax, ...form }: Form & { readonly values: Values; readonly kitchenTarget: string; readonly kitchenTax: string }) {
  return (
    <ChangeForm {...form} values={values}>
      <div className="fields">
        <MoneyField name="gross" label="Menu price" required hint="As printed on the menu" />
        <ShareField name="target" label="Target food cost" hint={`Of the net price; empty: the kitchen’s ${kitchenTarget}`} />
        <ShareField name="taxRate" label="Tax within the price" hint={`Empty: the kitchen’s ${kitchenTax}`} />
      </div>
    </ChangeForm>
  );
}
