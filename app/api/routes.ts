/** Every way in for programs, each once: the handlers (v1/) are made of these, and so is the document (openapi.ts). */
import { z } from "zod";
import { type ApiRoute, NOTHING } from "./route-of";
import { answers, asOf, asked, sentChange } from "./shapes";

const route = <P, Q, B = null>(of: Omit<ApiRoute<P, Q, B>, "body"> & { readonly body?: z.ZodType<B> }): ApiRoute<P, Q, B> => ({ ...of, body: of.body ?? null });

const AS_OF = "`on` asks for the book of another day, `knownAt` or `afterChange` for what was known then.";
const read = { method: "GET", may: "read" } as const;

export const ROUTES = {
  start: route({
    ...read, path: "", summary: "Which kitchen the key opens", params: NOTHING, query: NOTHING, problems: [],
    answers: { 200: { description: "The kitchen and what its book holds.", schema: answers.start } },
  }),
  book: route({
    ...read, path: "/book/{kind}", summary: "All facts of a kind", description: `${AS_OF} In pages: give \`next\` back as \`after\`, and \`changeNo\` as \`afterChange\` where every page is to be of one moment.`,
    params: z.strictObject({ kind: asked.factKind }), query: z.strictObject({ ...asOf, ...asked.page(1_000) }), problems: ["not-known-yet"],
    answers: { 200: { description: "Facts in the order they came into the book.", schema: answers.book } },
  }),
  fact: route({
    ...read, path: "/book/{kind}/{id}", summary: "One fact, with where it comes from", description: AS_OF,
    params: z.strictObject({ kind: asked.factKind, id: asked.id }), query: z.strictObject(asOf), problems: ["not-known-yet"],
    answers: { 200: { description: "The fact.", schema: answers.fact } },
  }),
  revisions: route({
    ...read, path: "/revisions/{kind}/{id}", summary: "Every recorded state of a fact",
    params: z.strictObject({ kind: asked.factKind, id: asked.id }), query: NOTHING, problems: [],
    answers: { 200: { description: "Revisions, newest first.", schema: answers.revisions } },
  }),
  costs: route({
    ...read, path: "/costs/{kind}", summary: "What everything of a kind costs", description: AS_OF,
    params: z.strictObject({ kind: asked.nodeKind }), query: z.strictObject({ ...asOf, ...asked.page(1_000) }), problems: ["not-known-yet"],
    answers: { 200: { description: "Costs in the order things came into the book.", schema: answers.costs } },
  }),
  cost: route({
    ...read, path: "/costs/{kind}/{id}", summary: "What one thing costs", description: AS_OF,
    params: z.strictObject({ kind: asked.nodeKind, id: asked.id }), query: z.strictObject(asOf), problems: ["not-known-yet"],
    answers: { 200: { description: "The cost.", schema: answers.cost } },
  }),
  history: route({
    ...read, path: "/costs/{kind}/{id}/history", summary: "How a cost has moved",
    params: z.strictObject({ kind: asked.nodeKind, id: asked.id }), query: NOTHING, problems: [],
    answers: { 200: { description: "A point for every change that moved it.", schema: answers.history } },
  }),
  dishes: route({
    ...read, path: "/dishes", summary: "The menu: plate cost, food cost, target, margin", description: AS_OF,
    params: NOTHING, query: z.strictObject(asOf), problems: ["not-known-yet"],
    answers: { 200: { description: "Every dish.", schema: answers.dishes } },
  }),
  record: route({
    ...read, path: "/record", summary: "Who changed what, newest first", params: NOTHING, query: z.strictObject(asked.before), problems: [],
    answers: { 200: { description: "Changes.", schema: answers.record } },
  }),
  change: route({
    ...read, path: "/record/{changeNo}", summary: "One change, with its ripple", params: z.strictObject({ changeNo: asked.changeNo }), query: NOTHING, problems: [],
    answers: { 200: { description: "The change.", schema: answers.change } },
  }),
  changes: route({
    method: "POST", may: "write", path: "/changes", summary: "Record a change, or try it",
    description: "Several facts are recorded together or not at all, in the name of the key. With an Idempotency-Key the same change sent twice is recorded once, and answered the same.",
    params: NOTHING, query: NOTHING, body: sentChange as unknown as z.ZodType<z.infer<typeof sentChange>>,
    headers: { "Idempotency-Key": { description: "What the program calls this change: up to 200 letters, digits and marks.", schema: z.string().regex(/^[\x21-\x7e]{1,200}$/).optional() } },
    problems: ["not-json", "bad-shape", "not-json-type", "only-reads", "refused", "another-call", "stale"],
    answers: {
      200: { description: "It was tried, and nothing recorded; or it was recorded before under the same Idempotency-Key, and this is that change (Idempotency-Replayed: true).", schema: z.union([answers.tried, answers.recorded]) },
      201: { description: "It was recorded.", schema: answers.recorded },
    },
  }),
} as const;

export const ALL_ROUTES: readonly ApiRoute[] = Object.values(ROUTES) as unknown as readonly ApiRoute[];
