/**
 * A form that changes no facts of the book: signing in, people, a new kitchen. Sent once, answered with problems by
 * field or with what was done. What was typed stays; it works without a script too.
 */
"use client";
import { type ReactNode, useActionState, useEffect, useRef } from "react";
import { Told } from "@/components/sheet/Told";
import { Button } from "./Button";
import { FormFrame, type Values, fieldId } from "./FormContext";
import { KeptForm } from "./KeptForm";
import { NOTHING_SENT, type PlainAction } from "./plain-state";

export interface PlainFormProps {
  readonly id: string;
  readonly action: PlainAction;
  readonly submit: string;
  /** What is said while it is under way. */
  readonly busy?: string;
  readonly values?: Values;
  readonly hidden?: Values;
  /** The strong button of the page (default), or a plain one. */
  readonly plain?: boolean;
  readonly children?: ReactNode;
}

export function PlainForm({ id, action, submit, busy: underWay = "A moment…", values = {}, hidden = {}, plain = false, children }: PlainFormProps) {
  const [state, send, busy] = useActionState(action, NOTHING_SENT);
  const answer = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (state !== NOTHING_SENT) answer.current?.focus();
  }, [state]);
  return (
    <KeptForm action={send}>
      <FormFrame id={id} values={{ ...values, ...state.values }} problems={state.problems}>
        {Object.entries(hidden).map(([name, value]) => <input key={name} type="hidden" name={name} value={value} />)}
        {state.problems.length > 0 && (
          <Told adverse ref={answer}>
            <ul>{state.problems.map((problem, index) => <li key={index}>{problem.path === "" ? problem.sentence : <a href={`#${fieldId(id, problem.path)}`}>{problem.sentence}</a>}</li>)}</ul>
          </Told>
        )}
        {state.told !== null && (
          <Told ref={answer}>
            <p>{state.told}</p>
            {state.link !== null && <p><code className="handover">{state.link}</code></p>}
          </Told>
        )}
        {children}
        <div className="send"><Button type="submit" plain={plain} aria-disabled={busy} disabled={busy}>{submit}</Button><p role="status">{busy ? underWay : ""}</p></div>
      </FormFrame>
    </KeptForm>
  );
}
