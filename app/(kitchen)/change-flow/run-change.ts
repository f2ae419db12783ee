/**
 * The one way an edit form becomes a change of the book. Reads what was typed, lets the page's own `read` turn it into
 * facts (or problems), and then either tries it (the ripple, nothing saved) or records it. What comes back is plain
 * text for ChangeForm; what was typed always comes back with it. Here stands the door of every such action: it names
 * the deed it is, and each fact that it would change is asked for once more. Server only.
 *
 *   "use server";
 *   export async function changePrice(state: ChangeState, formData: FormData): Promise<ChangeState> {
 *     return runChange(formData, {
 *       deed: "change items and prices",
 *       read: ({ form, live, habits, dated }) => {
 *         const quote = readFact("quote", { …, price: form.text("price") }, habits);
 *         return quote.ok ? good([dated({ kind: "quote", id: quote.value.id, after: quote.value })]) : quote;
 *       },
 *     });
 *   }
 */
import { revalidatePath } from "next/cache";
import { headers } from "next/headers";
import { redirect, unstable_rethrow } from "next/navigation";
import { z } from "zod";
import { type Deed, deedOf, refusal } from "@/lib/access";
import { type Change, type FactOf, cutsOn, factKey } from "@/lib/book";
import type { Cascade } from "@/lib/cascade";
import type { Checked, Problem } from "@/lib/measure";
import { type Commission, type Committed, type DatedChange, type LiveBook, basedOn as basedOnOf } from "@/lib/store";
import type { BasedOn, ChangeState, TriedView } from "@/components/change/state";
import { logProblem } from "@/app/log";
import { requestId } from "@/app/request-id";
import { type OpenKitchen, kitchenOfCaller } from "../open-kitchen";
import { keepChoices, keepTried } from "./keep-tried";
import { cutLoops, loopView } from "./loop-ways";
import { type ReadForm, asForm, readForm } from "./read-form";
import { crossingSentence, rippleView, rippleWithoutMoney, whenWords } from "./ripple-view";
import { staleView } from "./stale-view";

export interface ChangeInput {
  readonly form: ReadForm;
  /** The kitchen of whoever asks, for what the book alone does not say. */
  readonly open: OpenKitchen;
  readonly live: LiveBook;
  /** The kitchen's settings; they serve as habits. */
  readonly habits: FactOf["kitchen"];
  readonly today: string;
  /** The day the change applies from, as chosen; today where the form does not ask. */
  readonly from: string;
  /** The change with that day. */
  readonly dated: (change: Change) => DatedChange;
  /** Whether the person may see money: what they may not see, they do not set either. */
  readonly seesMoney: boolean;
  /** It is to be recorded, not only tried: what is for the record alone, such as a reason, is asked for then. */
  readonly recording: boolean;
}

export interface ChangeOptions {
  /** What doing this is called in the table of lib/access. */
  readonly deed: Deed;
  /** Turns the form into changes, or says what is wrong, with paths that are field names. */
  readonly read: (input: ChangeInput) => Checked<readonly DatedChange[]> | Promise<Checked<readonly DatedChange[]>>;
  /** What a try tells beside its ripple, from the book as it would be and as it is: the result of a yield test, what a piece gives. */
  readonly result?: (after: Cascade, kitchen: FactOf["kitchen"], seesMoney: boolean, before: Cascade) => TriedView | null;
  /** What a careful person would ask before it is recorded; whoever is sure answers with intent "sure", and is not asked again. */
  readonly questions?: (input: ChangeInput, entries: readonly DatedChange[]) => readonly Problem[];
  /** Records it in another way than by a plain commit, in which something else is written with it. */
  readonly commit?: (commission: Commission, input: ChangeInput) => Promise<Committed>;
  /** It can be put in a try-out instead (default); false where it is one already. */
  readonly keeps?: boolean;
  /** Where to go once it is recorded; without it the page stays and says so. */
  readonly next?: (changeNo: number) => string;
}

/** A form that changes more than that at once is not recorded from again: the page is left. */
const MOST_BASED = 200;
const BASED_ON = z.record(z.string().max(300), z.number().int().nullable());

export async function runChange(sent: FormData, options: ChangeOptions): Promise<ChangeState> {
  const formData = asForm(sent);
  const form = readForm(formData);
  const { values } = form;
  const refused = (problems: readonly Problem[]): ChangeState => ({ status: "refused", problems: onceEach(form.onScreen(problems)), values });
  try {
    const open = await kitchenOfCaller();
    if (open === null) return refused([SIGNED_OUT]);
    const intent = formData.get("intent");
    const recording = intent === "record" || intent === "over" || intent === "sure";
    // Trying changes nothing: whoever may see what it would do to the costs may try.
    if (!open.may(options.deed) && (recording || !open.may("see money"))) return refused([{ path: "", code: "not-allowed", sentence: refusal(options.deed) }]);
    const { store, kitchenId, kitchen, live, visitor } = open;
    const seesMoney = open.may("see money");
    const problems: Problem[] = [];
    const from = form.text("from") === "" ? live.today : form.text("from");
    if (!isDay(from)) problems.push({ path: "from", code: "not-a-day", sentence: "Give the day it applies from as a calendar day, for example today." });
    const why = form.text("why");
    if (why.length > 2000) problems.push({ path: "why", code: "too-long", sentence: `The reason is ${why.length.toLocaleString(kitchen.locale)} characters long; at most 2,000 fit. A line is enough.` });

    const input: ChangeInput = {
      form, open, live, habits: kitchen, today: live.today, from, seesMoney, recording,
      dated: (change) => ({ change, validFrom: from }),
    };
    const read = await options.read(input);
    if (!read.ok) return refused([...read.problems, ...problems]);
    if (problems.length > 0) return refused(problems);
    const typed = read.value.map((entry) => entry.change);
    const asked = { form, live, habits: kitchen };
    /** A worth that goes round in a circle comes with the ways out of it. */
    const circle = (found: readonly Problem[] = []) => (seesMoney && (form.text("loop.way") !== "" || found.some(({ code }) => code === "cycle")) ? loopView(asked, typed) : null);
    const refusedAs = (found: readonly Problem[]): ChangeState => ({ status: "refused", problems: onceEach(form.onScreen(found)), loop: circle(found), values });
    const cut = cutLoops(asked, read.value);
    if (!cut.ok) return refusedAs(cut.problems);
    const entries = cut.value;
    if (entries.length === 0) return refused([{ path: "", code: "nothing", sentence: "Nothing is different from what the book says already, so there is nothing to record." }]);
    const changes = entries.map((entry) => entry.change);
    // What is recorded ahead of its day can be corrected away before it ever was in the book.
    if (entries.some(({ change, replaces }) => change.after === null && replaces === undefined && !live.book.shelves[change.kind].has(change.id))) return refused([NOT_THERE]);
    const beyond = firstBeyond(changes, open);
    if (beyond !== null && (recording || !seesMoney)) return refused([{ path: "", code: "not-allowed", sentence: refusal(beyond) }]);

    if (!recording) {
      const tried = await store.tryEntries(kitchenId, entries);
      if (!tried.ok) return refusedAs(tried.problems);
      // A correction is of one recorded revision, which a try-out knows nothing of.
      const keeps = seesMoney && options.keeps !== false && entries.every(({ replaces }) => replaces === undefined);
      if (intent === "keep" && keeps) return await keepTried(open, changes, formData.get("tryout"), values);
      const when = whenWords(entries, live, kitchen, "tried");
      return { status: "tried", keep: keeps ? await keepChoices(open) : null, ripple: seesMoney ? rippleView(tried.value.report, kitchen, when) : rippleWithoutMoney(when), result: options.result?.(tried.value.after, kitchen, seesMoney, live.cascade) ?? null, loop: circle(), values };
    }

    const questions = intent === "record" ? options.questions?.(input, entries) ?? [] : [];
    if (questions.length > 0) {
      // What is wrong for certain is said first: no answer would make it right.
      const tried = await store.tryEntries(kitchenId, entries);
      return tried.ok ? { status: "refused", problems: onceEach(form.onScreen(questions)), asked: true, values } : refusedAs(tried.problems);
    }

    const basis = readBasedOn(formData.get(intent === "over" ? "basedOnTheirs" : "basedOn"));
    const commission: Commission = { entries, basedOn: { ...basedOnOf(live, changes), ...basis }, who: visitor, why };
    const committed = await (options.commit?.(commission, input) ?? store.commit(kitchenId, commission));
    if (!committed.ok && committed.reason === "problems") return refusedAs(committed.problems);
    if (!committed.ok) {
      return {
        status: "stale",
        stale: committed.stale.map((one) => staleView(one, live, kitchen, changes, seesMoney)),
        basedOn: { ...basis, ...Object.fromEntries(committed.stale.map((one) => [factKey(one.kind, one.id), one.revision])) },
        values,
      };
    }
    revalidatePath("/", "layout");
    // Without a script the page that the form stands on is made again, and what was taken off has none any more.
    if (changes.some((change) => change.after === null) && !(await headers()).has("next-action")) redirect(seesMoney ? `/record/${committed.changeNo}` : options.next?.(committed.changeNo) ?? "/");
    const crossing = seesMoney ? crossingSentence(committed.report) : null;
    const when = whenWords(entries, committed.live, kitchen, "recorded");
    return {
      status: "recorded",
      changeNo: committed.changeNo,
      basedOn: changes.length > MOST_BASED ? {} : basedOnOf(committed.live, changes),
      sentence: `Recorded as change ${committed.changeNo}.${crossing === null ? "" : ` ${crossing}`}`,
      href: seesMoney ? `/record/${committed.changeNo}` : null,
      next: options.next?.(committed.changeNo) ?? null,
      ripple: seesMoney ? rippleView(committed.report, kitchen, when) : rippleWithoutMoney(when),
      values,
    };
  } catch (error) {
    unstable_rethrow(error);
    // Our own fault or the database's: the person keeps what they typed, the server's log gets the rest.
    logProblem("A change could not be carried out", error, { request: await requestId() });
    return { status: "failed", sentence: "This could not be carried out, and nothing was saved. What you typed is still here; try again in a moment.", values };
  }
}

const SIGNED_OUT: Problem = { path: "", code: "signed-out", sentence: "You are not signed in any more. Sign in in another tab, then send this again: what you typed is still here." };

const NOT_THERE: Problem = { path: "", code: "not-in-the-book", sentence: "That is not in the book any more, so there is nothing to take off." };

/** The first deed among these changes that is not the person's to do; null when all are. */
export function firstBeyond(changes: readonly Change[], { may, live }: Pick<OpenKitchen, "may" | "live">): Deed | null {
  return changes.map((change) => deedOf(change, change.kind === "test" && cutsOn(live.book, change.id).length > 0)).find((deed) => !may(deed)) ?? null;
}

/** One sentence is told once, though two facts may have the same thing wrong with them. */
function onceEach(problems: readonly Problem[]): readonly Problem[] {
  return problems.filter((problem, index) => problems.findIndex((other) => other.sentence === problem.sentence && (other.path === problem.path || problem.path === "")) === index);
}

function readBasedOn(value: FormDataEntryValue | null): BasedOn {
  if (typeof value !== "string") return {};
  try {
    return BASED_ON.parse(JSON.parse(value));
  } catch {
    return {};
  }
}

function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}
