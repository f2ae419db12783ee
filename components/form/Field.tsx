/**
 * The frame of a field: its label, what it takes (hint), the control, and under it either what was understood (echo)
 * or what is wrong, as a sentence. The control gets the ids that tie them together.
 */
"use client";
import type { ReactNode } from "react";
import type { FieldState } from "./FormContext";

export interface ControlProps {
  readonly id: string;
  readonly "aria-describedby": string | undefined;
  readonly "aria-invalid": true | undefined;
}

export interface FieldFrameProps {
  readonly field: FieldState;
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  readonly echo?: ReactNode;
  /** Spans the whole row of fields. */
  readonly wide?: boolean | undefined;
  /** A figure in a sentence (.ask): large and right-aligned. */
  readonly figured?: boolean | undefined;
  readonly children: (control: ControlProps) => ReactNode;
}

export function FieldFrame({ field, label, hint, echo, wide, figured, children }: FieldFrameProps) {
  const bad = field.problems.length > 0;
  const hintId = `${field.id}-hint`;
  const echoId = `${field.id}-echo`;
  const hasEcho = bad || echo !== undefined;
  const describedBy = [hint !== undefined ? hintId : "", hasEcho ? echoId : ""].filter(Boolean).join(" ");
  return (
    <div className={["field", bad ? "bad" : "", wide ? "wide" : "", figured ? "figured" : ""].filter(Boolean).join(" ")}>
      <label htmlFor={field.id}>{label}</label>
      {hint !== undefined && <p className="hint" id={hintId}>{hint}</p>}
      {children({ id: field.id, "aria-describedby": describedBy === "" ? undefined : describedBy, "aria-invalid": bad ? true : undefined })}
      {hasEcho && (
        <p className={bad ? "wrong" : "echo"} id={echoId}>
          {bad ? field.problems.map((problem) => problem.sentence).join(" ") : echo}
        </p>
      )}
    </div>
  );
}
