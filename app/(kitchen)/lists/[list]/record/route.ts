/**
 * Recording a price list: every price that counts as one change of the book, or nothing. What was seen before is compared
 * first: a list that somebody else has changed, or prices that somebody has changed since, are told and shown anew. Whoever
 * hangs up before the end of the commit leaves nothing behind.
 */
import { refusal } from "@/lib/access";
import { type Book, factKey } from "@/lib/book";
import type { CommitStep, LiveBook } from "@/lib/store";
import { printMoment } from "../../../moment";
import { kitchenOfCaller } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { type Ending, SIGNED_OUT, carryOut, say } from "../../carry-out";
import { openList } from "../../opened";
import { keptChoices } from "../../summary";

const DOING: Readonly<Record<CommitStep, string>> = {
  reading: "Looking at what is recorded of them", checking: "Checking them against the book", "writing the facts": "Writing the prices",
  "writing what moved": "Writing what they move", closing: "Closing the record",
};

export async function POST(request: Request, { params }: { readonly params: Promise<{ readonly list: string }> }): Promise<Response> {
  const id = pathId((await params).list);
  const page = `/lists/${encodeURIComponent(id)}`;
  const open = await kitchenOfCaller();
  if (open === null) return say(401, SIGNED_OUT);
  if (!open.may("change items and prices")) return say(403, refusal("change items and prices"));
  const { store, kitchenId, kitchen, live, visitor } = open;
  const list = await store.readPriceList(kitchenId, id);
  if (list === null) return say(404, "There is no such price list in this kitchen.");
  return carryOut(request, async (step): Promise<Ending> => {
    const wrong = (...problems: readonly string[]): Ending => ({ problems, page });
    const form = await request.formData().catch(() => null);
    const text = (name: string): string => { const value = form?.get(name); return typeof value === "string" ? value.replace(/[\0\p{Cs}]/gu, "").trim() : ""; };
    const movedOn = (theirs: typeof list): string => {
      const did = theirs.madeChange !== null ? `recorded this list as change ${theirs.madeChange}` : theirs.dropped !== null ? "dropped this list" : "changed something in this list";
      return `${theirs.changedBy} ${did} on ${printMoment(theirs.changedAt, kitchen)}, after you opened it. Nothing was recorded. Look at it as it is now.`;
    };
    if (list.madeChange !== null || list.dropped !== null || text("version") !== String(list.version)) return wrong(movedOn(list));
    const why = text("why");
    if (why.length > 2000) return wrong(`The reason is ${why.length.toLocaleString(kitchen.locale)} characters long; at most 2,000 fit. A line is enough.`);
    const opened = await openList(store, live, list, step);
    if (!opened.ok) return wrong(...opened.problems.map(({ sentence }) => sentence));
    const { entries, basedOn, judged, from } = opened.value;
    if (entries.length === 0) return wrong("Nothing in this list is different from what the book says already, so there is nothing to record.");
    if (judged.counts.asked > 0 && text("leave") !== "yes") return wrong(`${judged.counts.asked === 1 ? "One line still waits" : `${judged.counts.asked} lines still wait`} for an answer. Answer, or tick that the old prices may stand for ${judged.counts.asked === 1 ? "it" : "them"}.`);
    const seen = Number(text("seen"));
    const since = changedSince(live, entries.map(({ change }) => change.id), basedOn, Number.isSafeInteger(seen) ? seen : 0);
    if (since !== null) return wrong(`${since} since you opened this page. Nothing was recorded: the page is made anew, and each line stands beside the newest price.`);
    await step(`Recording ${entries.length === 1 ? "1 price" : `${entries.length} prices`}`);
    const done = await store.recordPriceList(kitchenId, id, {
      version: list.version, entries, basedOn, who: visitor, why: why === "" ? `Price list ${list.fileName}` : why,
      choices: keptChoices(opened.value, from), watch: (doing) => step(DOING[doing]),
    });
    if (done.ok) return { href: `/record/${done.changeNo}` };
    switch (done.reason) {
      case "problems": return wrong(...done.problems.slice(0, 20).map(({ sentence }) => sentence));
      case "stale": return wrong(`${done.stale.slice(0, 3).map(({ by, name }) => `${by} changed ${name}`).join("; ")}${done.stale.length > 3 ? ` and ${done.stale.length - 3} more were changed` : ""} just now. Nothing was recorded: look at the list once more.`);
      case "moved-on": return wrong(movedOn(done.theirs));
      case "not-there": return { problems: ["There is no such price list in this kitchen any more."], page: "/lists" };
    }
  });
}

/** Whose price of the list was recorded after the newest one that the page knew, in words; null where none was. */
function changedSince({ book, ahead }: LiveBook, quotes: readonly string[], basedOn: Readonly<Record<string, number | null>>, seen: number): string | null {
  const newer = quotes.filter((id) => (basedOn[factKey("quote", id)] ?? 0) > seen);
  const first = newer[0];
  if (first === undefined) return null;
  const by = book.provenance.get(factKey("quote", first))?.by ?? ahead.find(({ kind, id }) => kind === "quote" && id === first)?.provenance?.by ?? "Somebody";
  const more = newer.length - 1;
  return `${by} changed the price of ${itemName(book, first)}${more === 0 ? "" : ` and ${more === 1 ? "one more" : `${more} more`}`}`;
}

function itemName({ shelves }: Book, quoteId: string): string {
  const quote = shelves.quote.get(quoteId);
  return (quote === undefined ? undefined : shelves.item.get(quote.itemId)?.name) ?? "an item";
}
