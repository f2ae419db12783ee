/** A way in for programs, as its table (routes.ts) has it: what may be asked, what may be sent, what is answered. */
import { z } from "zod";
import type { ProblemCode } from "./problem";

export interface ApiRoute<P = unknown, Q = unknown, B = unknown> {
  readonly method: "GET" | "POST";
  /** With its parts in braces, after /api/v1: "/book/{kind}/{id}". */
  readonly path: string;
  readonly summary: string;
  readonly description?: string;
  readonly may: "read" | "write";
  readonly params: z.ZodType<P>;
  readonly query: z.ZodType<Q>;
  readonly body: z.ZodType<B> | null;
  readonly headers?: Readonly<Record<string, { readonly description: string; readonly schema: z.ZodType }>>;
  readonly answers: Readonly<Record<number, { readonly description: string; readonly schema: z.ZodType }>>;
  /** What may be wrong beside what every route may answer. */
  readonly problems: readonly ProblemCode[];
}

export const NOTHING = z.strictObject({});
