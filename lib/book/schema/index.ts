/** What people and files hand in, read into facts (being filled in: signatures are final). */
import type { z } from "zod";
import type { Checked, Habits } from "@/lib/measure";
import type { FactKind, FactOf } from "../book";
export declare function factSchema<K extends FactKind>(kind: K, habits: Habits): z.ZodType<FactOf[K]>;
export declare function readFact<K extends FactKind>(kind: K, input: unknown, habits: Habits): Checked<FactOf[K]>;
/** Builds the nested input of a form from its dotted field names: "parts.2.weight". */
export declare function objectFromForm(entries: Iterable<readonly [string, unknown]>): Record<string, unknown>;
