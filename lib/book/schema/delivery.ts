/** The schema of a delivery: an invoice or a credit memo, line by line. */
import { z } from "zod";
import { type Habits, type Kind, UNITS, ratio } from "@/lib/measure";
import type { Delivery } from "../delivery";
import { chosen, day, id, key, keyed, money, note, number, orNull, quantity, word } from "./fields";
import { per } from "./larder";

const ANY: readonly Kind[] = ["mass", "volume", "count"];
const MOST_LINES = 500;

export function deliverySchema(habits: Habits): z.ZodType<Delivery> {
  const line = z.object({
    key, itemId: chosen("the item"),
    packs: orNull(number(habits, { what: "The number of packs" })).default(null),
    billed: quantity(habits, ANY, { what: "What was billed" }),
    price: money(habits, { what: "The price" }), per,
    amount: orNull(money(habits, { what: "The total of the line" })).default(null),
    received: orNull(quantity(habits, ANY, { what: "What was received", zero: true })).default(null),
    lot: note("The lot", 40).default(""), useBy: orNull(day("The use-by day")).default(null), note: note("The note on a line", 200).default(""),
  }).superRefine((one, context) => {
    const kind = UNITS[one.billed.unit].kind;
    if (one.per === "pack" && one.packs === null) context.addIssue({ code: "custom", path: ["packs"], params: { code: "missing" }, message: "The price is for a pack: say how many packs were billed." });
    if (one.per !== "pack" && UNITS[one.per].kind !== kind) context.addIssue({ code: "custom", path: ["per"], params: { code: "wrong-kind" }, message: `What was billed is told in ${one.billed.unit}, so the price cannot be per ${one.per}: give both in the same kind of unit.` });
    if (one.received !== null && UNITS[one.received.unit].kind !== kind) context.addIssue({ code: "custom", path: ["received"], params: { code: "wrong-kind" }, message: `What was billed is told in ${one.billed.unit}: tell what was received in the same kind of unit.` });
    if (one.packs !== null && ratio.sign(ratio.fromExact(one.packs)) <= 0) context.addIssue({ code: "custom", path: ["packs"], params: { code: "not-above-zero" }, message: "The number of packs must be above zero." });
  });
  return z.object({
    id, dealerId: chosen("the dealer"), number: note("The number of the invoice", 60), kind: word(["invoice", "credit"], "What the paper is").default("invoice"),
    on: day("The day of the invoice"),
    lines: z.array(line, { error: "List what was billed." }).min(1, { error: "List at least one line of what was billed." }).max(MOST_LINES, { error: `At most ${MOST_LINES} lines.` })
      .transform((lines) => keyed(lines, (one) => one.itemId)),
    note: note("The note").default(""),
  });
}
