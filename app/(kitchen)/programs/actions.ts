/** What an owner does about programs: makes a key, ends one. */
"use server";
import { revalidatePath } from "next/cache";
import { openAccess, refusal } from "@/lib/access";
import type { PlainState } from "@/components/form/plain-state";
import { SIGNED_OUT, readPlainForm } from "../../read-plain-form";
import { kitchenOfCaller } from "../open-kitchen";

const DEED = "look after programs";
const NOT_ALLOWED = { path: "", code: "not-allowed", sentence: refusal(DEED) };

export async function makeKey(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const open = await kitchenOfCaller();
  if (open === null) return form.refused([SIGNED_OUT]);
  if (!open.may(DEED)) return form.refused([NOT_ALLOWED]);
  const may = form.text("may");
  if (may !== "read" && may !== "write") return form.refused([{ path: "may", code: "not-a-choice", sentence: "Choose whether the program reads, or reads and writes." }]);
  const made = await (await openAccess()).makeProgramKey(open.visitor, open.kitchenId, { name: form.text("name"), may });
  if (!made.ok) return form.refused(made.problems);
  revalidatePath("/programs");
  return form.done(`This is the key of ${form.text("name").trim()}. Put it into the program now: it is shown only this once, and whoever has it comes in.`, made.value.key);
}

export async function endKey(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const open = await kitchenOfCaller();
  if (open === null) return form.refused([SIGNED_OUT]);
  if (!open.may(DEED)) return form.refused([NOT_ALLOWED]);
  const ended = await (await openAccess()).endProgramKey(open.visitor, open.kitchenId, form.text("key"));
  if (!ended) return form.refused([{ path: "", code: "no-such-key", sentence: "That key was ended already." }]);
  revalidatePath("/programs");
  return form.done("That key opens nothing any more. What the program recorded stays.");
}
