/** Keeps the writer's name on this device. */
"use server";
import { cookies } from "next/headers";
import { redirect } from "next/navigation";
import { COOKIE_LIFE, WRITER_COOKIE, readWriter } from "../open-kitchen";

export async function writeAs(formData: FormData): Promise<void> {
  const value = formData.get("writer");
  const name = readWriter(typeof value === "string" ? value : undefined);
  if (name === null) redirect("/who?nobody");
  (await cookies()).set(WRITER_COOKIE, name, COOKIE_LIFE);
  redirect("/dishes");
}
