/**
 * What must be right about a commission before it is recorded: days that exist, text that can be kept, corrections
 * that name a revision of the same fact, and above all a book that still holds together (lib/book), today and on every
 * day to come on which it will change by itself.
 */
import { type Book, type Change, type FactKind, type FactOf, checkChanges, factKey, kitchenOf, nounOf, referencesOf } from "@/lib/book";
import { type Problem, printDay } from "@/lib/measure";
import { Prisma } from "@/prisma/generated/client";
import type { Commission, DatedChange, LiveBook } from "./contract";
import type { Plan } from "./plan";
import { type Reader, type RevisionHead, readJson } from "./read-revisions";
import { unstorableText } from "./write-rows";

/** Longest reason; the same as a note. */
const LONGEST_WHY = 2_000;
const LONGEST_NAME = 120;

const problem = (path: string, code: string, sentence: string): Problem => ({ path, code, sentence });

/** What is wrong with the entries themselves, without looking at the book. */
export function checkEntries({ entries, who, why }: Pick<Commission, "entries" | "who" | "why">): Problem[] {
  const problems: Problem[] = [];
  if (entries.length === 0) problems.push(problem("", "nothing-to-save", "There is nothing to save: no fact was changed."));
  if (who.name.trim() === "") problems.push(problem("who", "no-name", "Say who is saving this: the record keeps a name with every change."));
  if (who.name.length > LONGEST_NAME) problems.push(problem("who", "name-too-long", `The name is ${who.name.length} characters long; use at most ${LONGEST_NAME}.`));
  if (why.length > LONGEST_WHY) problems.push(problem("why", "why-too-long", `The reason is ${why.length.toLocaleString("en-US")} characters long; use at most ${LONGEST_WHY.toLocaleString("en-US")}.`));
  if (unstorableText({ name: who.name, why }) !== null) problems.push(problem("why", "unreadable-character", UNREADABLE));
  entries.forEach((entry, at) => problems.push(...checkEntry(entry, `entries.${at}`)));
  return problems;
}

const UNREADABLE = "The text holds a character that cannot be kept (a broken or empty one). Type it again instead of pasting it.";

function checkEntry({ change, validFrom }: DatedChange, path: string): Problem[] {
  const problems: Problem[] = [];
  if (!isDay(validFrom)) problems.push(problem(`${path}.validFrom`, "no-day", `"${validFrom.slice(0, 20)}" is not a day. Write it as 2026-11-25.`));
  if (change.kind === "sales" && !isMonday(change.id)) {
    problems.push(problem(`${path}.id`, "no-monday", `A week of sales is named by its Monday, as 2026-11-23; "${change.id.slice(0, 20)}" is none.`));
  }
  if (change.kind === "kitchen" && change.after === null) {
    problems.push(problem(`${path}.id`, "no-settings", "The kitchen’s own settings cannot be taken off its book, on no day: change them instead."));
  }
  if (change.after !== null && change.after.id !== change.id) {
    throw new Error(`expected the fact ${change.kind}:${change.id} to carry its own id, got "${change.after.id}"`);
  }
  const unreadable = unstorableText(change.after);
  if (unreadable !== null) problems.push(problem(unreadable, "unreadable-character", UNREADABLE));
  return problems;
}

/** A real calendar day between 1900 and 2199, written 2026-11-25. */
export function isDay(text: string): boolean {
  if (!/^(?:19|20|21)\d\d-\d\d-\d\d$/.test(text)) return false;
  const time = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
}

function isMonday(text: string): boolean {
  return isDay(text) && new Date(`${text}T00:00:00Z`).getUTCDay() === 1;
}

/** Corrections must name a revision of their own fact. */
export function checkCorrections(entries: readonly DatedChange[], byFact: ReadonlyMap<string, readonly RevisionHead[]>): Problem[] {
  const seen = new Set<number>();
  return entries.flatMap(({ change, replaces }, at) => {
    if (replaces === undefined) return [];
    const again = seen.has(replaces);
    seen.add(replaces);
    if (again) return [problem(`entries.${at}.replaces`, "corrected-twice", `Revision ${replaces} is corrected twice in one change: keep one of the two.`)];
    const own = byFact.get(factKey(change.kind, change.id)) ?? [];
    if (own.some(({ revision }) => revision === replaces)) return [];
    return [problem(`entries.${at}.replaces`, "no-such-revision", `There is no revision ${replaces} of this ${change.kind} to correct.`)];
  });
}

/**
 * Everything that the entries speak of has been in the book at some time. The book of today and of days to come says so of
 * what is in force then (`checkBookAhead`); a price of last March behind a newer one is in none of them, and is kept all the same.
 */
export async function checkKnown(
  known: KnownFacts, { book }: LiveBook, entries: readonly DatedChange[], byFact: ReadonlyMap<string, readonly RevisionHead[]>,
): Promise<Problem[]> {
  const incoming = new Set(entries.flatMap(({ change }) => (change.after === null ? [] : [factKey(change.kind, change.id)])));
  const spokenOf = entries.flatMap(({ change: { kind, id, after } }) => {
    if (after !== null) return [...referencesOf(kind, after as never), ...leftOutOf(kind, after)].map((reference) => ({ ...reference, off: false }));
    return byFact.has(factKey(kind, id)) ? [] : [{ kind, id, path: "", off: true }];
  }).map((one) => ({ ...one, key: factKey(one.kind, one.id) })).filter(({ kind, id, key }) => !incoming.has(key) && !book.shelves[kind].has(id));
  if (spokenOf.length === 0) return [];
  const keys = [...new Set(spokenOf.map(({ key }) => key))];
  const there = await known(keys);
  return spokenOf.filter(({ key }) => !there.has(key)).map(({ path, kind, off }) => problem(
    path, "not-in-the-book", off ? `There is no such ${nounOf(kind)} in the book, so there is nothing to take off it.` : `There is no such ${nounOf(kind)} in the book: choose another.`,
  ));
}

/** Which of these facts (by key) have ever been in the kitchen. */
export type KnownFacts = (keys: readonly string[]) => Promise<ReadonlySet<string>>;

export function knownIn(reader: Reader, kitchenId: string): KnownFacts {
  return async (keys) => new Set(await readJson<string>(reader, Prisma.sql`SELECT json_agg(key)::text AS rows FROM fact WHERE kitchen_id = ${kitchenId} AND key = ANY (${[...keys]}::text[])`));
}

/** Tests that a cut leaves out may have gone from the book, but they were in it once. */
function leftOutOf(kind: FactKind, after: FactOf[FactKind]): readonly { readonly path: string; readonly kind: FactKind; readonly id: string }[] {
  return kind === "cut" ? (after as FactOf["cut"]).leftOut.map(({ testId }, at) => ({ path: `leftOut.${at}`, kind: "test", id: testId })) : [];
}

/** Whether the book holds together with the changes of today, and on each day to come with what applies by then. */
export function checkBookAhead(book: Book, today: readonly Change[], plan: Plan): readonly Problem[] {
  const now = today.length === 0 ? [] : checkChanges(book, today);
  if (now.length > 0) return now;
  for (const day of plan.days()) {
    const then = checkChanges({ ...book, on: day }, plan.changesOn(day));
    if (then.length > 0) return then.map((found) => ({ ...found, sentence: `From ${printDay(day, kitchenOf(book))} on: ${found.sentence}` }));
  }
  return [];
}
