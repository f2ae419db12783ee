/**
 * What a try-out does with what is being typed into its form, answered as printed text: nothing is kept. Answers 401 where
 * nobody is signed in, 403 where it is not theirs to see, 404 for a try-out that this kitchen does not have.
 */
import { NextResponse } from "next/server";
import { refusal } from "@/lib/access";
import { sayMove } from "@/lib/book";
import { tryMoves } from "@/lib/menu";
import type { DeskAnswer } from "@/components/tryout/state";
import { kitchenOfCaller } from "../../../open-kitchen";
import { readDesk } from "../../read-desk";
import { orderOf, triedMenuView } from "../../view";

const say = (status: number, sentence: string): NextResponse => NextResponse.json({ sentence }, { status });

export async function POST(request: Request, { params }: { readonly params: Promise<{ readonly try: string }> }): Promise<NextResponse> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "You are not signed in any more.");
  if (!open.may("see money")) return say(403, refusal("see money"));
  const { store, kitchenId, kitchen, live } = open;
  const tryout = await store.readTryout(kitchenId, (await params).try);
  if (tryout === null) return say(404, "There is no such try-out in this kitchen.");
  const form = await request.formData().catch(() => null);
  if (form === null) return say(400, "Send the form of the try-out.");
  const text = (name: string): string => { const value = form.get(name); return typeof value === "string" ? value : ""; };
  const { moves, drafts, problems } = readDesk(text, tryout.moves, live.book, { whole: false });
  const tried = tryMoves(live.cascade, moves);
  const answer: DeskAnswer = {
    menu: triedMenuView(tried, kitchen, { order: orderOf(text("order")), before: 0 }),
    drafts: drafts.map((move) => { const { what, says, today } = sayMove(move, live.book); return `${what} ${says}${today === null ? "" : ` (today ${today})`}`; }),
    problems: [...problems, ...drafts.flatMap(({ key }) => (tried.laid.problems.get(key) ?? []).map((problem) => ({ ...problem, path: "" })))],
  };
  return NextResponse.json(answer, { headers: { "Cache-Control": "no-store" } });
}
