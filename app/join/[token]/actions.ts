/** Coming into a kitchen by a one-time link: with a new account, or as who is signed in. */
"use server";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import type { PlainState } from "@/components/form/plain-state";
import { readPlainForm } from "../../read-plain-form";
import { caller, keepCookies, readVisitor } from "../../visit";

export async function join(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const joined = await (await openAccess()).join(form.text("token"), { name: form.text("name"), username: form.text("username"), password: form.text("password") }, await caller());
  if (!joined.ok) return form.refused(joined.problems);
  await keepCookies(joined.value);
  redirect("/");
}

export async function joinAs(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const visitor = await readVisitor();
  if (visitor === null) return form.refused([{ path: "", code: "signed-out", sentence: "You are not signed in any more. Open the link again." }]);
  const joined = await (await openAccess()).joinAs(form.text("token"), visitor);
  if (!joined.ok) return form.refused(joined.problems);
  redirect("/kitchens");
}
