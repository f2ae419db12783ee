/** A figure of a try-out, as a kitchen types it. What it reads as stands among what is tried, in words. */
"use client";
import { type ReactNode, useState } from "react";
import { FieldFrame } from "@/components/form/Field";
import { useField } from "@/components/form/FormContext";

export function FigureField({ name, label, start, hint, date = false, onText }: { readonly name: string; readonly label: ReactNode; readonly start?: string; readonly hint?: ReactNode; readonly date?: boolean; readonly onText: () => void }) {
  const field = useField(name, start);
  const [text, setText] = useState(field.start);
  const stands = field.sent === undefined || text === field.sent;
  return (
    <FieldFrame field={stands ? field : { ...field, problems: [] }} label={label} hint={hint}>
      {(control) => (
        <input {...control} type={date ? "date" : "text"} className={date ? undefined : "figures"} name={name} value={text} autoComplete="off" autoCapitalize="none" spellCheck={false}
          {...(date ? { min: "1990-01-01", max: "2199-12-31" } : {})} onChange={(event) => { setText(event.target.value); onText(); }} />
      )}
    </FieldFrame>
  );
}
