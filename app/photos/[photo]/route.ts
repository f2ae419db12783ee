/**
 * One photo of the trim, for whoever may read the book of the kitchen it belongs to; to everybody else it is not there.
 * A browser may keep it, and asks each time whether it may still show it: a removed photo is gone, and so is everything
 * for whoever has signed out.
 */
import { refusal } from "@/lib/access";
import { kitchenOfCaller } from "../../(kitchen)/open-kitchen";

export async function GET(request: Request, { params }: { readonly params: Promise<{ readonly photo: string }> }): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "Sign in to see this photo.");
  if (!open.may("read the book")) return say(403, refusal("read the book"));
  const { photo } = await params;
  const jpeg = await open.store.readPhoto(open.kitchenId, photo);
  if (jpeg === null) return say(404, "There is no such photo in this kitchen.");
  // What an id names never changes. That it may be kept, and asked for again, app/server/answer-headers.mjs says.
  const headers = { ETag: `"${photo}"` };
  if (request.headers.get("if-none-match") === headers.ETag) return new Response(null, { status: 304, headers });
  return new Response(jpeg, { headers: { ...headers, "Content-Type": "image/jpeg", "Content-Disposition": "inline" } });
}

function say(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}
