/** What an owner does about people: invite, change what somebody may do, take somebody out, help with a lost password. */
"use server";
import { revalidatePath } from "next/cache";
import { type Access, type Visitor, isRole, openAccess, refusal } from "@/lib/access";
import { type Checked, bad } from "@/lib/measure";
import type { PlainState } from "@/components/form/plain-state";
import { type PlainForm, SIGNED_OUT, readPlainForm } from "../../read-plain-form";
import { ownAddress } from "../../visit";
import { kitchenOfCaller } from "../open-kitchen";

interface Asked {
  readonly access: Access;
  readonly visitor: Visitor;
  readonly kitchenId: string;
  readonly form: PlainForm;
}

/** Does it for an owner of the open kitchen, and nobody else. */
async function asOwner<T>(formData: FormData, work: (asked: Asked) => Promise<Checked<T>>, told: (value: T, asked: Asked) => PlainState | Promise<PlainState>): Promise<PlainState> {
  const form = readPlainForm(formData);
  const open = await kitchenOfCaller();
  if (open === null) return form.refused([SIGNED_OUT]);
  if (!open.may("look after people")) return form.refused([{ path: "", code: "not-allowed", sentence: refusal("look after people") }]);
  const asked: Asked = { access: await openAccess(), visitor: open.visitor, kitchenId: open.kitchenId, form };
  const done = await work(asked);
  if (!done.ok) return form.refused(done.problems);
  revalidatePath("/people");
  return told(done.value, asked);
}

const roleIn = (form: PlainForm) => {
  const role = form.text("role");
  return isRole(role) ? { role, seesMoney: role !== "cook" || form.text("seesMoney") === "yes" } : null;
};
const NO_ROLE = bad("role", "not-a-role", "Choose what they may do from the list.");

export async function invite(_state: PlainState, formData: FormData): Promise<PlainState> {
  return asOwner(formData, async ({ access, visitor, kitchenId, form }) => {
    const standing = roleIn(form);
    return standing === null ? NO_ROLE : access.invite(visitor, kitchenId, { name: form.text("name"), ...standing });
  }, async ({ token }, { form }) => form.done(`Hand this link to ${form.text("name").trim()}. It works once, for a week, and is shown only now.`, `${await ownAddress()}/join/${token}`));
}

export async function withdrawInvitation(_state: PlainState, formData: FormData): Promise<PlainState> {
  return asOwner(formData, ({ access, visitor, kitchenId, form }) => access.withdraw(visitor, kitchenId, form.text("invitation")), (_, { form }) => form.done("That link opens nothing any more."));
}

export async function setStanding(_state: PlainState, formData: FormData): Promise<PlainState> {
  return asOwner(formData, async ({ access, visitor, kitchenId, form }) => {
    const standing = roleIn(form);
    return standing === null ? NO_ROLE : access.setStanding(visitor, kitchenId, form.text("person"), standing);
  }, (_, { form }) => form.done("Changed, from now on."));
}

export async function removePerson(_state: PlainState, formData: FormData): Promise<PlainState> {
  return asOwner(formData, ({ access, visitor, kitchenId, form }) => access.remove(visitor, kitchenId, form.text("person")), (_, { form }) => form.done("They do not belong to this kitchen any more. What they recorded stays."));
}

export async function linkToNewPassword(_state: PlainState, formData: FormData): Promise<PlainState> {
  return asOwner(formData, ({ access, visitor, kitchenId, form }) => access.linkToNewPassword(visitor, kitchenId, form.text("person")),
    async ({ token }, { form }) => form.done("Hand this link over. It sets a new password once, within a week, and is shown only now.", `${await ownAddress()}/new-password/${token}`));
}
