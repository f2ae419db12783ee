/**
 * The steps of the method, each with the temperature it must reach or keep, where one is critical. The usual ones are
 * offered; choosing one fills the fields in, and without a script the server fills them in where they were left empty.
 */
"use client";
import { useState } from "react";
import { CRITICAL_SOURCE, USUAL_TEMPERATURES } from "@/lib/book";
import { type Choice, LinesField, NumberField, SelectField, TextField, type Values } from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";

const SCALES: readonly Choice[] = [{ value: "F", label: "°F" }, { value: "C", label: "°C" }];

export function StepFields({ rows }: { readonly rows: readonly Values[] }) {
  return (
    <>
      <LinesField name="steps" legend="Steps" noun="step" rows={rows} blankWhen={["text", "degrees", "held", "usual"]} least={0} most={100}>
        {(prefix, index) => <StepRow prefix={prefix} first={index === 0} />}
      </LinesField>
      <p className="quiet">The usual temperatures are of the {CRITICAL_SOURCE}.</p>
    </>
  );
}

function StepRow({ prefix, first }: { readonly prefix: string; readonly first: boolean }) {
  const { habits } = useKitchen();
  const usualScale = habits.measures === "us" ? "F" : "C";
  const [chosen, setChosen] = useState<{ readonly usual: (typeof USUAL_TEMPERATURES)[number]; readonly times: number } | null>(null);
  const choices: readonly Choice[] = USUAL_TEMPERATURES.map((one, index) => ({ value: String(index), label: `${one.of}: ${one.fahrenheit} °F / ${one.celsius} °C, ${one.held}` }));
  const choose = (value: string): void => {
    const usual = USUAL_TEMPERATURES[Number(value)];
    if (value !== "" && usual !== undefined) setChosen((before) => ({ usual, times: (before?.times ?? 0) + 1 }));
  };
  const filled = chosen === null ? {} : { degrees: usualScale === "F" ? chosen.usual.fahrenheit : chosen.usual.celsius, held: chosen.usual.held, scale: usualScale };
  const fresh = chosen?.times ?? 0;
  return (
    <>
      <TextField name={`${prefix}.text`} label="What is done" wide lines={2} />
      <SelectField name={`${prefix}.usual`} label="A usual temperature" choices={choices} none="None, or my own" onChoice={choose} {...(first ? { hint: "Fills in the three beside it" } : {})} />
      <NumberField key={`degrees-${fresh}`} name={`${prefix}.degrees`} label="Temperature" prefill={filled.degrees} {...(first ? { hint: "Only where it is critical" } : {})} />
      <SelectField key={`scale-${fresh}`} name={`${prefix}.scale`} label="In" choices={SCALES} start={usualScale} prefill={filled.scale} {...(first ? { hint: "Degrees" } : {})} />
      <TextField key={`held-${fresh}`} name={`${prefix}.held`} label="Held" prefill={filled.held} {...(first ? { hint: "15 seconds; or below, all the while" } : {})} />
    </>
  );
}
