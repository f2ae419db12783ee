/** Which kitchen is open on this device, opening a further one, and signing out. */
"use server";
import { cookies } from "next/headers";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import { readFact } from "@/lib/book";
import { readDemo } from "@/seed/read";
import type { PlainState } from "@/components/form/plain-state";
import { KITCHEN_COOKIE, KITCHEN_COOKIE_LIFE } from "../(kitchen)/open-kitchen";
import { readPlainForm } from "../read-plain-form";
import { caller, keepCookies, needVisitor } from "../visit";

const HABITS = { locale: "en-US", measures: "us", currency: "USD" } as const;

export async function openDemo(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const visitor = await needVisitor();
  const access = await openAccess();
  if (!await access.mayOpenKitchens(visitor.personId)) return form.refused([NOT_YOURS]);
  const demo = readDemo();
  const opened = await access.openKitchen(visitor, demo.kitchen, demo.entries, "The demo kitchen");
  if (!opened.ok) return form.refused(opened.problems);
  await remember(opened.value);
  redirect("/dishes");
}

export async function openEmpty(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const visitor = await needVisitor();
  const access = await openAccess();
  if (!await access.mayOpenKitchens(visitor.personId)) return form.refused([NOT_YOURS]);
  const fact = readFact("kitchen", { ...form.values, id: "new" }, HABITS);
  if (!fact.ok) return form.refused(fact.problems);
  const { id: _id, ...kitchen } = fact.value;
  const opened = await access.openKitchen(visitor, kitchen, [], "A new kitchen");
  if (!opened.ok) return form.refused(opened.problems);
  await remember(opened.value);
  redirect("/dishes");
}

/** Opens one of one's own kitchens on this device. */
export async function goTo(formData: FormData): Promise<void> {
  const visitor = await needVisitor();
  const id = readPlainForm(formData).text("kitchen");
  if (await (await openAccess()).membership(visitor.personId, id) !== null) await remember(id);
  redirect("/");
}

/** Takes its form like every other action: a call without one is not let through (app/server/action-payload.mjs). */
export async function signOut(_formData: FormData): Promise<void> {
  await keepCookies(await (await openAccess()).signOut(await caller()));
  redirect("/sign-in");
}

const NOT_YOURS = { path: "", code: "not-allowed", sentence: "Only somebody who owns a kitchen here can open a further one. Ask an owner." };

async function remember(kitchenId: string): Promise<void> {
  (await cookies()).set(KITCHEN_COOKIE, kitchenId, KITCHEN_COOKIE_LIFE);
}
