/** What can be done with try-outs: begin one, keep what was tried in it, rename, double, drop and take up, make it real. */
"use server";
import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { refusal } from "@/lib/access";
import { type Change, basisOf, entriesOf, factName, overtaken } from "@/lib/book";
import { type Problem, bad, good, printDay } from "@/lib/measure";
import { type Committed, type MadeReal, type Stale, type Tryout, newTryoutId } from "@/lib/store";
import { NOTHING_SENT, type PlainState } from "@/components/form/plain-state";
import type { ChangeState } from "@/components/change/state";
import type { DeskState } from "@/components/tryout/state";
import { logProblem } from "@/app/log";
import { requestId } from "@/app/request-id";
import { SIGNED_OUT, readPlainForm } from "../../read-plain-form";
import { runChange } from "../change-flow/run-change";
import { printMoment } from "../moment";
import { type OpenKitchen, kitchenOfCaller, openKitchen } from "../open-kitchen";
import { readDesk } from "./read-desk";

const pageOf = (id: string): string => `/tries/${encodeURIComponent(id)}`;
const NOT_ALLOWED: Problem = { path: "", code: "not-allowed", sentence: refusal("see money") };
const NOT_THERE: Problem = { path: "", code: "not-there", sentence: "There is no such try-out in this kitchen." };

/** Trying, and keeping what was tried, changes nothing of the book: it is for whoever sees money. */
async function whoTries(): Promise<OpenKitchen | Problem> {
  const open = await kitchenOfCaller();
  if (open === null) return SIGNED_OUT;
  return open.may("see money") ? open : NOT_ALLOWED;
}

/** Begins an empty try-out and opens it. */
export async function beginTry(formData: FormData): Promise<void> {
  const { store, kitchenId, kitchen, live, visitor } = await openKitchen("see money");
  const id = newTryoutId();
  const name = readPlainForm(formData).text("name").trim().slice(0, 120) || `Try-out of ${printDay(live.today, kitchen)}`;
  const kept = await store.keepTryout(kitchenId, visitor, { id, name, moves: [], version: null });
  revalidatePath("/tries");
  redirect(kept.ok ? pageOf(id) : "/tries");
}

/** The same moves under another name, to try something else from there. */
export async function doubleTry(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("see money");
  const tryout = await store.readTryout(kitchenId, readPlainForm(formData).text("try"));
  if (tryout === null) redirect("/tries");
  const id = newTryoutId();
  const kept = await store.keepTryout(kitchenId, visitor, { id, name: `${tryout.name.slice(0, 100)}, again`, moves: tryout.moves, version: null });
  revalidatePath("/tries");
  redirect(kept.ok ? pageOf(id) : "/tries");
}

/** Drops a try-out, or takes it up again. */
export async function dropTry(formData: FormData): Promise<void> {
  const open = await openKitchen("see money");
  const form = readPlainForm(formData);
  const id = form.text("try");
  const done = await open.store.dropTryout(open.kitchenId, id, open.visitor, form.text("drop") === "yes");
  revalidatePath("/tries");
  redirect(!done.ok && done.reason === "not-there" ? "/tries" : pageOf(id));
}

export async function renameTry(_state: PlainState, formData: FormData): Promise<PlainState> {
  const form = readPlainForm(formData);
  const open = await whoTries();
  if ("sentence" in open) return form.refused([open]);
  const tryout = await open.store.readTryout(open.kitchenId, form.text("try"));
  if (tryout === null) return form.refused([NOT_THERE]);
  const version = versionIn(form.text("version")) ?? tryout.version;
  const kept = await open.store.keepTryout(open.kitchenId, open.visitor, { ...tryout, name: form.text("name"), version });
  if (!kept.ok) return form.refused(kept.reason === "problems" ? kept.problems : kept.reason === "stale" ? [{ path: "", code: "stale", sentence: `${movedOn(kept.theirs, open)} Rename it once more if the name should still change.` }] : [NOT_THERE]);
  revalidatePath("/tries", "layout");
  return { ...NOTHING_SENT, told: `It is called “${kept.tryout.name}” now.` };
}

/** Keeps what was typed at a try-out: figures over kept moves, new moves, a move taken off, or seen again. */
export async function keepDesk(_state: DeskState, formData: FormData): Promise<DeskState> {
  const form = readPlainForm(formData);
  const { values, text } = form;
  const refused = (problems: readonly Problem[]): DeskState => ({ status: "refused", problems, values });
  try {
    const open = await whoTries();
    if ("sentence" in open) return refused([open]);
    const { store, kitchenId, live: { book }, visitor } = open;
    const tryout = await store.readTryout(kitchenId, text("try"));
    if (tryout === null) return refused([NOT_THERE]);
    const [intent = "", key = ""] = text("intent").split(":");
    const version = versionIn(text("version")) ?? tryout.version;
    let { moves } = tryout;
    let sentence = "";
    if (intent === "remove") {
      moves = moves.filter((move) => move.key !== key);
      sentence = "Taken off.";
    } else if (intent === "seen") {
      moves = moves.map((move) => (move.key === key || key === "" ? { ...move, basis: basisOf(book, move.body) } : move));
      sentence = "Noted as seen. The move stands on what the book says now.";
    } else {
      const read = readDesk(text, moves, book, { whole: true });
      if (read.problems.length > 0) return refused(read.problems);
      const changed = read.moves.filter((move, at) => move !== moves[at]).length;
      if (changed === 0) return refused([{ path: "", code: "nothing", sentence: "Nothing is different from what is kept already. Fill in a row, or type over a figure." }]);
      ({ moves } = read);
      sentence = changed === 1 ? "Kept. The book is as it was." : `${changed} moves kept. The book is as it was.`;
    }
    const kept = await store.keepTryout(kitchenId, visitor, { id: tryout.id, name: tryout.name, moves, version });
    if (!kept.ok && kept.reason === "problems") return refused(kept.problems);
    if (!kept.ok && kept.reason === "not-there") return refused([NOT_THERE]);
    if (!kept.ok) {
      const { theirs } = kept;
      const closed = theirs.dropped !== null || theirs.madeChange !== null;
      if (closed) return refused([{ path: "", code: "closed", sentence: `${movedOn(theirs, open)} What you typed is still here.` }]);
      return { status: "stale", sentence: `${movedOn(theirs, open)} What you typed is still here and nothing was saved. Press once more to do it on top of theirs.`, version: theirs.version, values };
    }
    revalidatePath("/tries", "layout");
    return { status: "kept", told: sentence, version: kept.tryout.version, values };
  } catch (error) {
    logProblem("A try-out could not be kept", error, { request: await requestId() });
    return refused([{ path: "", code: "failed", sentence: "This could not be kept, and nothing was saved. What you typed is still here; try again in a moment." }]);
  }
}

/** The version of a try-out that the page was made of; whoever does not say speaks of the one that stands. */
function versionIn(text: string): number | null {
  return /^\d{1,9}$/.test(text) ? Number(text) : null;
}

/** What somebody else has done with a try-out meanwhile. */
function movedOn({ name, changedBy, changedAt, madeChange, dropped }: Tryout, { kitchen }: OpenKitchen): string {
  const did = madeChange !== null ? `made “${name}” real as change ${madeChange}` : dropped !== null ? `dropped “${name}”` : `changed “${name}”`;
  return `${changedBy} ${did} on ${printMoment(changedAt, kitchen)}, after you opened it.`;
}

/** Records everything in a try-out as one change. Every fact in it is asked for by its own deed. */
export async function makeTryReal(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const sent = readPlainForm(formData);
  const id = sent.text("try");
  const version = versionIn(sent.text("version"));
  return runChange(formData, {
    deed: "see money",
    keeps: false,
    read: async ({ open, live, from, recording }) => {
      const tryout = await open.store.readTryout(open.kitchenId, id);
      if (tryout === null) return { ok: false, problems: [NOT_THERE] };
      if (tryout.madeChange !== null || tryout.dropped !== null || tryout.version !== (version ?? tryout.version)) return bad("", "moved-on", `${movedOn(tryout, open)} Read the page anew before you make it real.`);
      const { entries, problems } = entriesOf(live.book, tryout.moves, from);
      if (problems.size > 0) return { ok: false, problems: [...problems.values()].flat().map((problem) => ({ ...problem, path: "" })) };
      const found = overtaken(live.book, tryout.moves);
      if (recording && found.size > 0 && sent.text("seen") !== "yes") {
        return bad("seen", "not-seen", `${found.size === 1 ? "One move rests" : `${found.size} moves rest`} on something that was changed since. Look at what changed above, then tick that you have seen it.`);
      }
      return good(entries);
    },
    commit: async (commission, { open, from }) => {
      // What stood on the page, and what was shown since and is to be written over.
      const shown = sent.text(sent.text("intent") === "over" ? "basedOnTheirs" : "basedOn");
      const seen = { ...readSeen(sent.text("revisions")), ...readSeen(shown) };
      const made = await open.store.makeTryoutReal(open.kitchenId, id, { version: version ?? (await open.store.readTryout(open.kitchenId, id))?.version ?? 0, from, seen, basedOn: commission.basedOn, who: commission.who, why: commission.why });
      return asCommitted(made, open, commission.entries.map(({ change }) => change));
    },
    next: (changeNo) => `/record/${changeNo}`,
  });
}

/** What was changed since the page was made is told as any stale save is: theirs beside mine. */
function asCommitted(made: MadeReal, open: OpenKitchen, changes: readonly Change[]): Committed {
  const { book } = open.live;
  if (made.ok || made.reason === "problems" || made.reason === "stale") return made;
  if (made.reason === "not-there") return { ok: false, reason: "problems", problems: [NOT_THERE] };
  if (made.reason === "moved-on") return { ok: false, reason: "problems", problems: [{ path: "", code: "moved-on", sentence: `${movedOn(made.theirs, open)} Read the page anew before you make it real.` }] };
  const stale = [...made.overtaken.values()].flat().map(({ kind, id, now }): Stale => {
    const theirs = book.shelves[kind].get(id) ?? null;
    const mine = changes.find((change) => change.kind === kind && change.id === id);
    return {
      kind, id, name: factName(book, kind, id), by: now?.by ?? "Somebody", at: now?.at ?? new Date(0).toISOString(), revision: now?.revision ?? 0,
      // What the try-out only rests on, and does not change, is theirs either way.
      mine: mine === undefined ? theirs : mine.after, theirs,
    };
  });
  return { ok: false, reason: "stale", stale };
}

function readSeen(text: string): Readonly<Record<string, number | null>> {
  try {
    const read: unknown = JSON.parse(text === "" ? "{}" : text);
    if (typeof read !== "object" || read === null) return {};
    return Object.fromEntries(Object.entries(read).filter((entry): entry is [string, number | null] => entry[1] === null || typeof entry[1] === "number"));
  } catch {
    return {};
  }
}
