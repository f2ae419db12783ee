/**
 * A choice of one: a native list, with groups. An empty first choice ("Choose…") stands for nothing chosen yet.
 * `radio` shows few choices all at once.
 */
"use client";
import { type ReactNode, useState } from "react";
import { FieldFrame } from "./Field";
import { useField } from "./FormContext";

export interface Choice {
  readonly value: string;
  readonly label: string;
}
export interface ChoiceGroup {
  readonly title: string;
  readonly choices: readonly Choice[];
}

export interface SelectFieldProps {
  readonly name: string;
  readonly label: ReactNode;
  readonly choices?: readonly Choice[];
  readonly groups?: readonly ChoiceGroup[];
  readonly start?: string | undefined;
  /** As in EchoField. */
  readonly prefill?: string | undefined;
  /** Text of the choice of nothing; leave out where something is always chosen. */
  readonly none?: string;
  readonly hint?: ReactNode;
  readonly wide?: boolean;
  readonly required?: boolean;
  readonly onChoice?: (value: string) => void;
}

export function SelectField({ name, label, choices = [], groups = [], start, prefill, none, hint, wide, required = false, onChoice }: SelectFieldProps) {
  const first = none === undefined ? choices[0]?.value ?? groups[0]?.choices[0]?.value ?? "" : "";
  const field = useField(name, start ?? first);
  const [chosen, setChosen] = useState(prefill ?? field.start);
  return (
    <FieldFrame field={field} label={label} hint={hint} wide={wide}>
      {(control) => (
        <select {...control} name={name} value={chosen} aria-required={required || undefined} onChange={(event) => { setChosen(event.target.value); onChoice?.(event.target.value); }}>
          {none !== undefined && <option value="">{none}</option>}
          {choices.map((choice) => <option key={choice.value} value={choice.value}>{choice.label}</option>)}
          {groups.map((group) => (
            <optgroup key={group.title} label={group.title}>
              {group.choices.map((choice) => <option key={choice.value} value={choice.value}>{choice.label}</option>)}
            </optgroup>
          ))}
        </select>
      )}
    </FieldFrame>
  );
}

/** Few choices shown all at once. */
export function RadioField({ name, label, choices, start, onChoice }: Pick<SelectFieldProps, "name" | "label" | "start" | "onChoice"> & { readonly choices: readonly Choice[] }) {
  const field = useField(name, start ?? choices[0]?.value);
  const [chosen, setChosen] = useState(field.start);
  const bad = field.problems.length > 0;
  return (
    <fieldset className={bad ? "field bad wide" : "field wide"} aria-describedby={bad ? `${field.id}-echo` : undefined}>
      <legend>{label}</legend>
      <div className="choices">
        {choices.map((choice, index) => (
          <label key={choice.value}>
            <input type="radio" id={index === 0 ? field.id : undefined} name={name} value={choice.value} checked={chosen === choice.value} onChange={() => { setChosen(choice.value); onChoice?.(choice.value); }} />
            {choice.label}
          </label>
        ))}
      </div>
      {bad && <p className="wrong" id={`${field.id}-echo`}>{field.problems.map((problem) => problem.sentence).join(" ")}</p>}
    </fieldset>
  );
}

/** A yes or no. Sends "yes" when ticked, nothing otherwise. */
export function TickField({ name, label, start = false, onTick }: { readonly name: string; readonly label: ReactNode; readonly start?: boolean; readonly onTick?: (ticked: boolean) => void }) {
  const field = useField(name, start ? "yes" : "");
  const [ticked, setTicked] = useState(field.start === "yes");
  return (
    <div className="field choices">
      <label htmlFor={field.id}>
        <input id={field.id} type="checkbox" name={name} value="yes" checked={ticked} onChange={(event) => { setTicked(event.target.checked); onTick?.(event.target.checked); }} />
        {label}
      </label>
      {field.problems.length > 0 && <p className="wrong">{field.problems.map((problem) => problem.sentence).join(" ")}</p>}
    </div>
  );
}
