/** A dealer: the name, what an order comes to at least, and how to order. */
"use client";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { MoneyField, TextField, type Values } from "@/components/form";

export function DealerForm({ values, ...form }: Pick<ChangeFormProps, "action" | "basedOn" | "hidden" | "recordLabel"> & { readonly values: Values }) {
  return (
    <ChangeForm {...form} values={values} dated={false}>
      <div className="fields">
        <TextField name="name" label="Name of the dealer" required />
        <MoneyField name="minimumOrder" label="Least an order comes to" hint="Empty: none, or not known" />
        <TextField name="ordering" label="How to order" hint="By 4 pm, brings Tuesday and Friday; by telephone to Ines" wide />
        <TextField name="note" label="Note" wide lines={2} />
      </div>
    </ChangeForm>
  );
}
