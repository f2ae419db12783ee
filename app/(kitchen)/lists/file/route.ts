/**
 * Where a dealer's price list is sent to: the one address that takes a file of that size (app/server/body.mjs). The file is
 * read, its layout guessed or remembered, every line compared with the book and the ripple worked out; only then is it
 * kept, and the page of the list opened. Nothing of the book is changed.
 */
import { refusal } from "@/lib/access";
import { NO_CHOICES } from "@/lib/buying";
import { FILE_LIMITS } from "@/lib/exchange";
import { newPriceListId } from "@/lib/store";
import { kitchenOfCaller } from "../../open-kitchen";
import { type Ending, SIGNED_OUT, carryOut, say } from "../carry-out";
import { layoutFor, openList, readListFile, rippleOf } from "../opened";

export async function POST(request: Request): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, SIGNED_OUT);
  if (!open.may("change items and prices")) return say(403, refusal("change items and prices"));
  const { store, kitchenId, kitchen, live, visitor } = open;
  return carryOut(request, async (step): Promise<Ending> => {
    let page = "/lists/new";
    const wrong = (...problems: readonly string[]): Ending => ({ problems, page });
    const form = await request.formData().catch(() => null);
    if (form === null) return wrong("Send the list as the form sends it.");
    const dealer = form.get("dealer");
    const dealerId = typeof dealer === "string" ? dealer : "";
    if (!live.book.shelves.dealer.has(dealerId)) return wrong("Say whose price list it is: choose the dealer.");
    page = `/lists/new?dealer=${encodeURIComponent(dealerId)}`;
    const sent = form.get("file");
    if (!(sent instanceof File) || sent.size === 0) return wrong("Choose the file first: a price list as CSV, as a workbook (.xlsx) or as a UBL catalogue.");
    if (sent.size > FILE_LIMITS.bytes) return wrong(`The file may be ${Math.floor(FILE_LIMITS.bytes / 1024 / 1024)} MB at most. Send a part of it, or save it as CSV.`);
    await step("Reading the file");
    const bytes = new Uint8Array(await sent.arrayBuffer());
    const file = readListFile(bytes, sent.name);
    if (!file.ok) return wrong(...file.problems.map(({ sentence }) => sentence));
    await step("Finding its columns");
    const { layout } = layoutFor(file.value, await store.dealerLayout(kitchenId, dealerId), kitchen);
    const list = { id: newPriceListId(), dealerId, fileName: sent.name, version: 1, layout: layout ?? {}, choices: NO_CHOICES };
    const opened = await openList(store, live, list, step, file.value);
    if (!opened.ok) return wrong(...opened.problems.map(({ sentence }) => sentence));
    if (opened.value.lacks === null && opened.value.read.lines.length === 0) return wrong("There is no line in this file that has a price beside a code or a name: is it the right file?");
    await step("Working out what it would do");
    await rippleOf(store, live, list, opened.value);
    await step("Keeping it");
    const added = await store.addPriceList(kitchenId, visitor, { ...list, bytes });
    if (added.ok) return { href: `/lists/${encodeURIComponent(added.list.id)}` };
    return added.reason === "known" ? { href: `/lists/${encodeURIComponent(added.list.id)}?again=yes` } : wrong(...added.problems.map(({ sentence }) => sentence));
  });
}
