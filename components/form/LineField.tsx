/**
 * One line of a recipe or dish in one field: "2 1/4 cup heavy cream". While it is typed the kitchen's book is asked what
 * it reads as, which is said below it, as purchased or edible portion, and which names answer so far (a combobox: arrow
 * keys choose, Enter takes, Escape closes). Where the text could mean several things, each stands as a button that fills
 * the field in. Without a script the field is a plain one, and the server says the same.
 */
"use client";
import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from "react";
import { Button } from "./Button";
import { FieldFrame } from "./Field";
import { useField } from "./FormContext";
import type { LineView } from "./line-view";
import "./line-field.css";

/** Typing is let settle for so long before the book is asked, in milliseconds. */
const SETTLE = 90;
/** A sentence or button that appears moves what stands below: it waits until a press that left the field has landed. */
const AFTER_A_PRESS = 300;

interface Told {
  readonly text: string;
  /** Null: the book could not be reached. */
  readonly view: LineView | null;
}

export interface LineFieldProps {
  readonly name: string;
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  /** What the text it starts with reads as, where the page knows. */
  readonly says?: string | undefined;
}

export function LineField({ name, label, hint, says }: LineFieldProps) {
  const field = useField(name);
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [text, setText] = useState(field.start);
  const [told, setTold] = useState<Told>({ text: field.start, view: says === undefined ? null : { echo: says, sentence: null, choices: [], answers: [] } });
  const [known] = useState(says === undefined ? "" : field.start);
  const [open, setOpen] = useState<"no" | "typing" | "asked">("no");
  const [at, setAt] = useState(-1);
  const [left, setLeft] = useState(true);

  useEffect(() => {
    const words = text.trim();
    if (words === "" || text === known) return;
    const leave = new AbortController();
    const ask = setTimeout(() => {
      fetch(`/lines/answers?q=${encodeURIComponent(words.slice(0, 400))}`, { headers: { accept: "application/json" }, signal: leave.signal })
        .then(async (answer) => { setTold({ text, view: answer.ok ? (await answer.json()) as LineView : null }); setAt(-1); })
        .catch(() => { if (!leave.signal.aborted) setTold({ text, view: null }); });
    }, SETTLE);
    return () => {
      clearTimeout(ask);
      leave.abort();
    };
  }, [text, known]);

  const blank = text.trim() === "";
  const current = !blank && told.text === text ? told.view : null;
  // What was told of the text before stays until the new answer is here, so that the list does not flicker.
  const answers = blank ? [] : told.view?.answers ?? [];
  // A line that is understood needs no list over what follows, unless it is asked for.
  const shown = answers.length > 0 && (open === "asked" || (open === "typing" && typeof told.view?.echo !== "string"));
  const chosen = shown ? answers[at] : undefined;

  const type = (next: string): void => {
    setText(next);
    setOpen("typing");
    setAt(-1);
    setLeft(false);
  };
  const take = (full: string): void => {
    setText(full);
    setOpen("no");
    setAt(-1);
    setLeft(!full.endsWith(", "));
    input.current?.focus();
  };
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.nativeEvent.isComposing) return;
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (step !== 0 && answers.length > 0) {
      event.preventDefault();
      if (!shown) { setOpen("asked"); setAt(step === 1 ? 0 : answers.length - 1); return; }
      const next = at + step;
      setAt(next >= answers.length ? 0 : next < 0 ? answers.length - 1 : next);
    } else if (event.key === "Enter" && chosen !== undefined) {
      event.preventDefault();
      take(chosen.text);
    } else if (event.key === "Escape" && shown) {
      event.preventDefault();
      setOpen("no");
      setAt(-1);
    }
  };

  useEffect(() => {
    if (at >= 0) document.getElementById(`${id}-${at}`)?.scrollIntoView({ block: "nearest" });
  }, [at, id]);

  // Once the text changes, a problem found in the old text no longer stands; a question that can be answered here says it better.
  const stands = (field.sent === undefined || text === field.sent) && (current?.choices.length ?? 0) === 0;
  const asks = current !== null && current.sentence !== null && left ? current : null;
  const echo = typeof current?.echo === "string" ? <>reads as <b>{current.echo}</b></> : asks !== null ? <span className={asks.choices.length > 0 ? "asks" : "wrong"}>{asks.sentence}</span> : "\u00a0";
  return (
    <div className="line-field">
      <FieldFrame field={{ ...field, problems: stands ? field.problems : [] }} label={label} hint={hint} echo={echo}>
        {(control) => (
          <input {...control} ref={input} type="text" name={name} value={text} autoComplete="off" autoCapitalize="none" spellCheck={false}
            role="combobox" aria-autocomplete="list" aria-expanded={shown} aria-controls={`${id}-list`} aria-activedescendant={chosen === undefined ? undefined : `${id}-${at}`}
            onChange={(event) => type(event.target.value)} onKeyDown={onKeyDown}
            onBlur={() => { window.setTimeout(() => { setOpen("no"); setLeft(true); }, AFTER_A_PRESS); }} />
        )}
      </FieldFrame>
      <ul id={`${id}-list`} role="listbox" aria-label="What answers" hidden={!shown}>
        {shown && answers.map((answer, index) => (
          <li key={answer.text} id={`${id}-${index}`} role="option" aria-selected={index === at} onPointerDown={(event) => event.preventDefault()} onClick={() => take(answer.text)} onPointerMove={() => { if (at !== index) setAt(index); }}>
            <span>{answer.text.replace(/, $/, "")}</span> <span className="quiet small">{answer.as}</span>
          </li>
        ))}
      </ul>
      {asks !== null && asks.choices.length > 0 && (
        <p className="choose" role="group" aria-label="Which is meant">
          {asks.choices.map((choice) => <Button key={choice.text} plain onClick={() => take(choice.text)}>{choice.text}{choice.text.includes(choice.as) ? "" : `, ${choice.as}`}</Button>)}
        </p>
      )}
    </div>
  );
}
