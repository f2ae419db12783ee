/** The very first step of an installation: the account of its owner. Nobody can take it twice. */
"use server";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import type { PlainState } from "@/components/form/plain-state";
import { readPlainForm } from "../read-plain-form";
import { caller, keepCookies } from "../visit";

export async function makeFirst(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const made = await (await openAccess()).makeFirst({ name: form.text("name"), username: form.text("username"), password: form.text("password") }, await caller());
  if (!made.ok) return form.refused(made.problems);
  await keepCookies(made.value);
  redirect("/kitchens/new");
}
