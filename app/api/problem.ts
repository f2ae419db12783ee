/** What a program is told when it cannot have what it asks: a problem document (RFC 9457) with our sentences. */
import type { z } from "zod";
import type { Problem } from "@/lib/measure";
import type { problemShape } from "./shapes";

/** Every problem by its code: the status and the title. The document lists them. */
export const PROBLEMS = {
  "no-key": [401, "A key is needed"],
  "wrong-key": [401, "The key is not in force"],
  "only-reads": [403, "The key only reads"],
  "not-there": [404, "There is no such thing"],
  "not-known-yet": [404, "Nothing was recorded yet"],
  "bad-question": [400, "The question cannot be read"],
  "not-json": [400, "What was sent is no JSON"],
  "bad-shape": [400, "What was sent has another shape"],
  "not-json-type": [415, "JSON is read here"],
  "too-many": [429, "Too many requests"],
  stale: [409, "Somebody else changed this"],
  refused: [422, "The change does not hold together"],
  "another-call": [422, "That key was given to another change"],
  failed: [500, "This could not be answered"],
} as const satisfies Readonly<Record<string, readonly [number, string]>>;
export type ProblemCode = keyof typeof PROBLEMS;

export type ProblemTold = z.infer<typeof problemShape>;

export interface More {
  readonly problems?: readonly Problem[];
  readonly stale?: ProblemTold["stale"];
  readonly headers?: Readonly<Record<string, string>>;
}

export function problem(code: ProblemCode, detail: string, { problems, stale, headers = {} }: More = {}): Response {
  const [status, title] = PROBLEMS[code];
  const told: ProblemTold = {
    type: `/api/v1/openapi.json#${code}`, title, status, detail, code,
    ...(problems === undefined ? {} : { problems: problems.map(({ path, code: of, sentence }) => ({ path, code: of, sentence })) }), ...(stale === undefined ? {} : { stale }),
  };
  return Response.json(told, { status, headers: { "Content-Type": "application/problem+json", ...(status === 401 ? { "WWW-Authenticate": "Bearer" } : {}), ...headers } });
}
