/** What people said about the lines of a list before it is recorded: the day it counts from, answers to questions, items chosen. */
import { z } from "zod";
import { isDay } from "@/lib/book";

/**
 * take: the price is right. leave: the old price stands. pack / unit: it is the price of the pack, of one of the unit.
 * moved: the point belongs where the likely price has it. this: of lines that say different things of one quote, this one counts.
 */
export const ANSWERS = ["take", "leave", "pack", "unit", "moved", "this"] as const;
export type Answer = (typeof ANSWERS)[number];

export const LIST_QUESTIONS = ["case-price-per-unit", "unit-price-per-case", "price-point", "price-jump", "contract", "other-currency", "several"] as const;
export type ListQuestion = (typeof LIST_QUESTIONS)[number];

/** Which answers make sense of a question, the likeliest first. */
export const ANSWERS_TO: Readonly<Record<ListQuestion, readonly Answer[]>> = {
  "case-price-per-unit": ["pack", "take", "leave"],
  "unit-price-per-case": ["unit", "take", "leave"],
  "price-point": ["moved", "take", "leave"],
  "price-jump": ["take", "leave"],
  contract: ["leave", "take"],
  "other-currency": ["take", "leave"],
  several: ["this", "leave"],
};

export interface LineChoice {
  readonly answer?: Answer | undefined;
  /** The item that the line is; "" where it was chosen and taken back. */
  readonly itemId?: string | undefined;
}

export interface ListChoices {
  /** The day from which all of it counts; null: the list's own, else today. */
  readonly from: string | null;
  /** By the row of the line. */
  readonly lines: Readonly<Record<string, LineChoice>>;
  /** For all lines with a question of a kind that have no answer of their own. */
  readonly all: Readonly<Partial<Record<ListQuestion, Answer>>>;
}

export const NO_CHOICES: ListChoices = { from: null, lines: {}, all: {} };

const answer = z.enum(ANSWERS);
const schema = z.object({
  from: z.string().refine(isDay).nullable().default(null),
  lines: z.record(z.string().regex(/^\d{1,6}$/), z.object({ answer: answer.optional(), itemId: z.string().max(120).optional() })).default({}),
  all: z.partialRecord(z.enum(LIST_QUESTIONS), answer).default({}),
});

/** Choices that were kept; none where they cannot be read any more. */
export function readChoices(kept: unknown): ListChoices {
  const read = schema.safeParse(kept);
  return read.success ? read.data : NO_CHOICES;
}
