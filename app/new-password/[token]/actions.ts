/** Setting a new password by a one-time link. */
"use server";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import type { PlainState } from "@/components/form/plain-state";
import { readPlainForm } from "../../read-plain-form";
import { caller, keepCookies } from "../../visit";

export async function setNewPassword(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const set = await (await openAccess()).setNewPassword(form.text("token"), form.text("password"), await caller());
  if (!set.ok) return form.refused(set.problems);
  await keepCookies(set.value);
  redirect("/");
}
