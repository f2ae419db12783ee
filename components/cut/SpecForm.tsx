/**
 * The form of a portion spec: a cut at a size, with the tolerance the pass allows, how its cost is told, and what portions
 * really weighed. The usual tolerance for the size is offered beside its field and is never filled in by itself.
 */
"use client";
import "@/components/yield-test/yield-test.css";
import { useState } from "react";
import { inBaseExactly, kindOf, parseQuantity, quantityText } from "@/lib/measure";
import { usualThicknessTolerance, usualTolerance } from "@/lib/yield";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { Button, type Choice, DateField, NumberField, QuantityField, RadioField, RateField, TextField, type Values } from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { TriedPortions } from "@/components/spec/TriedPortions";

const COSTING: readonly Choice[] = [
  { value: "by-weight", label: "By weight, as the textbooks do" },
  { value: "whole", label: "By whole portions from each piece, the end left over counted" },
];
const KINDS = ["mass", "volume", "count"] as const;

export function SpecForm({ values, ...form }: Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> & { readonly values: Values }) {
  const { habits } = useKitchen();
  const us = habits.measures === "us";
  const bare = us ? "oz" : "g";
  const [size, setSize] = useState(values["size"] ?? "");
  const [thickness, setThickness] = useState(values["thickness"] ?? "");
  const [tolerance, setTolerance] = useState(values["tolerance"] ?? "");
  const [taken, setTaken] = useState<{ readonly text: string; readonly times: number } | null>(null);
  // A mean weight that fell away with its size, once that is recorded, leaves its field too.
  const [first] = useState(values);
  const again = (name: string) => (values[name] === first[name] ? { key: name } : { key: `${name} ${values[name] ?? ""}`, prefill: values[name] ?? "" });
  const weightAgain = again("meanCut.weight");
  const countAgain = again("meanCut.count");
  const read = parseQuantity(size, habits, { kinds: KINDS, bare });
  const offered = read.ok ? usualTolerance(read.value, habits.measures) : null;
  const usual = offered === null ? null : quantityText(offered, habits);
  const held = parseQuantity(tolerance, habits, { kinds: KINDS, bare });
  const isUsual = offered !== null && held.ok && inBaseExactly(held.value) === inBaseExactly(offered);
  const usualThickness = usualThicknessTolerance(thickness, habits);
  return (
    <ChangeForm {...form} values={values} deed="change specs" tried={(state) => state.result?.kind === "portions" && <TriedPortions view={state.result} />}>
      <div className="fields">
        <TextField name="name" label="Name of the portion" required hint={us ? "10 oz steak" : "280 g steak"} />
        <QuantityField name="size" label="Size, before cooking" kinds={KINDS} bare={bare} required hint="What the guest is promised" onText={setSize} />
        <QuantityField key={taken?.times ?? 0} name="tolerance" label="May be under or over by" kinds={KINDS} bare={bare} prefill={taken?.text} onText={setTolerance}
          hint={usual === null ? (us ? "Often 1/4 oz to 1 oz" : "Often 7 g to 28 g") : <>Usual when portions are bought: {usual}{us ? "" : ", from the table in ounces"}</>} />
        <TextField name="thickness" label="Thickness" onText={setThickness} hint={usualThickness === null ? (us ? "1 1/8 in" : "28 mm") : `Usually ± ${usualThickness}`} />
        <TextField name="trim" label="Trim" hint="Fat cover, tail, skin" />
        <NumberField name="pieces" label="Pieces to a portion" hint="Where there are several: scallops, chops" />
      </div>
      {usual !== null && !isUsual && <p><Button small onClick={() => { setTaken({ text: usual, times: (taken?.times ?? 0) + 1 }); setTolerance(usual); }}>Take the usual ± {usual}</Button></p>}
      <RadioField name="costing" label="How its cost is told" choices={COSTING} />
      <div className="fields">
        <RateField name="endValue" label="What an end left over is worth" bare={us ? "lb" : "kg"} hint="Empty: nothing" />
      </div>
      <fieldset>
        <legend>Weighed at the pass</legend>
        <p className="quiet">A portion is costed at what is really cut. Weigh ten, add them up, divide by ten.</p>
        <div className="fields">
          <QuantityField key={weightAgain.key} prefill={weightAgain.prefill} name="meanCut.weight" label="Mean weight as cut" kinds={read.ok ? [kindOf(read.value.unit)] : KINDS} bare={bare} hint="Empty: costed at the size" />
          <NumberField key={countAgain.key} prefill={countAgain.prefill} name="meanCut.count" label="How many were weighed" />
          <DateField name="meanCut.on" label="Weighed on" />
        </div>
      </fieldset>
    </ChangeForm>
  );
}
