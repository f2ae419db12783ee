/** What can be done with orders: keep one, double it, drop it and take it up again. None of it changes the book. */
"use server";
import { revalidatePath } from "next/cache";
import { redirect, unstable_rethrow } from "next/navigation";
import { refusal } from "@/lib/access";
import type { Problem } from "@/lib/measure";
import { type KeptOrderPlan, newOrderId } from "@/lib/store";
import type { OrderState } from "@/components/order/state";
import { logProblem } from "@/app/log";
import { SIGNED_OUT, readPlainForm } from "@/app/read-plain-form";
import { requestId } from "@/app/request-id";
import { asForm, readForm } from "../change-flow/read-form";
import { printMoment } from "../moment";
import { type OpenKitchen, kitchenOfCaller, openKitchen } from "../open-kitchen";
import { readOrder } from "./read-order";

const pageOf = (id: string): string => `/orders/${encodeURIComponent(id)}`;
const NOT_THERE: Problem = { path: "", code: "not-there", sentence: "There is no such order in this kitchen." };
const LONGEST_ID = 120;

export async function saveOrder(_state: OrderState, formData: FormData): Promise<OrderState> {
  const form = readForm(asForm(formData));
  const { values } = form;
  const refused = (problems: readonly Problem[]): OrderState => ({ status: "refused", problems: form.onScreen(problems), values });
  try {
    const open = await kitchenOfCaller();
    if (open === null) return refused([SIGNED_OUT]);
    if (!open.may("plan orders")) return refused([{ path: "", code: "not-allowed", sentence: refusal("plan orders") }]);
    const id = form.text("order");
    const version = /^\d{1,9}$/.test(form.text("version")) ? Number(form.text("version")) : null;
    if (id === "" || id.length > LONGEST_ID) return refused([NOT_THERE]);
    const read = readOrder(form, open.live.book, open.kitchen);
    if (!read.ok) return refused([...(form.text("name") === "" ? [{ path: "name", code: "no-name", sentence: "Give the order a name, so that it can be found again: the event, or the day." }] : []), ...read.problems]);
    const kept = await open.store.keepOrderPlan(open.kitchenId, open.visitor, { id, ...read.value, version });
    if (!kept.ok && kept.reason === "problems") return refused(kept.problems);
    if (!kept.ok && kept.reason === "not-there") return refused([NOT_THERE]);
    if (!kept.ok) {
      if (kept.theirs.dropped !== null) return refused([{ path: "", code: "closed", sentence: `${movedOn(kept.theirs, open)} What you typed is still here.` }]);
      return { status: "stale", sentence: `${movedOn(kept.theirs, open)} What you typed is still here and nothing was saved. Press once more to keep yours in place of theirs.`, version: kept.theirs.version, values };
    }
    revalidatePath("/orders", "layout");
    redirect(pageOf(id));
  } catch (error) {
    unstable_rethrow(error);
    logProblem("An order could not be kept", error, { request: await requestId() });
    return refused([{ path: "", code: "failed", sentence: "This could not be kept, and nothing was saved. What you typed is still here; try again in a moment." }]);
  }
}

/** The same again under another name, for the next event like it. */
export async function doubleOrder(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("plan orders");
  const order = await store.readOrderPlan(kitchenId, readPlainForm(formData).text("order"));
  if (order === null) redirect("/orders");
  const id = newOrderId();
  const kept = await store.keepOrderPlan(kitchenId, visitor, { id, name: `${order.name.slice(0, 100)}, again`, forDay: null, plan: order.plan, version: null });
  revalidatePath("/orders");
  redirect(kept.ok ? `${pageOf(id)}/edit` : "/orders");
}

/** Drops an order, or takes it up again. */
export async function dropOrder(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("plan orders");
  const form = readPlainForm(formData);
  const id = form.text("order");
  const done = await store.dropOrderPlan(kitchenId, id, visitor, form.text("drop") === "yes");
  revalidatePath("/orders");
  redirect(!done.ok && done.reason === "not-there" ? "/orders" : pageOf(id));
}

/** What somebody else has done with an order meanwhile. */
function movedOn({ name, changedBy, changedAt, dropped }: KeptOrderPlan, { kitchen }: OpenKitchen): string {
  return `${changedBy} ${dropped === null ? "changed" : "dropped"} “${name}” on ${printMoment(changedAt, kitchen)}, after you opened it.`;
}
