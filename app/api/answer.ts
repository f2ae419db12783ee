/**
 * The one way in for programs: whose key it is, whether it may, whether it asks too much, what it asks; then the route's own
 * work, and its answer as JSON. Cookies open nothing here and a key opens nothing elsewhere, so that no page can make a
 * signed-in browser send one of these. Server only.
 */
import type { z } from "zod";
import { type Program, openAccess } from "@/lib/access";
import { type Store, openStore } from "@/lib/store";
import type { LiveBook } from "@/lib/store";
import type { Problem } from "@/lib/measure";
import { logProblem } from "../log";
import { takeOne } from "./limits";
import { problem } from "./problem";
import type { ApiRoute } from "./route-of";

export interface AskedOf<P, Q, B> {
  readonly program: Program;
  readonly store: Store;
  readonly live: LiveBook;
  readonly params: P;
  readonly query: Q;
  readonly body: B;
  readonly request: Request;
  /** What was sent, as it came. */
  readonly raw: string;
}

/** Status and body, or a problem. */
export type Answered = { readonly status?: number; readonly body: unknown; readonly headers?: Readonly<Record<string, string>> } | Response;

type Work<P, Q, B> = (asked: AskedOf<P, Q, B>) => Promise<Answered> | Answered;
/** Of a route without parts in braces there is nothing to wait for. */
type Context = { readonly params: Promise<Readonly<Record<string, string>> | undefined> };

/** The handler of a route of the table (routes.ts). */
export function answering<P, Q, B>(route: ApiRoute<P, Q, B>, work: Work<P, Q, B>): (request: Request, context: Context) => Promise<Response> {
  return async (request, context) => {
    try {
      const answer = await answerTo(route, work, request, await context.params ?? {});
      return answer instanceof Response ? answer : Response.json(answer.body, { status: answer.status ?? 200, headers: { ...answer.headers } });
    } catch (error) {
      logProblem("A program could not be answered", error, { request: request.headers.get("x-request-id") ?? "" });
      return problem("failed", "The fault is ours, not yours. Nothing was recorded unless an earlier request with the same Idempotency-Key says so; ask again in a moment.");
    }
  };
}

async function answerTo<P, Q, B>(route: ApiRoute<P, Q, B>, work: Work<P, Q, B>, request: Request, given: Readonly<Record<string, string>>): Promise<Answered> {
  const program = await programOf(request);
  if (program instanceof Response) return program;
  if (route.may === "write" && program.may !== "write") return problem("only-reads", "This key may read, and not write. An owner of the kitchen can make another that may.");
  const wait = takeOne(route.may, program.id);
  if (wait > 0) return tooMany(wait);
  const params = route.params.safeParse(decoded(given));
  if (!params.success) return problem("not-there", "There is no such address here.", { problems: problemsIn(params.error.issues) });
  const query = route.query.safeParse(once(new URL(request.url).searchParams));
  if (!query.success) return problem("bad-question", "Something in the address’s question cannot be read.", { problems: problemsIn(query.error.issues) });
  let raw = "";
  let body: unknown = undefined;
  if (route.body !== null) {
    if (!/^application\/json\b/i.test(request.headers.get("content-type") ?? "")) return problem("not-json-type", "Send JSON, and say so: Content-Type: application/json.");
    raw = await request.text();
    try {
      body = JSON.parse(raw);
    } catch {
      return problem("not-json", "What was sent cannot be read as JSON. Nothing was recorded.");
    }
    const read = route.body.safeParse(body);
    if (!read.success) return problem("bad-shape", "What was sent is not told field by field as it has to be. Nothing was recorded.", { problems: problemsIn(read.error.issues) });
    body = read.data;
  }
  const store = await openStore();
  return work({ program, store, live: await store.live(program.kitchenId), params: params.data, query: query.data, body: body as B, request, raw });
}

/** Whose key the request carries; a problem where it carries none that is in force. */
async function programOf(request: Request): Promise<Program | Response> {
  const [, key] = /^Bearer +([\w~.+/=-]+) *$/i.exec(request.headers.get("authorization") ?? "") ?? [];
  if (key === undefined) return problem("no-key", "Send a key of the kitchen: Authorization: Bearer tlk_… An owner makes one under Programs.");
  const program = await (await openAccess()).programBehind(key);
  if (program !== null) return program;
  const wait = takeOne("stranger", request.headers.get("x-trimledger-address") ?? "unknown");
  return wait > 0 ? tooMany(wait) : problem("wrong-key", "This key is not in force: it was ended, or it never was one. An owner makes a new one under Programs.");
}

function tooMany(wait: number): Response {
  return problem("too-many", `That is more than is answered in a minute. Ask again in ${wait} ${wait === 1 ? "second" : "seconds"}.`, { headers: { "Retry-After": String(wait) } });
}

/** Parts of the path as they were meant; one that stands for no letters is nobody's id. */
function decoded(given: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  return Object.fromEntries(Object.entries(given).map(([name, value]) => {
    try {
      return [name, decodeURIComponent(value)];
    } catch {
      return [name, ""];
    }
  }));
}

/** The question field by field; one that is asked twice is asked as a list, which no field is. */
function once(search: URLSearchParams): Readonly<Record<string, unknown>> {
  return Object.fromEntries([...new Set(search.keys())].map((name) => {
    const all = search.getAll(name);
    return [name, all.length === 1 ? all[0] : all];
  }));
}

export function problemsIn(issues: readonly z.core.$ZodIssue[]): readonly Problem[] {
  return issues.slice(0, 20).map((issue) => ({ path: issue.path.map(String).join("."), code: issue.code, sentence: sentenceOf(issue) }));
}

function sentenceOf(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "unrecognized_keys": return `There is no ${issue.keys.slice(0, 3).map((key) => `“${key.slice(0, 40)}”`).join(", ")} here.`;
    case "invalid_value": return `This is one of: ${issue.values.map(String).join(", ")}.`;
    case "invalid_type": return issue.expected === "array" ? "A list is needed here." : issue.expected === "record" || issue.expected === "object" ? "This has to be told field by field." : issue.expected === "boolean" ? "Say true or false." : issue.expected === "int" || issue.expected === "number" ? "Give a whole number." : "Text is needed here, once.";
    case "too_big": return `This is more than is taken: at most ${String(issue.maximum)}.`;
    case "too_small": return `This is less than is taken: at least ${String(issue.minimum)}.`;
    case "invalid_format": case "custom": return issue.message;
    default: return "This cannot be read.";
  }
}
