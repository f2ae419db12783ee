/** A field for words: one line, or several with `lines`. What is typed stays on the screen whatever happens. */
"use client";
import { type ReactNode, useState } from "react";
import { FieldFrame } from "./Field";
import { useField } from "./FormContext";

export interface TextFieldProps {
  readonly name: string;
  readonly label: ReactNode;
  readonly start?: string | undefined;
  /** As in EchoField. */
  readonly prefill?: string | undefined;
  readonly hint?: ReactNode;
  readonly wide?: boolean;
  /** More than one: a text area of so many lines. */
  readonly lines?: number;
  readonly required?: boolean;
  /** What is typed is not shown. */
  readonly secret?: boolean;
  readonly autoComplete?: string;
  readonly onText?: (text: string) => void;
}

export function TextField({ name, label, start, prefill, hint, wide, lines = 1, required = false, secret = false, autoComplete = "off", onText }: TextFieldProps) {
  const field = useField(name, start);
  const [text, setText] = useState(prefill ?? field.start);
  const shared = {
    name,
    value: text,
    autoComplete,
    "aria-required": required || undefined,
    onChange: (event: { target: { value: string } }) => { setText(event.target.value); onText?.(event.target.value); },
  };
  return (
    <FieldFrame field={field} label={label} hint={hint} wide={wide}>
      {(control) => lines > 1 ? <textarea {...control} {...shared} rows={lines} /> : <input type={secret ? "password" : "text"} autoCapitalize={secret || autoComplete === "username" ? "none" : undefined} {...control} {...shared} />}
    </FieldFrame>
  );
}
