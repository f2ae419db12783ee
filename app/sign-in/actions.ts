/** Signing in. */
"use server";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import type { PlainState } from "@/components/form/plain-state";
import { readPlainForm } from "../read-plain-form";
import { caller, keepCookies, localPath } from "../visit";

export async function signIn(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const signed = await (await openAccess()).signIn({ username: form.text("username"), password: form.text("password") }, await caller());
  if (!signed.ok) return form.refused(signed.problems);
  await keepCookies(signed.value);
  redirect(localPath(form.text("to")));
}
