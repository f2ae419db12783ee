/**
 * A field that takes what a kitchen types and says back, while it is typed, what it understood: "18 lb 6 oz" or
 * "3 3/8 lb" in, the value in the kitchen's own writing out. What cannot be read is told in the same place, quietly,
 * and only once the person has left the field; the server has the last word. QuantityField, MoneyField, RateField,
 * ShareField and NumberField (ReadFields.tsx) are made of it.
 */
"use client";
import { type ReactNode, useState } from "react";
import type { Checked } from "@/lib/measure";
import { FieldFrame } from "./Field";
import { useField } from "./FormContext";

export interface EchoFieldProps {
  readonly name: string;
  readonly label: ReactNode;
  readonly start?: string | undefined;
  /** Put in by the page after a choice elsewhere in the form, before what the form held; give the field a new `key` with it. */
  readonly prefill?: string | undefined;
  readonly hint?: ReactNode;
  readonly wide?: boolean | undefined;
  /** Large, for a figure within a sentence. */
  readonly figured?: boolean | undefined;
  readonly required?: boolean | undefined;
  /** Beside the input in the second ink: "$", "%". */
  readonly unit?: string | undefined;
  readonly inputMode?: "decimal" | "text" | undefined;
  /** Holds words more than figures: written from the left. */
  readonly words?: boolean | undefined;
  /** Told with every key: what was typed. */
  readonly onText?: ((text: string) => void) | undefined;
}

/**
 * A sentence that appears moves what stands below it. The field is left by pressing a button, say; the sentence waits
 * until that press has landed, or the button would move away under the finger.
 */
const AFTER_A_PRESS = 300;

export function EchoField({ understand, name, label, start, prefill, hint, wide, figured, required = false, unit, inputMode = "text", words = false, onText }:
  EchoFieldProps & {
    /** Reads the text; the value is what to echo. */
    readonly understand: (text: string) => Checked<string>;
  }) {
  const field = useField(name, start);
  const [text, setText] = useState(prefill ?? field.start);
  const [left, setLeft] = useState(false);
  // Once the text changes, a problem found in the old text no longer stands.
  const stands = field.sent === undefined || text === field.sent;
  const read = text.trim() === "" ? null : understand(text);
  const wrong = read !== null && !read.ok && left ? read.problems[0]?.sentence : undefined;
  const echo = read === null ? "\u00a0" : read.ok ? <>reads as <b>{read.value}</b></> : wrong ?? "\u00a0";
  const shown = stands ? field : { ...field, problems: [] };
  return (
    <FieldFrame field={shown} label={label} hint={hint} wide={wide} figured={figured} echo={wrong ? <span className="wrong">{echo}</span> : echo}>
      {(control) => (
        <span className="control">
          <input {...control} type="text" className={words ? undefined : "figures"} name={name} value={text} inputMode={inputMode} autoComplete="off" autoCapitalize="none" spellCheck={false}
            aria-required={required || undefined}
            onChange={(event) => { setText(event.target.value); onText?.(event.target.value); }}
            onBlur={() => { window.setTimeout(() => setLeft(true), AFTER_A_PRESS); }} />
          {unit !== undefined && <span className="u" aria-hidden="true">{unit}</span>}
        </span>
      )}
    </FieldFrame>
  );
}
