/**
 * The document that describes the ways in for programs (OpenAPI 3.1), made of the table of routes and of the very schemas
 * by which requests are read and answers are tested.
 */
import { z } from "zod";
import { TOLD } from "@/lib/exchange";
import { PROBLEMS, type ProblemCode } from "./problem";
import { ALL_ROUTES } from "./routes";
import type { ApiRoute } from "./route-of";
import { problemShape } from "./shapes";

type Json = Readonly<Record<string, unknown>>;

/** What every route may answer. */
const ALWAYS: readonly ProblemCode[] = ["no-key", "wrong-key", "not-there", "bad-question", "too-many", "failed"];

const COMPONENTS = "#/components/schemas/";

/** A schema as the document has it: what has a name of its own is only pointed at. */
function shape(schema: z.ZodType): Json {
  const { $schema: _, $defs: __, ...rest } = z.toJSONSchema(schema, { metadata: TOLD as never, target: "draft-2020-12", io: "input" }) as Record<string, unknown>;
  return pointed(rest) as Json;
}

/** "#/$defs/X" where zod puts its definitions is "#/components/schemas/X" here. */
function pointed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(pointed);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).filter(([name]) => name !== "id" || typeof (value as Json)["id"] !== "string").map(([name, inner]) => [name, name === "$ref" && typeof inner === "string" ? inner.replace("#/$defs/", COMPONENTS) : pointed(inner)]));
}

function named(schema: z.ZodType): Json {
  const id = TOLD.get(schema)?.id;
  return id === undefined ? shape(schema) : { $ref: `${COMPONENTS}${id}` };
}

function parameters({ params, query, headers = {} }: ApiRoute): readonly Json[] {
  const of = (where: "path" | "query", schema: z.ZodType): readonly Json[] => {
    const { properties = {}, required = [] } = shape(schema) as { readonly properties?: Readonly<Record<string, Json>>; readonly required?: readonly string[] };
    return Object.entries(properties).map(([name, field]) => ({ name, in: where, required: where === "path" || required.includes(name), schema: field }));
  };
  return [...of("path", params), ...of("query", query), ...Object.entries(headers).map(([name, { description, schema }]) => ({ name, in: "header", required: false, description, schema: shape(schema) }))];
}

function operation(route: ApiRoute): Json {
  const problems = [...ALWAYS, ...route.problems];
  const statuses = [...new Set(problems.map((code) => PROBLEMS[code][0]))].sort((a, b) => a - b);
  return {
    operationId: operationId(route), summary: route.summary, ...(route.description === undefined ? {} : { description: route.description }),
    parameters: parameters(route),
    ...(route.body === null ? {} : { requestBody: { required: true, content: { "application/json": { schema: named(route.body) } } } }),
    responses: {
      ...Object.fromEntries(Object.entries(route.answers).map(([status, { description, schema }]) => [status, { description, content: { "application/json": { schema: named(schema) } } }])),
      ...Object.fromEntries(statuses.map((status) => [String(status), {
        description: problems.filter((code) => PROBLEMS[code][0] === status).map((code) => `${PROBLEMS[code][1]} (${code}).`).join(" "),
        content: { "application/problem+json": { schema: named(problemShape) } },
      }])),
    },
  };
}

function operationId({ method, path }: ApiRoute): string {
  return path === "" ? "getKitchen" : `${method.toLowerCase()} ${path}`.replace(/[^a-zA-Z]+(\w?)/g, (_, letter: string) => letter.toUpperCase()) 
}

/** Every schema with a name of its own, under it. */
function components(): Readonly<Record<string, Json>> {
  const all = z.toJSONSchema(TOLD as never, { uri: (id: string) => `${COMPONENTS}${id}`, target: "draft-2020-12", io: "input" }) as { readonly schemas: Readonly<Record<string, Record<string, unknown>>> };
  return Object.fromEntries(Object.entries(all.schemas).map(([id, { $schema: _, $id: __, id: ___, ...rest }]) => [id, rest]));
}

let made: Json | undefined;

export function openApi(): Json {
  return (made ??= {
    openapi: "3.1.0",
    info: {
      title: "A kitchen’s book, for programs", version: "1",
      description: "Reading and writing the book of one kitchen with a key that its owner makes under Programs. Figures are exact, and come as text. Every write is recorded in the name of the key. See docs/api.md.",
    },
    servers: [{ url: "/api/v1" }],
    security: [{ key: [] }],
    paths: Object.fromEntries([
      ...ALL_ROUTES.map((route) => [route.path === "" ? "/" : route.path, { [route.method.toLowerCase()]: operation(route) }] as const),
      ["/openapi.json", { get: { operationId: "getOpenapi", summary: "This document", security: [], responses: { 200: { description: "This document.", content: { "application/json": { schema: { type: "object" } } } } } } }] as const,
    ]),
    components: { schemas: components(), securitySchemes: { key: { type: "http", scheme: "bearer", description: "A key of one kitchen: tlk_…" } } },
  });
}
