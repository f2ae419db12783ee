/**
 * A calendar day, by default the kitchen's own today ("from today"). Under it the day as the kitchen writes it, and
 * whether it lies behind or ahead.
 */
"use client";
import { type ReactNode, useState } from "react";
import { printDay } from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { FieldFrame } from "./Field";
import { useField } from "./FormContext";

export interface DateFieldProps {
  readonly name: string;
  readonly label: ReactNode;
  /** Default: today. */
  readonly start?: string | undefined;
  readonly hint?: ReactNode;
  readonly wide?: boolean;
}

export function DateField({ name, label, start, hint, wide }: DateFieldProps) {
  const { habits, today } = useKitchen();
  const field = useField(name, start ?? today);
  const [day, setDay] = useState(field.start);
  const known = /^\d{4}-\d{2}-\d{2}$/.test(day);
  const echo = !known ? "\u00a0" : day === today ? "today" : <>{printDay(day, habits)}{day < today ? ", already past" : ", still to come"}</>;
  return (
    <FieldFrame field={field} label={label} hint={hint} wide={wide} echo={echo}>
      {(control) => <input {...control} type="date" name={name} value={day} min="1990-01-01" max="2199-12-31" onChange={(event) => setDay(event.target.value)} />}
    </FieldFrame>
  );
}
