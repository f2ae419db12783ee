/**
 * Lines that can be added, removed and moved, by hand or by keyboard (Alt+↑ and Alt+↓ move the line one stands in,
 * Alt+Enter adds one below). Each line's fields are named `<name>.<row>.<field>`; the rows are sent in their order on
 * the screen. A removed line can be put back. Without a script two spare lines stand at the end; lines left blank (all
 * fields of `blankWhen` empty) are left out by the server (read-form.ts), so they cost nothing.
 *
 *   <LinesField name="parts" legend="Parts" blankWhen={["name", "weight"]} rows={rows} noun="part">
 *     {(prefix) => <><TextField name={`${prefix}.name`} label="Part" /> <QuantityField name={`${prefix}.weight`} … /></>}
 *   </LinesField>
 *
 * `rows` gives the starting values of each row by field. Values a row carries but does not show (a stable key) go into
 * `hidden`.
 */
"use client";
import { type KeyboardEvent, type ReactNode, useEffect, useRef, useState } from "react";
import { Button } from "./Button";
import { RowFrame, type Values, useProblemsOf, useValuesUnder } from "./FormContext";

export interface LinesFieldProps {
  readonly name: string;
  readonly legend: ReactNode;
  /** What one line is: "part", "line". */
  readonly noun?: string;
  readonly rows?: readonly Values[];
  readonly blankWhen: readonly string[];
  /** Fields of a row that are sent along unseen. */
  readonly hidden?: readonly string[];
  /** How many lines a new form shows, and the most there may be. */
  readonly least?: number;
  readonly most?: number;
  readonly children: (prefix: string, index: number, values: Values) => ReactNode;
}

interface LineRow {
  readonly id: number;
  readonly values: Values;
}

export function LinesField({ name, legend, noun = "line", rows, blankWhen, hidden = [], least = 1, most = 200, children }: LinesFieldProps) {
  const typed = useValuesUnder(name);
  const problems = useProblemsOf(name);
  const [lines, setLines] = useState<readonly LineRow[]>(() => startRows(typed, rows ?? [], least));
  const [removed, setRemoved] = useState<{ readonly row: LineRow; readonly at: number } | null>(null);
  const next = useRef(10_000);
  const list = useRef<HTMLOListElement>(null);
  const focus = useRef<{ readonly at: number; readonly what: "field" | "row" } | null>(null);
  const [told, setTold] = useState("");

  useEffect(() => {
    const wanted = focus.current;
    if (!wanted) return;
    focus.current = null;
    const row = list.current?.children[wanted.at];
    row?.querySelector<HTMLElement>(wanted.what === "field" ? "input:not([type=hidden]), select, textarea" : "[data-move]")?.focus();
  }, [lines]);

  const add = (at: number): void => {
    if (lines.length >= most) { setTold(`At most ${most} lines.`); return; }
    next.current += 1;
    focus.current = { at, what: "field" };
    setLines([...lines.slice(0, at), { id: next.current, values: {} }, ...lines.slice(at)]);
    setTold(`A new ${noun} was added.`);
  };
  const remove = (at: number): void => {
    const row = lines[at];
    if (!row) return;
    setRemoved({ row: { ...row, values: readRow(list.current?.children[at], `${name}.${at}`, row.values) }, at });
    const rest = lines.filter((_, index) => index !== at);
    focus.current = { at: Math.max(0, Math.min(at, rest.length - 1)), what: "field" };
    setLines(rest);
    setTold(`${noun} ${at + 1} was removed.`);
  };
  const putBack = (): void => {
    if (!removed) return;
    next.current += 1;
    focus.current = { at: removed.at, what: "field" };
    setLines([...lines.slice(0, removed.at), { id: next.current, values: removed.row.values }, ...lines.slice(removed.at)]);
    setRemoved(null);
  };
  const move = (at: number, by: number, what: "field" | "row"): void => {
    const to = at + by;
    const row = lines[at];
    if (!row || to < 0 || to >= lines.length) return;
    const rest = lines.filter((_, index) => index !== at);
    focus.current = { at: to, what };
    setLines([...rest.slice(0, to), row, ...rest.slice(to)]);
    setTold(`Moved to place ${to + 1} of ${lines.length}.`);
  };
  const onKey = (event: KeyboardEvent, at: number): void => {
    if (!event.altKey) return;
    if (event.key === "ArrowUp" || event.key === "ArrowDown") { event.preventDefault(); move(at, event.key === "ArrowUp" ? -1 : 1, "field"); }
    if (event.key === "Enter") { event.preventDefault(); add(at + 1); }
  };

  return (
    <fieldset aria-describedby={problems.length > 0 ? `${name}-wrong` : undefined}>
      <legend>{legend}</legend>
      <input type="hidden" name={`${name}.blank`} value={blankWhen.join(",")} />
      {problems.length > 0 && <p className="wrong" id={`${name}-wrong`}>{problems.map((problem) => problem.sentence).join(" ")}</p>}
      <ol className="lines" ref={list}>
        {lines.map((line, index) => (
          <li key={line.id} onKeyDown={(event) => onKey(event, index)}>
            <RowFrame prefix={`${name}.${index}`} values={line.values}>
              <div className="fields" role="group" aria-label={`${noun} ${index + 1}`}>
                {hidden.map((field) => <input key={field} type="hidden" name={`${name}.${index}.${field}`} value={line.values[field] ?? ""} />)}
                {children(`${name}.${index}`, index, line.values)}
              </div>
            </RowFrame>
            <div className="row-do">
              <Button small data-move disabled={index === 0} onClick={() => move(index, -1, "row")} aria-label={`Move ${noun} ${index + 1} up`}>↑</Button>
              <Button small disabled={index === lines.length - 1} onClick={() => move(index, 1, "row")} aria-label={`Move ${noun} ${index + 1} down`}>↓</Button>
              <Button small onClick={() => remove(index)} aria-label={`Remove ${noun} ${index + 1}`}>Remove</Button>
            </div>
          </li>
        ))}
        <noscript>
          <SpareRows name={name} from={lines.length}>{children}</SpareRows>
        </noscript>
      </ol>
      <p style={{ marginTop: "var(--s3)" }}>
        <Button plain onClick={() => add(lines.length)}>Add {/^[aeiou]/i.test(noun) ? "an" : "a"} {noun}</Button>
        {removed && <> <Button small onClick={putBack}>Put back the {noun} just removed</Button></>}
      </p>
      <p className="visually-hidden" role="status">{told}</p>
    </fieldset>
  );
}

function SpareRows({ name, from, children }: { readonly name: string; readonly from: number; readonly children: LinesFieldProps["children"] }) {
  return [0, 1].map((offset) => (
    <li key={offset}>
      <RowFrame prefix={`${name}.${from + offset}`} values={{}}>
        <div className="fields">{children(`${name}.${from + offset}`, from + offset, {})}</div>
      </RowFrame>
    </li>
  ));
}

/** What was typed before comes first (a form that came back), then the page's rows, then blank ones. */
function startRows(typed: Values, rows: readonly Values[], least: number): LineRow[] {
  const back: Record<number, Record<string, string>> = {};
  for (const [name, value] of Object.entries(typed)) {
    const match = /^(\d{1,4})\.(.+)$/.exec(name);
    if (match) (back[Number(match[1])] ??= {})[match[2] ?? ""] = value;
  }
  const came = Object.keys(back).map(Number).sort((a, b) => a - b).map((index) => back[index] ?? {});
  const values: Values[] = came.length > 0 ? came : [...rows];
  while (values.length < least) values.push({});
  return values.map((row, id) => ({ id, values: row }));
}

/** What stands in a row's fields now, so that a removed row can be put back as it was. */
function readRow(row: Element | undefined, prefix: string, start: Values): Values {
  const values: Record<string, string> = { ...start };
  row?.querySelectorAll<HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement>("[name]").forEach((control) => {
    if (!control.name.startsWith(`${prefix}.`)) return;
    const field = control.name.slice(prefix.length + 1);
    if (control instanceof HTMLInputElement && (control.type === "checkbox" || control.type === "radio")) {
      if (control.checked) values[field] = control.value;
      else if (control.type === "checkbox") values[field] = "";
    } else values[field] = control.value;
  });
  return values;
}
