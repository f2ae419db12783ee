/** Names of the book that hold what is being typed, for a field that takes one: a few, never the whole list. */
import { NextResponse } from "next/server";
import { refusal } from "@/lib/access";
import { nearNamed } from "@/lib/book";
import { kitchenOfCaller } from "../../open-kitchen";
import { NAMES_OF } from "../read-desk";

const MOST_NAMES = 12;

export async function GET(request: Request): Promise<NextResponse> {
  const open = await kitchenOfCaller();
  if (open === null) return NextResponse.json({ sentence: "You are not signed in any more." }, { status: 401 });
  if (!open.may("see money")) return NextResponse.json({ sentence: refusal("see money") }, { status: 403 });
  const asked = new URL(request.url).searchParams;
  const of = asked.get("of") ?? "";
  const kinds = Object.hasOwn(NAMES_OF, of) ? NAMES_OF[of] ?? [] : [];
  const names = nearNamed(open.live.book, kinds, (asked.get("text") ?? "").slice(0, 120), MOST_NAMES).map(({ label }) => label);
  return NextResponse.json({ names }, { headers: { "Cache-Control": "no-store" } });
}
