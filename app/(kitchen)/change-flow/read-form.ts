/**
 * What an edit form sent, as plain data. Field names are dot paths ("parts.2.weight"), so they fold into the object
 * that the schemas of lib/book read. Rows of a LinesField that were left blank fall out; problems found in the rest are
 * told at the rows where they stand on the screen (`onScreen`).
 */
import type { Values } from "@/components/form/FormContext";
import type { Problem } from "@/lib/measure";

export interface ReadForm {
  /** Everything typed, by field name, to put back into the fields. */
  readonly values: Values;
  /** The same folded into objects and lists; blank rows left out. */
  readonly input: Readonly<Record<string, unknown>>;
  /** One field's text, trimmed; "" when it was not sent. */
  readonly text: (name: string) => string;
  /** The rows of a LinesField, blank ones left out, each with its fields' texts. */
  readonly rows: (name: string) => readonly Values[];
  /** The problems with their paths turned back to the rows on the screen. */
  readonly onScreen: (problems: readonly Problem[]) => readonly Problem[];
}

/** Fields of the form itself, which no fact has. */
const OWN = new Set(["intent", "basedOn", "basedOnTheirs", "tryout"]);
const UNSAFE = new Set(["__proto__", "constructor", "prototype"]);

/** What a server action was called with, where that is a form; else one without fields. Anybody can call an action with anything. */
export function asForm(sent: unknown): FormData {
  return sent instanceof FormData ? sent : new FormData();
}

export function readForm(formData: FormData): ReadForm {
  const values: Record<string, string> = {};
  const blankWhen = new Map<string, string[]>();
  for (const [name, value] of formData.entries()) {
    if (typeof value !== "string" || name.startsWith("$") || OWN.has(name)) continue;
    if (name.endsWith(".blank")) blankWhen.set(name.slice(0, -".blank".length), value.split(","));
    else values[name] = value;
  }

  // For each list of rows: which rows of the screen stay, in order.
  const kept = new Map<string, number[]>();
  for (const [list, fields] of blankWhen) {
    const numbers = new Set<number>();
    for (const name of Object.keys(values)) {
      const row = rowOf(name, list);
      if (row !== null) numbers.add(row);
    }
    kept.set(list, [...numbers].sort((a, b) => a - b).filter((row) => fields.some((field) => (values[`${list}.${row}.${field}`] ?? "").trim() !== "")));
  }

  const input: Record<string, unknown> = {};
  for (const list of kept.keys()) place(input, list.split("."), []);
  for (const [name, value] of Object.entries(values)) {
    const list = [...kept.keys()].find((one) => rowOf(name, one) !== null);
    if (list === undefined) { place(input, name.split("."), value); continue; }
    const row = rowOf(name, list) ?? 0;
    const at = kept.get(list)?.indexOf(row) ?? -1;
    if (at >= 0) place(input, [...list.split("."), String(at), ...name.slice(`${list}.${row}.`.length).split(".")], value);
  }

  return {
    values,
    input,
    text: (name) => (values[name] ?? "").trim(),
    rows: (name) => (kept.get(name) ?? []).map((row) => Object.fromEntries(
      Object.entries(values).filter(([field]) => rowOf(field, name) === row).map(([field, value]) => [field.slice(`${name}.${row}.`.length), value]),
    )),
    onScreen: (problems) => problems.map((problem) => {
      for (const [list, rows] of kept) {
        const at = rowOf(problem.path, list) ?? rowOf(`${problem.path}.`, list);
        if (at !== null && rows[at] !== undefined) return { ...problem, path: inOneField(values, `${list}.${rows[at]}`, problem.path.slice(`${list}.${at}`.length)) };
      }
      return problem;
    }),
  };
}

/** Of a line that is written in one field, whatever is wrong with its quantity or with what it takes is told there. */
function inOneField(values: Values, row: string, field: string): string {
  const path = `${row}${field}`;
  return (field === ".of" || field === ".quantity") && values[path] === undefined && values[`${row}.text`] !== undefined ? `${row}.text` : path;
}

/** The row number in a field's name, "parts.2.weight" → 2; null when it is not in that list. */
function rowOf(name: string, list: string): number | null {
  if (!name.startsWith(`${list}.`)) return null;
  const number = /^(\d{1,4})\./.exec(name.slice(list.length + 1))?.[1];
  return number === undefined ? null : Number(number);
}

/** Puts a value at a path, making lists where the path has numbers. */
function place(target: Record<string, unknown>, path: readonly string[], value: unknown): void {
  if (path.some((step) => UNSAFE.has(step))) return;
  let here: Record<string, unknown> | unknown[] = target;
  for (const [index, step] of path.entries()) {
    const last = index === path.length - 1;
    const key: string | number = Array.isArray(here) ? Number(step) : step;
    if (Array.isArray(here) && !Number.isInteger(key)) return;
    const there = (here as Record<string | number, unknown>)[key];
    if (last) { (here as Record<string | number, unknown>)[key] = value; return; }
    const next = typeof there === "object" && there !== null ? there : /^\d+$/.test(path[index + 1] ?? "") ? [] : {};
    (here as Record<string | number, unknown>)[key] = next;
    here = next as Record<string, unknown> | unknown[];
  }
}
