/** What a line's field asks while somebody types: how the line reads, what it may become, and what is to be asked. No figures of money. */
import { refusal } from "@/lib/access";
import { kitchenOfCaller } from "../../open-kitchen";
import { lineView } from "../../read-lines";

export async function GET(request: Request): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "Sign in to write a line.");
  if (!open.may("see money")) return say(403, refusal("see money"));
  const text = new URL(request.url).searchParams.get("q") ?? "";
  return Response.json(lineView(open.live.book, text, open.kitchen));
}

function say(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}
