/** What stays written with a list once it is recorded: the day, the answers, and how its lines came out. */
import { z } from "zod";
import { FATES, type Fate } from "@/lib/buying";
import type { OpenedList } from "./opened";

export interface ListSummary {
  readonly lines: number;
  readonly from: string;
  readonly counts: Readonly<Record<Fate, number>>;
}

export function keptChoices({ choices, judged }: OpenedList, from: string): object {
  return { ...choices, summary: { lines: judged.lines.length, from, counts: judged.counts } satisfies ListSummary };
}

const schema = z.object({ summary: z.object({ lines: z.number(), from: z.string(), counts: z.object(Object.fromEntries(FATES.map((fate) => [fate, z.number()])) as Record<Fate, z.ZodNumber>) }) });

/** null for a list that was not recorded, or of another time. */
export function readSummary(kept: unknown): ListSummary | null {
  const read = schema.safeParse(kept);
  return read.success ? read.data.summary : null;
}
