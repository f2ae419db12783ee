/** What the first page can do: open an empty kitchen, or the demo kitchen, through the same door as any other facts. */
"use server";
import { cookies } from "next/headers";
import { redirect } from "next/navigation";
import { type Kitchen, readFact } from "@/lib/book";
import { openStore } from "@/lib/store";
import { readDemo } from "@/seed/read";
import type { Values } from "@/components/form/FormContext";
import type { StartState } from "@/components/kitchen/start-state";
import { COOKIE_LIFE, KITCHEN_COOKIE, WRITER_COOKIE, readWriter } from "../(kitchen)/open-kitchen";

const HABITS = { locale: "en-US", measures: "us", currency: "USD" } as const;

export async function openDemo(_state: StartState, formData: FormData): Promise<StartState> {
  const read = named(formData);
  if (!read.ok) return read.state;
  const demo = readDemo();
  const store = await openStore();
  const id = await store.createKitchen(demo.kitchen, { name: read.writer }, demo.entries, "The demo kitchen");
  await remember(id, read.writer);
  redirect("/dishes");
}

export async function openEmpty(_state: StartState, formData: FormData): Promise<StartState> {
  const read = named(formData);
  const values = read.ok ? read.values : read.state.values;
  const fact = readFact("kitchen", { ...values, id: "new" }, HABITS);
  const problems = [...(read.ok ? [] : read.state.problems), ...(fact.ok ? [] : fact.problems)];
  if (!read.ok || !fact.ok) return { problems, values };
  const { id: _id, ...kitchen } = fact.value;
  const opened = await (await openStore()).openKitchen(kitchen satisfies Kitchen, { name: read.writer }, [], "A new kitchen");
  if (!opened.ok) return { problems: opened.problems, values };
  await remember(opened.value.id, read.writer);
  redirect("/dishes");
}

type Named = { readonly ok: true; readonly writer: string; readonly values: Values } | { readonly ok: false; readonly state: StartState };

function named(formData: FormData): Named {
  const values: Record<string, string> = {};
  for (const [name, value] of formData.entries()) if (typeof value === "string" && !name.startsWith("$")) values[name] = value;
  const writer = readWriter(values["writer"]);
  if (writer === null) return { ok: false, state: { problems: [{ path: "writer", code: "who", sentence: "Say who is writing: the record keeps a name with every change." }], values } };
  if ((values["writer"] ?? "").length > 120) return { ok: false, state: { problems: [{ path: "writer", code: "too-long", sentence: "A name of at most 120 characters, please." }], values } };
  return { ok: true, writer, values };
}

async function remember(kitchenId: string, writer: string): Promise<void> {
  const jar = await cookies();
  jar.set(KITCHEN_COOKIE, kitchenId, COOKIE_LIFE);
  jar.set(WRITER_COOKIE, writer, COOKIE_LIFE);
}
