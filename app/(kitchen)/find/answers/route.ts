/** What the find box asks while somebody types: names and where they lead, no figures. */
import { refusal } from "@/lib/access";
import type { AnswersView } from "@/components/find/answers";
import { askedFor } from "../../find";
import { kitchenOfCaller } from "../../open-kitchen";
import { foundViews } from "../found";

/** So many fit into the box. */
const IN_THE_BOX = 12;

export async function GET(request: Request): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "Sign in to find something.");
  if (!open.may("read the book")) return say(403, refusal("read the book"));
  const asked = askedFor(new URL(request.url).searchParams.get("q") ?? undefined);
  const answers: AnswersView = foundViews(open.live.book, asked, { seesMoney: open.may("see money"), most: IN_THE_BOX, habits: open.kitchen });
  return Response.json(answers);
}

function say(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}
