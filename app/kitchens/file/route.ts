/**
 * Where a whole kitchen’s file is sent to be opened: the one address that takes bodies of that size (app/server/body.mjs). A
 * script is answered with 200, or with 400, 401 or 403 and what is wrong; a plain form goes on to the kitchen, or is told in
 * words.
 */
import { cookies } from "next/headers";
import { openAccess } from "@/lib/access";
import { LARGEST_KITCHEN_FILE, readKitchenFile } from "@/lib/exchange";
import type { Problem } from "@/lib/measure";
import { KITCHEN_COOKIE, KITCHEN_COOKIE_LIFE } from "../../(kitchen)/open-kitchen";
import { readVisitor } from "../../visit";

export async function POST(request: Request): Promise<Response> {
  const byScript = request.headers.get("accept")?.includes("application/json") ?? false;
  const say = (status: number, problems: readonly Pick<Problem, "path" | "sentence">[]): Response => (byScript
    ? Response.json({ problems: problems.map(({ path, sentence }) => ({ path, sentence })) }, { status })
    : new Response(`${problems.map(({ path, sentence }) => (path === "" ? sentence : `${path}: ${sentence}`)).join("\n")}\nNothing was saved.\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } }));
  const one = (status: number, sentence: string): Response => say(status, [{ path: "", sentence }]);
  const visitor = await readVisitor();
  if (visitor === null) return one(401, "You are not signed in any more. Sign in, then choose the file again.");
  const access = await openAccess();
  if (!await access.mayOpenKitchens(visitor.personId)) return one(403, "Only somebody who owns a kitchen here can open a further one. Ask an owner.");
  const form = await request.formData().catch(() => null);
  const file = form?.get("file");
  if (!(file instanceof File) || file.size === 0) return one(400, "Choose the file of a kitchen: the one that “The whole kitchen” gave.");
  if (file.size > LARGEST_KITCHEN_FILE) return one(400, `A kitchen’s file may be ${LARGEST_KITCHEN_FILE / 1024 / 1024} MiB at most. A larger record is moved by a backup of the whole installation.`);
  const text = textOf(new Uint8Array(await file.arrayBuffer()));
  if (text === null) return one(400, "This is not a kitchen’s file: it is not written in UTF-8. Choose the file that “The whole kitchen” gave.");
  const read = readKitchenFile(text);
  if (!read.ok) return say(400, read.problems);
  const opened = await access.openKitchenFromFile(visitor, read.value);
  if (!opened.ok) return say(400, opened.problems);
  (await cookies()).set(KITCHEN_COOKIE, opened.value.id, KITCHEN_COOKIE_LIFE);
  // A path alone: behind a proxy only the browser knows the address that people open.
  return byScript ? Response.json({ name: opened.value.name, changes: opened.value.changes }) : new Response(null, { status: 303, headers: { Location: "/dishes" } });
}

function textOf(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
