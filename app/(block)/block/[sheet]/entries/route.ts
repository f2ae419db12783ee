/**
 * Where a device at the block sends what was typed and asks for what is new. Answers 401 where nobody is signed in, 403
 * where it is not theirs to do, 404 for a sheet that this kitchen does not have, 400 and 409 with a sentence.
 */
import { NextResponse } from "next/server";
import { z } from "zod";
import { refusal } from "@/lib/access";
import { readBlockEntries } from "@/lib/book";
import { kitchenOfCaller } from "../../../../(kitchen)/open-kitchen";

const SENT = z.object({ since: z.number().int().min(0).max(1_000_000), entries: z.unknown() });

const say = (status: number, sentence: string): NextResponse => NextResponse.json({ sentence }, { status });

export async function POST(request: Request, { params }: { readonly params: Promise<{ readonly sheet: string }> }): Promise<NextResponse> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "You are not signed in any more.");
  if (!open.may("record a test")) return say(403, refusal("record a test"));
  const { sheet } = await params;
  const sent = SENT.safeParse(await request.json().catch(() => null));
  if (!sent.success) return say(400, "Send the number of the last entry you have, and a list of entries.");
  const entries = readBlockEntries(sent.data.entries);
  if (!entries.ok) return say(400, entries.problems[0]?.sentence ?? "An entry could not be read.");
  const { store, kitchenId, visitor } = open;
  const answer = await store.syncSheet(kitchenId, sheet, visitor, { entries: entries.value, since: sent.data.since });
  if (answer === null) return say(404, "There is no such sheet in this kitchen.");
  return answer.ok ? NextResponse.json(answer.value) : say(409, answer.problems[0]?.sentence ?? "The sheet is closed.");
}
