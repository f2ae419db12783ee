/** What can be done with deliveries: fill in a form from a file, record one, correct one, take one off. */
"use server";
import { unstable_rethrow } from "next/navigation";
import { factKey } from "@/lib/book";
import { refusal } from "@/lib/access";
import { type Checked, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import type { FillState } from "@/components/delivery/fill-state";
import { logProblem } from "@/app/log";
import { SIGNED_OUT } from "@/app/read-plain-form";
import { requestId } from "@/app/request-id";
import { asForm } from "../change-flow/read-form";
import { runChange } from "../change-flow/run-change";
import { kitchenOfCaller } from "../open-kitchen";
import { fillFrom } from "./fill";
import { askOfDelivery, pricesOf, readDelivery } from "./read-delivery";

/** Larger than any invoice; an action takes no more in one go. */
const LARGEST = 1024 * 1024;

/** Reads a file or the codes of cartons into lines. Changes nothing. */
export async function fillDelivery(state: FillState, sent: FormData): Promise<FillState> {
  const formData = asForm(sent);
  const text = (name: string): string => { const value = formData.get(name); return typeof value === "string" ? value.slice(0, 100_000) : ""; };
  const values = { dealerId: text("dealerId"), cartons: text("cartons") };
  const refused = (path: string, code: string, sentence: string): FillState => ({ status: "refused", problems: [{ path, code, sentence }], values });
  try {
    const open = await kitchenOfCaller();
    if (open === null) return { status: "refused", problems: [SIGNED_OUT], values };
    if (!open.may("record deliveries")) return refused("", "not-allowed", refusal("record deliveries"));
    const file = formData.get("file");
    const given = file instanceof File && file.size > 0 ? file : null;
    if (given !== null && given.size > LARGEST) return refused("file", "too-large", "The file is larger than an invoice is: at most 900 KB. Leave out pictures, or type the lines.");
    const dealerId = open.live.book.shelves.dealer.has(values.dealerId) ? values.dealerId : "";
    const filled = fillFrom(given === null ? null : { name: given.name, bytes: new Uint8Array(await given.arrayBuffer()) }, values.cartons, dealerId, open.live.book, open.kitchen, open.live.today);
    if (!filled.ok) return { status: "refused", problems: filled.problems, values };
    const turn = state?.status === "filled" ? Number(state.key) + 1 : 1;
    return { status: "filled", key: String(Number.isSafeInteger(turn) ? turn : 1), ...filled.value };
  } catch (error) {
    unstable_rethrow(error);
    logProblem("A file of a delivery could not be read", error, { request: await requestId() });
    return refused("", "failed", "This could not be read. Nothing was changed; try again in a moment, or type the lines.");
  }
}

/** Records a delivery, or corrects the one of this id; with a tick its prices become the dealer's from its day, in the same change. */
export async function saveDelivery(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = idIn(formData);
  return runChange(formData, {
    deed: "record deliveries",
    read: (input): Checked<readonly DatedChange[]> => {
      const read = readDelivery(input);
      if (!read.ok) return read;
      const delivery = read.value;
      // A paper dated ahead is in the book from today: it has been received.
      const day = delivery.on > input.live.today ? input.live.today : delivery.on;
      const known = input.live.book.provenance.get(factKey("delivery", delivery.id));
      const change: DatedChange = { change: { kind: "delivery", id: delivery.id, after: delivery }, validFrom: day, ...(known === undefined ? {} : { replaces: known.revision }) };
      const prices = input.form.text("takePrices") === "" ? [] : pricesOf(delivery, input);
      return good([change, ...prices.map(({ id: quoteId, after }): DatedChange => ({ change: { kind: "quote", id: quoteId, after }, validFrom: day }))]);
    },
    questions: (input) => { const read = readDelivery(input); return read.ok ? askOfDelivery(read.value, input) : []; },
    keeps: false,
    next: () => `/deliveries/${encodeURIComponent(id)}`,
  });
}

export async function withdrawDelivery(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = idIn(formData);
  return runChange(formData, { deed: "record deliveries", read: ({ dated }) => good([dated({ kind: "delivery", id, after: null })]), keeps: false, next: () => "/deliveries" });
}

function idIn(formData: FormData): string {
  const id = asForm(formData).get("id");
  return typeof id === "string" ? id : "";
}
