/**
 * A change that a program sends: read fact by fact through the schemas that forms pass, tried or recorded in the name of its
 * key. With an Idempotency-Key it is recorded once however often it comes, and answered the same each time. Server only.
 */
import { createHash } from "node:crypto";
import { type Change, type FactKind, type FactOf, factKey, kitchenOf } from "@/lib/book";
import { readTold } from "@/lib/exchange";
import type { Problem } from "@/lib/measure";
import { type Committed, type DatedChange, basedOn, newId } from "@/lib/store";
import type { Answered, AskedOf } from "./answer";
import { problem } from "./problem";
import type { SentChange } from "./shapes";
import { tellRipple, tellStale } from "./tell";

type Asked = AskedOf<unknown, unknown, SentChange>;

const CALL = /^[\x21-\x7e]{1,200}$/;
/** Kinds whose facts are called by something else than themselves: a menu price by its dish, a week by its Monday. */
const NAMED_BY_OTHERS: readonly FactKind[] = ["kitchen", "menuPrice", "sales"];

export async function recordSent(asked: Asked): Promise<Answered> {
  const { store, live, program, body, request, raw } = asked;
  const call = request.headers.get("idempotency-key");
  if (call !== null && !CALL.test(call)) return problem("bad-shape", "An Idempotency-Key has 1 to 200 letters, digits and marks, without spaces.");
  const read = readEntries(asked);
  if (!read.ok) return refused(read.problems);
  const entries = read.value;
  if (body.try) {
    const tried = await store.tryEntries(program.kitchenId, entries);
    return tried.ok ? { body: { tried: true, ripple: tellRipple(tried.value.report) } } : refused(placed(tried.problems, entries));
  }
  const commission = { entries, basedOn: { ...basedOn(live, entries.map(({ change }) => change)), ...ofThese(body.basedOn, entries) }, who: { name: program.name }, why: body.why };
  const committed = call === null ? await store.commit(program.kitchenId, commission)
    : await store.commitOnce(program.kitchenId, commission, { program: program.id, call, hash: createHash("sha256").update(raw).digest("hex") });
  if (committed.ok) return recorded(asked, committed.changeNo, "again" in committed);
  if (committed.reason === "another-call") return problem("another-call", "Another change was sent under this Idempotency-Key before. Give each change a key of its own. Nothing was recorded.");
  return committed.reason === "problems" ? refused(placed(committed.problems, entries)) : stale(committed);
}

/** Told from the record, so that the same change is told the same, however often it is asked for. */
async function recorded({ store, program }: Asked, changeNo: number, again: boolean): Promise<Answered> {
  const entry = await store.recordEntry(program.kitchenId, changeNo);
  if (entry === null) throw new Error(`expected change ${changeNo}, which was just recorded`);
  const facts = entry.facts.map(({ kind, id, name, revision, validFrom, replaces }) => ({ kind, id, name, revision, validFrom, replaces }));
  return {
    status: again ? 200 : 201, headers: again ? { "Idempotency-Replayed": "true" } : { Location: `/api/v1/record/${changeNo}` },
    body: { changeNo, at: entry.at, by: entry.by, facts, ripple: tellRipple(entry.ripple) },
  };
}

function stale({ stale: overtaken }: Extract<Committed, { readonly reason: "stale" }>): Response {
  const said = overtaken.slice(0, 3).map(({ name, by }) => `${name} (${by})`).join(", ");
  return problem("stale", `Changed meanwhile: ${said}${overtaken.length > 3 ? ` and ${overtaken.length - 3} more` : ""}. Nothing was recorded. Look at what stands now, then send it again based on those revisions.`, { stale: tellStale(overtaken) });
}

function refused(problems: readonly Problem[]): Response {
  return problem("refused", `Nothing was recorded. ${problems[0]?.sentence ?? ""}`.trim(), { problems: problems.slice(0, 100) });
}

/** What the program has seen of the facts it changes; of others it is nobody’s business. */
function ofThese(seen: SentChange["basedOn"], entries: readonly DatedChange[]): SentChange["basedOn"] {
  const keys = new Set(entries.map(({ change }) => factKey(change.kind, change.id)));
  return Object.fromEntries(Object.entries(seen).filter(([key]) => keys.has(key)));
}

type Read = { readonly ok: true; readonly value: readonly DatedChange[] } | { readonly ok: false; readonly problems: readonly Problem[] };

function readEntries({ live, body: { entries } }: Asked): Read {
  const habits = kitchenOf(live.book);
  const problems: Problem[] = [];
  const say = (at: number, path: string, code: string, sentence: string): void => { problems.push({ path: `entries.${at}${path === "" ? "" : `.${path}`}`, code, sentence }); };
  const read = entries.flatMap(({ kind, id: given, fact, validFrom, replaces }, at): readonly DatedChange[] => {
    const own = fact?.["id"];
    const named = kind === "kitchen" ? live.book.kitchenId : given ?? (typeof own === "string" && own !== "" ? own : undefined);
    const id = named ?? (NAMED_BY_OTHERS.includes(kind) || fact === null ? undefined : newId(kind));
    if (id === undefined) {
      say(at, "id", "no-id", fact === null ? "Say which one is taken off the book." : kind === "sales" ? "A week of sales is called by its Monday: give it as the id." : "A menu price is called by its dish: give the dish’s id.");
      return [];
    }
    if (kind === "kitchen" && fact === null) {
      say(at, "id", "no-settings", "The kitchen’s own settings cannot be taken off its book: change them instead.");
      return [];
    }
    const dated = { validFrom: validFrom ?? live.today, ...(replaces === undefined ? {} : { replaces }) };
    if (fact === null) return [{ change: { kind, id, after: null } as Change, ...dated }];
    const told = readTold(kind, { ...fact, id }, habits);
    if (told.ok) return [{ change: { kind, id, after: told.value as FactOf[FactKind] } as Change, ...dated }];
    for (const { path, code, sentence } of told.problems) say(at, path === "" ? "fact" : `fact.${path}`, code, sentence);
    return [];
  });
  const keys = read.map(({ change }) => factKey(change.kind, change.id));
  keys.forEach((key, at) => { if (keys.indexOf(key) < at && read[at]?.validFrom === read[keys.indexOf(key)]?.validFrom) say(at, "id", "twice", "The same fact is changed twice from the same day: keep one of the two."); });
  read.forEach(({ change }, at) => { if (change.after === null && !live.book.shelves[change.kind].has(change.id) && read[at]?.replaces === undefined) say(at, "id", "not-in-the-book", "That is not in the book, so there is nothing to take off."); });
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: read };
}

/** A problem of a fact says which entry it is of. */
function placed(problems: readonly Problem[], entries: readonly DatedChange[]): readonly Problem[] {
  return problems.map((one) => {
    const of = "of" in one ? (one as Problem & { readonly of: { readonly kind: FactKind; readonly id: string } }).of : null;
    const at = of === null ? -1 : entries.findIndex(({ change }) => change.kind === of.kind && change.id === of.id);
    return at < 0 ? one : { ...one, path: `entries.${at}.fact${one.path === "" ? "" : `.${one.path}`}` };
  });
}
