/**
 * A delivery is typed, or begun from the dealer's file or the codes of its cartons. Filling adds lines to those that stand
 * already; without a script the page comes back with the lines that were read.
 */
"use client";
import { useActionState, useEffect, useRef, useState } from "react";
import { Button, FormFrame, type Values } from "@/components/form";
import { fieldId } from "@/components/form/FormContext";
import { KeptForm } from "@/components/form/KeptForm";
import { SelectField } from "@/components/form/SelectField";
import { TextField } from "@/components/form/TextField";
import { Told } from "@/components/sheet/Told";
import { DeliveryForm, type DeliveryFormProps } from "./DeliveryForm";
import { type FillAction, NOTHING_FILLED } from "./fill-state";

const FILL = "fill";
/** What an action of the server takes in one go. */
const LARGEST = 900 * 1024;

interface Typed {
  readonly values: Values;
  readonly rows: readonly Values[];
}
const NOTHING: Typed = { values: {}, rows: [] };

export function DeliveryDesk({ fill, values, ...form }: DeliveryFormProps & { readonly fill: FillAction }) {
  const [state, send, busy] = useActionState(fill, NOTHING_FILLED);
  const [typed, setTyped] = useState<Typed>(NOTHING);
  const [tooLarge, setTooLarge] = useState(false);
  const desk = useRef<HTMLDivElement>(null);
  const answer = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (state.status !== "none") answer.current?.focus();
  }, [state]);
  const problems = state.status === "refused" ? state.problems : [];
  const filled = state.status === "filled" ? state : null;
  const key = filled?.key ?? "typed";
  return (
    <>
      <details open={filled === null} className="fill" onSubmitCapture={() => setTyped(typedIn(desk.current))}>
        <summary>From a file, or from the codes on the cartons</summary>
        <KeptForm action={send}>
          <FormFrame id={FILL} values={state.status === "refused" ? state.values : {}} problems={problems}>
            {problems.length > 0 && <Told adverse ref={answer}><ul>{problems.map((problem, at) => <li key={at}>{problem.path === "" ? problem.sentence : <a href={`#${fieldId(FILL, problem.path)}`}>{problem.sentence}</a>}</li>)}</ul></Told>}
            <div className="fields">
              <SelectField name="dealerId" label="Dealer" choices={form.dealers} none="As the file says" hint="Its codes tell which item is which" key={`dealer ${key}`} start={values["dealerId"]} />
              <div className={tooLarge ? "field bad" : "field"}>
                <label htmlFor="fill-file">The dealer’s file</label>
                <p className="hint" id="fill-file-hint">A UBL invoice or credit note (.xml), or a table: .xlsx, .csv</p>
                <input type="file" id="fill-file" name="file" accept=".xml,.xlsx,.csv,.txt" aria-describedby="fill-file-hint fill-file-wrong" onChange={(event) => setTooLarge((event.target.files?.[0]?.size ?? 0) > LARGEST)} />
                <p className="wrong" id="fill-file-wrong">{tooLarge ? "This file is larger than an invoice is: at most 900 KB. Leave out pictures, or type the lines." : ""}</p>
              </div>
              <TextField name="cartons" label="Codes of cartons, one a line" lines={3} hint="Scan them here: item, net weight, lot and use-by day are read off" key={`cartons ${key}`} />
            </div>
            <div className="send"><Button type="submit" plain aria-disabled={busy} disabled={busy || tooLarge}>Fill in the lines</Button><p role="status">{busy ? "Reading…" : ""}</p></div>
          </FormFrame>
        </KeptForm>
      </details>
      {filled !== null && (
        <Told ref={answer}>
          <p>{filled.told} Nothing is saved yet.</p>
          {filled.left.length > 0 && <><p>To look at:</p><ul>{filled.left.map((sentence, at) => <li key={at}>{sentence}</li>)}</ul></>}
        </Told>
      )}
      <div ref={desk}>
        <DeliveryForm {...form} key={key} values={{ ...values, ...typed.values, ...untouched(filled?.values ?? {}, typed.values, values) }} rows={filled === null ? form.rows : [...typed.rows, ...filled.rows]} />
      </div>
    </>
  );
}

/** What the file says, where nobody has chosen or written otherwise. */
function untouched(said: Values, typed: Values, start: Values): Values {
  return Object.fromEntries(Object.entries(said).filter(([name]) => (typed[name] ?? "") === "" || typed[name] === (start[name] ?? "")));
}

/** What stands in the form below, row by row; blank rows left out. */
function typedIn(desk: HTMLDivElement | null): Typed {
  const form = desk?.querySelector("form");
  if (form === null || form === undefined) return NOTHING;
  const values: Record<string, string> = {};
  const rows = new Map<number, Record<string, string>>();
  for (const [name, value] of new FormData(form)) {
    if (typeof value !== "string" || name.startsWith("$") || ["intent", "basedOn", "basedOnTheirs", "id", "tryout"].includes(name)) continue;
    const row = /^lines\.(\d+)\.(.+)$/.exec(name);
    if (row === null) { if (!name.startsWith("lines.")) values[name] = value; continue; }
    const at = Number(row[1]);
    rows.set(at, { ...rows.get(at), [row[2] ?? ""]: value });
  }
  return { values, rows: [...rows].sort(([a], [b]) => a - b).map(([, row]) => row).filter((row) => ["item", "billed", "price"].some((field) => (row[field] ?? "").trim() !== "")) };
}
