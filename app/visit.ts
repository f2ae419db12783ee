/**
 * Who is asking: the person whose session this request carries, asked once a request however many components ask.
 * Server only. What somebody may do in a kitchen is asked in app/(kitchen)/open-kitchen.ts.
 */
import { cookies, headers } from "next/headers";
import { redirect } from "next/navigation";
import { connection } from "next/server";
import { cache } from "react";
import { type Caller, type Cookie, type Visitor, openAccess } from "@/lib/access";

export const readVisitor = cache(async (): Promise<Visitor | null> => {
  await connection();
  return (await openAccess()).visitor(new Headers(await headers()));
});

/** The person who asks; sends whoever is not signed in to do that first, and back here afterwards. */
export async function needVisitor(): Promise<Visitor> {
  const visitor = await readVisitor();
  if (visitor !== null) return visitor;
  if (await (await openAccess()).isNew()) redirect("/start");
  const path = (await headers()).get("x-trimledger-path") ?? "/";
  redirect(path === "/" ? "/sign-in" : `/sign-in?to=${encodeURIComponent(path)}`);
}

/** Where the request comes from, for signing in. The address is told by the app's own server, which knows its proxies. */
export async function caller(): Promise<Caller> {
  const sent = new Headers(await headers());
  return { address: sent.get("x-trimledger-address") ?? "unknown", headers: sent };
}

/** Hands cookies to the browser. Belongs in an action. */
export async function keepCookies(kept: readonly Cookie[]): Promise<void> {
  const jar = await cookies();
  for (const { name, value, options } of kept) jar.set(name, value, options);
}

/** A path of this app to go on to; anything else, however it is written, is the first page. */
export function localPath(wanted: unknown): string {
  return typeof wanted === "string" && /^\/(?![/\\])[^\\\s]*$/.test(wanted) && !/\p{Cc}/u.test(wanted) ? wanted : "/";
}

/** The app's own address as the browser knows it, for links that are handed over. */
export async function ownAddress(): Promise<string> {
  const known = process.env.PUBLIC_URL?.trim();
  if (known) return new URL(known).origin;
  const sent = await headers();
  return `${sent.get("x-trimledger-scheme") ?? "http"}://${sent.get("host") ?? "localhost"}`;
}
