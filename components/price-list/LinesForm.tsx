/** The lines of a list that are shown, with an answer beside each: all of them are kept by one button. */
"use client";
import type { ReactNode } from "react";
import { DateField, PlainForm } from "@/components/form";
import type { PlainAction } from "@/components/form/plain-state";

interface ListForm {
  readonly action: PlainAction;
  readonly list: string;
  readonly version: number;
}

export function LinesForm({ action, list, version, submit, children }: ListForm & { readonly submit: string; readonly children: ReactNode }) {
  return <PlainForm id="lines" action={action} submit={submit} busy="Keeping it…" plain hidden={{ list, version: String(version) }}>{children}</PlainForm>;
}

export function FromForm({ action, list, version, from, hint }: ListForm & { readonly from: string; readonly hint: string }) {
  return (
    <div className="list-from"><PlainForm id="from" action={action} submit="Count it from this day" busy="Keeping it…" plain values={{ from }} hidden={{ list, version: String(version) }}>
      <div className="fields"><DateField name="from" label="The prices count from" hint={hint} /></div>
    </PlainForm></div>
  );
}
