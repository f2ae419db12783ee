/** The whole kitchen as one document, for whoever may change the kitchen. Sent as it is read, a piece at a time. */
import { refusal } from "@/lib/access";
import { logProblem } from "@/app/log";
import { kitchenOfCaller } from "../../open-kitchen";
import { attachment, saySheet } from "../../sheet-answer";

export async function GET(): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return saySheet(401, "Sign in to take this away.");
  if (!open.may("change the kitchen")) return saySheet(403, refusal("change the kitchen"));
  const { store, kitchenId, kitchen, live } = open;
  const pieces = store.kitchenFile(kitchenId);
  const encoder = new TextEncoder();
  const body = new ReadableStream<Uint8Array>({
    pull: async (controller) => {
      try {
        const { done, value } = await pieces.next();
        if (done === true) controller.close();
        else controller.enqueue(encoder.encode(value));
      } catch (error) {
        // What was sent already ends in the middle, and whoever opens it is told so.
        logProblem("A whole kitchen could not be read to its end", error);
        controller.error(error);
      }
    },
    cancel: async () => { await pieces.return(undefined); },
  });
  return new Response(body, { headers: { "Content-Type": "application/json; charset=utf-8", "Content-Disposition": attachment(`${kitchen.name} whole kitchen ${live.today}`, "json") } });
}
