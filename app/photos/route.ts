/**
 * Where a photo of the trim is sent to: the one address that takes bodies of that size (app/server/body.mjs). A script is
 * answered with 200, or with 400, 401, 403 or 404 and a sentence; a plain form is sent back to the page it came from,
 * which says the same. Whose test or sheet it is, the kitchen that is open decides.
 */
import { type NextRequest, NextResponse } from "next/server";
import { refusal } from "@/lib/access";
import { kitchenOfCaller } from "../(kitchen)/open-kitchen";
import { isWorked } from "./worked";

export async function POST(request: NextRequest): Promise<NextResponse> {
  const byScript = request.headers.get("accept")?.includes("application/json") ?? false;
  const say = (status: number, sentence: string): NextResponse => (byScript ? NextResponse.json({ sentence }, { status }) : new NextResponse(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } }));
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "You are not signed in any more. Nothing was saved.");
  if (!open.may("record a test")) return say(403, refusal("record a test"));
  const form = await request.formData().catch(() => null);
  if (form === null) return say(400, "Send the photo as a form sends it.");
  const text = (name: string): string => { const value = form.get(name); return typeof value === "string" ? value : ""; };
  const testId = text("test");
  if (!await isWorked(open, testId)) return say(404, "There is no such test or sheet in this kitchen. Nothing was saved.");
  const photo = form.get("photo");
  const { store, kitchenId, visitor } = open;
  const sent = photo instanceof File ? new Uint8Array(await photo.arrayBuffer()) : new Uint8Array();
  const kept = await store.addPhoto(kitchenId, testId, visitor, { sent, caption: text("caption") });
  const problem = kept.ok ? undefined : kept.problems[0];
  if (byScript) return problem === undefined ? NextResponse.json({}) : say(400, problem.sentence);
  const at = encodeURIComponent(testId);
  const page = text("from") === "block" ? `/block/${at}/photos` : `/tests/${at}`;
  // A path alone: behind a proxy only the browser knows the address that people open.
  return new NextResponse(null, { status: 303, headers: { Location: `${page}${problem === undefined ? "" : `?photo=${problem.code}`}#photos` } });
}
