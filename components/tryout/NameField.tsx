/**
 * A field that takes one thing of the book by name. Under it the browser offers what the book has like what is typed: the
 * server finds a few names, so that a larder of thousands is never sent. Without a script the whole name is typed.
 */
"use client";
import { type ReactNode, useEffect, useRef, useState } from "react";
import { FieldFrame } from "@/components/form/Field";
import { useField } from "@/components/form/FormContext";

const PAUSE = 80;

export function NameField({ name, label, of, hint, onText }: { readonly name: string; readonly label: ReactNode; readonly of: string; readonly hint?: ReactNode; readonly onText: () => void }) {
  const field = useField(name);
  const [text, setText] = useState(field.start);
  const [names, setNames] = useState<readonly string[]>([]);
  const asked = useRef<AbortController | null>(null);

  useEffect(() => {
    if (text.trim().length < 2 || names.includes(text)) return;
    const pause = window.setTimeout(() => {
      asked.current?.abort();
      asked.current = new AbortController();
      fetch(`/tries/names?${new URLSearchParams({ of, text }).toString()}`, { signal: asked.current.signal, headers: { accept: "application/json" } })
        .then((answer) => (answer.ok ? answer.json() as Promise<{ readonly names: readonly string[] }> : { names: [] }))
        .then(({ names: found }) => setNames(found))
        // Nothing is offered while the server is out of reach; the name can still be typed.
        .catch(() => undefined);
    }, PAUSE);
    return () => window.clearTimeout(pause);
  }, [text, of, names]);

  const list = `${field.id}-names`;
  const stands = field.sent === undefined || text === field.sent;
  return (
    <FieldFrame field={stands ? field : { ...field, problems: [] }} label={label} hint={hint}>
      {(control) => (
        <>
          <input {...control} type="text" name={name} list={list} value={text} autoComplete="off" spellCheck={false} onChange={(event) => { setText(event.target.value); onText(); }} />
          <datalist id={list}>{names.map((one) => <option key={one} value={one} />)}</datalist>
        </>
      )}
    </FieldFrame>
  );
}
