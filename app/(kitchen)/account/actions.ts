/** What somebody does about their own account: a new password, ending sessions. */
"use server";
import { revalidatePath } from "next/cache";
import { openAccess } from "@/lib/access";
import type { PlainState } from "@/components/form/plain-state";
import { SIGNED_OUT, readPlainForm } from "../../read-plain-form";
import { caller, readVisitor } from "../../visit";

export async function changePassword(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const visitor = await readVisitor();
  if (visitor === null) return form.refused([SIGNED_OUT]);
  const changed = await (await openAccess()).changePassword(visitor, { now: form.text("now"), next: form.text("next") }, await caller());
  if (!changed.ok) return form.refused(changed.problems);
  revalidatePath("/account");
  return form.done("Your password is changed. Everywhere else you have to sign in again.");
}

export async function endSession(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const visitor = await readVisitor();
  if (visitor === null) return form.refused([SIGNED_OUT]);
  const access = await openAccess();
  const id = form.text("session");
  if (id === "") await access.endOtherSessions(visitor);
  else await access.endSession(visitor, id);
  revalidatePath("/account");
  return form.done(id === "" ? "You are signed in only here now." : "That device is signed out.");
}
