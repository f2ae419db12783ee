/**
 * What the fields of one form share: the values they start with, the problems found in them, and a prefix for their
 * ids. Set by ChangeForm (or by FormFrame for a form that changes no facts). A field is named by the dot path of what
 * it fills in, "parts.2.weight", and a problem finds its field by the same path.
 */
"use client";
import { type ReactNode, createContext, useContext, useMemo } from "react";
import type { Problem } from "@/lib/measure";

/** What was typed, by field name. */
export type Values = Readonly<Record<string, string>>;

interface FormContextValue {
  readonly id: string;
  readonly values: Values;
  readonly problems: readonly Problem[];
}

const Form = createContext<FormContextValue>({ id: "form", values: {}, problems: [] });

/** The values of one row of a LinesField, which come before the form's while the row is new or has moved. */
interface RowContextValue {
  readonly prefix: string;
  readonly values: Values;
}
const Row = createContext<RowContextValue | null>(null);

export function FormFrame({ id, values, problems, children }: FormContextValue & { readonly children: ReactNode }) {
  const value = useMemo(() => ({ id, values, problems }), [id, values, problems]);
  return <Form value={value}>{children}</Form>;
}

export function RowFrame({ prefix, values, children }: RowContextValue & { readonly children: ReactNode }) {
  const value = useMemo(() => ({ prefix, values }), [prefix, values]);
  return <Row value={value}>{children}</Row>;
}

export interface FieldState {
  readonly id: string;
  /** What the field starts with. */
  readonly start: string;
  /** What this field held when the form was last sent; its problems speak of this text. */
  readonly sent: string | undefined;
  readonly problems: readonly Problem[];
}

/** Where a field stands in its form. `start` from the page comes after what was already typed. */
export function useField(name: string, start?: string): FieldState {
  const form = useContext(Form);
  const row = useContext(Row);
  const typed = row && name.startsWith(`${row.prefix}.`) ? row.values[name.slice(row.prefix.length + 1)] : form.values[name];
  const problems = form.problems.filter((problem) => problem.path === name || problem.path.startsWith(`${name}.`));
  return { id: fieldId(form.id, name), start: typed ?? start ?? "", sent: form.values[name], problems };
}

/** Every value of the form that starts with a prefix, with the prefix taken off. */
export function useValuesUnder(prefix: string): Values {
  const { values } = useContext(Form);
  return useMemo(() => Object.fromEntries(
    Object.entries(values).filter(([name]) => name.startsWith(`${prefix}.`)).map(([name, value]) => [name.slice(prefix.length + 1), value]),
  ), [values, prefix]);
}

export function useProblemsOf(name: string): readonly Problem[] {
  return useContext(Form).problems.filter((problem) => problem.path === name);
}

export function fieldId(formId: string, name: string): string {
  return `${formId}-${name.replace(/[^A-Za-z0-9_-]+/g, "-")}`;
}
