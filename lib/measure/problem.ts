/**
 * A problem that a person can cause and cure: where it is (path to the field), which (a code that tests and screens
 * may switch on) and the sentence a cook would want, saying what is wrong and what would be right.
 */
export interface Problem {
  /** Dot path of the field, e.g. "parts.2.weight"; "" when it is about the whole. */
  readonly path: string;
  /** Short kebab-case name, e.g. "parts-exceed-whole". */
  readonly code: string;
  readonly sentence: string;
}

export type Checked<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problems: readonly Problem[] };

export function good<T>(value: T): Checked<T> {
  return { ok: true, value };
}

export function bad(path: string, code: string, sentence: string): { readonly ok: false; readonly problems: readonly Problem[] } {
  return { ok: false, problems: [{ path, code, sentence }] };
}

/** The same problems, seen from the whole that the part at `path` belongs to: at("parts.2", …"weight") is "parts.2.weight". */
export function at(path: string, problems: readonly Problem[]): readonly Problem[] {
  if (path === "") return problems;
  return problems.map((problem) => ({ ...problem, path: problem.path === "" ? path : `${path}.${problem.path}` }));
}
