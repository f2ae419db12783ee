/**
 * A field that takes one of many things by name: type a few letters and choose from the browser's own list, or type
 * the whole name. The list stands once on the page (`PickList`); the server looks the name up and says what may have been
 * meant. Works without a mouse, on a phone, and with thousands of names.
 */
"use client";
import { type ReactNode, useState } from "react";
import { FieldFrame } from "./Field";
import { useField } from "./FormContext";

export function PickList({ id, labels }: { readonly id: string; readonly labels: readonly string[] }) {
  return <datalist id={id}>{labels.map((label) => <option key={label} value={label} />)}</datalist>;
}

export function PickField({ name, label, list, hint, wide }: { readonly name: string; readonly label: ReactNode; readonly list: string; readonly hint?: ReactNode; readonly wide?: boolean }) {
  const field = useField(name);
  const [text, setText] = useState(field.start);
  return (
    <FieldFrame field={field} label={label} hint={hint} wide={wide}>
      {(control) => <input {...control} type="text" name={name} list={list} value={text} autoComplete="off" spellCheck={false} onChange={(event) => setText(event.target.value)} />}
    </FieldFrame>
  );
}
