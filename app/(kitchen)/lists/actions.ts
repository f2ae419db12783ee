/** What is said of a price list before it is recorded: how it is laid out, from which day it counts, what its lines are; and dropping it. */
"use server";
import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { refusal } from "@/lib/access";
import { findNamed, isDay } from "@/lib/book";
import { ANSWERS, type Answer, LIST_FIELDS, LIST_QUESTIONS, type Layout, type LineChoice, type ListChoices, type ListField, guessLayout, layoutSetRight, pricedPer, readChoices, readLayout } from "@/lib/buying";
import { type Problem, quoted } from "@/lib/measure";
import type { PriceList } from "@/lib/store";
import type { PlainState } from "@/components/form/plain-state";
import { logProblem } from "@/app/log";
import { type PlainForm, SIGNED_OUT, readPlainForm } from "@/app/read-plain-form";
import { requestId } from "@/app/request-id";
import { printMoment } from "../moment";
import { type OpenKitchen, kitchenOfCaller, openKitchen } from "../open-kitchen";
import { readListFile } from "./opened";

const NOT_THERE: Problem = { path: "", code: "not-there", sentence: "There is no such price list in this kitchen." };
const FAILED: Problem = { path: "", code: "failed", sentence: "This could not be kept, and nothing was saved. What you chose is still here; try again in a moment." };

/** Where somebody may change prices and the list is open: what they said, kept beside it. */
async function kept(
  sent: FormData, told: string, change: (list: PriceList, form: PlainForm, open: OpenKitchen) => Promise<{ readonly layout: unknown; readonly choices: unknown; readonly remember?: boolean; readonly told?: string } | readonly Problem[]>,
): Promise<PlainState> {
  const form = readPlainForm(sent);
  try {
    const open = await kitchenOfCaller();
    if (open === null) return form.refused([SIGNED_OUT]);
    if (!open.may("change items and prices")) return form.refused([{ path: "", code: "not-allowed", sentence: refusal("change items and prices") }]);
    const { store, kitchenId, kitchen, visitor } = open;
    const list = await store.readPriceList(kitchenId, form.text("list"));
    if (list === null) return form.refused([NOT_THERE]);
    const stale = (theirs: PriceList): PlainState => form.refused([{ path: "", code: "stale", sentence: `${theirs.changedBy} ${theirs.madeChange !== null ? `recorded this list as change ${theirs.madeChange}` : theirs.dropped !== null ? "dropped this list" : "changed something in this list"} on ${printMoment(theirs.changedAt, kitchen)}, after you opened it. Nothing was kept; read the page anew.` }]);
    // Whoever does not say which version they saw speaks of the one that stands.
    if (list.madeChange !== null || list.dropped !== null || !["", String(list.version)].includes(form.text("version"))) return stale(list);
    const made = await change(list, form, open);
    if (!("layout" in made)) return form.refused(made);
    const done = await store.keepPriceList(kitchenId, visitor, { id: list.id, version: list.version, layout: made.layout, choices: made.choices, remember: made.remember ?? false });
    if (!done.ok) return done.reason === "problems" ? form.refused(done.problems) : done.reason === "stale" ? stale(done.theirs) : form.refused([NOT_THERE]);
    revalidatePath("/lists", "layout");
    return form.done(made.told ?? told);
  } catch (error) {
    logProblem("What was said of a price list could not be kept", error, { request: await requestId() });
    return form.refused([FAILED]);
  }
}

/** Another sheet, another row of headings, other columns, marks and units; remembered for the dealer where that is wished. */
export async function keepLayout(_state: PlainState, formData: FormData): Promise<PlainState> {
  return kept(formData, "The list is read this way now.", async (list, form, { store, kitchenId, kitchen }) => {
    const was = readLayout(list.layout);
    if (was === null) return [{ path: "", code: "no-layout", sentence: "An electronic catalogue needs no columns: it says itself what is what." }];
    const file = await store.priceListFile(kitchenId, list.id);
    const parted = { delimiter: form.text("delimiter") || null, encoding: form.text("encoding") || null };
    const read = file === null ? null : readListFile(file, list.fileName, parted);
    if (read === null || !read.ok || read.value.kind !== "table") return read !== null && !read.ok ? read.problems.map((problem) => ({ ...problem, path: "delimiter" })) : [NOT_THERE];
    const { tables } = read.value;
    const choices = readChoices(list.choices);
    const remember = form.text("remember") === "yes";
    if (parted.delimiter !== was.delimiter || parted.encoding !== was.encoding) {
      return { layout: { ...guessLayout(tables, kitchen), ...parted }, choices: { ...choices, lines: {} }, remember, told: "The file is taken apart this way now. See whether the columns are right." };
    }
    const headings = form.text("headings").trim();
    if (headings !== "" && !/^[1-9]\d{0,4}$/.test(headings)) return [{ path: "headings", code: "not-a-row", sentence: "The row of the headings is a whole number, counted from 1 as a spreadsheet counts." }];
    const sheet = form.text("sheet");
    if (sheet !== "" && !tables.some(({ name }) => name === sheet)) return [{ path: "sheet", code: "no-sheet", sentence: "There is no such sheet in this file." }];
    const columns: Partial<Record<ListField, number>> = {};
    for (const field of LIST_FIELDS) {
      const at = form.text(`column.${field}`);
      columns[field] = /^\d{1,3}$/.test(at) ? Number(at) : -1;
    }
    const twice = LIST_FIELDS.find((field, at) => (columns[field] ?? -1) >= 0 && LIST_FIELDS.slice(0, at).some((other) => columns[other] === columns[field]));
    if (twice !== undefined) return [{ path: `column.${twice}`, code: "column-twice", sentence: "This column is chosen for two things: each column holds one." }];
    const money = form.text("money");
    const layout: Layout = layoutSetRight(was, {
      sheet: sheet === "" ? undefined : sheet, headings: headings === "" ? null : Number(headings), columns,
      decimal: form.text("decimal") === "," ? "," : ".", days: form.text("days") === "day first" ? "day first" : "month first",
      per: form.text("per") === "" ? null : pricedPer(form.text("per")), currency: /^[A-Z]{3}$/.test(money) && money !== kitchen.currency ? money : null,
    }, tables, kitchen);
    return { layout, choices: layout.sheet === was.sheet ? choices : { ...choices, lines: {} }, remember };
  });
}

export async function keepFrom(_state: PlainState, formData: FormData): Promise<PlainState> {
  return kept(formData, "Its prices count from that day.", (list, form) => {
    const from = form.text("from").trim();
    if (!isDay(from)) return Promise.resolve([{ path: "from", code: "not-a-day", sentence: "Give the day as a calendar day, for example today." }]);
    return Promise.resolve({ layout: list.layout, choices: { ...readChoices(list.choices), from } });
  });
}

/** Answers to the lines that were shown, items chosen, and answers to all questions of a kind. */
export async function keepAnswers(_state: PlainState, formData: FormData): Promise<PlainState> {
  return kept(formData, "Kept. The book is as it was.", (list, form, { live: { book } }) => {
    const before = readChoices(list.choices);
    const lines: Record<string, LineChoice> = { ...before.lines };
    const all: Record<string, Answer> = { ...before.all };
    const problems: Problem[] = [];
    for (const [name, value] of Object.entries(form.values)) {
      const [what = "", key = ""] = name.split(".", 2);
      const text = value.trim();
      if (what === "all" && (LIST_QUESTIONS as readonly string[]).includes(key)) {
        if (isAnswer(text)) all[key] = text;
        else Reflect.deleteProperty(all, key);
      }
      if (!/^\d{1,6}$/.test(key)) continue;
      if (what === "answer") lines[key] = { ...lines[key], answer: isAnswer(text) ? text : undefined };
      if (what === "item" && (text === "" || book.shelves.item.has(text))) lines[key] = { ...lines[key], itemId: text === "" ? undefined : text };
    }
    // A name that was typed comes before what stands chosen.
    for (const [name, value] of Object.entries(form.values)) {
      const row = /^name\.(\d{1,6})$/.exec(name)?.[1];
      if (row === undefined || value.trim() === "") continue;
      const found = findNamed(book, ["item"], value);
      if (found === null) problems.push({ path: name, code: "no-such-item", sentence: `Row ${row}: no item, or more than one, is called ${quoted(value)}. Choose one of the names that come up while you type.` });
      else lines[row] = { ...lines[row], itemId: found.id };
    }
    if (problems.length > 0) return Promise.resolve(problems);
    const said = Object.fromEntries(Object.entries(lines).filter(([, { answer, itemId }]) => answer !== undefined || itemId !== undefined));
    return Promise.resolve({ layout: list.layout, choices: { ...before, lines: said, all } satisfies ListChoices });
  });
}

function isAnswer(text: string): text is Answer {
  return (ANSWERS as readonly string[]).includes(text);
}

export async function dropList(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("change items and prices");
  await store.dropPriceList(kitchenId, readPlainForm(formData).text("list"), visitor);
  revalidatePath("/lists", "layout");
  redirect("/lists");
}
