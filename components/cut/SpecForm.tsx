/** The form of a portion spec: a cut at a size, with the tolerance the pass allows, and how its cost is told. */
"use client";
import "@/components/yield-test/yield-test.css";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, type Values, QuantityField, RadioField, RateField, TextField } from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";

const COSTING: readonly Choice[] = [
  { value: "by-weight", label: "By weight, as the textbooks do" },
  { value: "whole", label: "By whole portions from each piece, the end left over counted" },
];

export function SpecForm({ values, ...form }: Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> & { readonly values: Values }) {
  const { habits } = useKitchen();
  const us = habits.measures === "us";
  return (
    <ChangeForm {...form} values={values} deed="change specs">
      <div className="fields">
        <TextField name="name" label="Name of the portion" required hint={us ? "10 oz steak" : "280 g steak"} />
        <QuantityField name="size" label="Size, before cooking" kinds={["mass", "volume", "count"]} bare={us ? "oz" : "g"} required hint="What the guest is promised" />
        <QuantityField name="tolerance" label="May be under or over by" kinds={["mass", "volume", "count"]} bare={us ? "oz" : "g"} />
        <TextField name="thickness" label="Thickness" />
        <TextField name="trim" label="Trim" />
      </div>
      <RadioField name="costing" label="How its cost is told" choices={COSTING} />
      <div className="fields">
        <RateField name="endValue" label="What an end left over is worth" bare={us ? "lb" : "kg"} hint="Empty: nothing" />
      </div>
    </ChangeForm>
  );
}
