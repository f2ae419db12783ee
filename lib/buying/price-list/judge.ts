/**
 * What becomes of every line of a list: a new price, the same as before, a new quote for an item somebody chose, not
 * bought here, a question that waits for its answer, a line that cannot be read, one that is in the list twice, one that
 * somebody left. Nothing is recorded here; the changes that would be come with it. The old price stands until a question
 * is answered (trade brief, section 3), and a line that nobody matched changes nothing.
 */
import {
  type Book, type Change, type FactOf, type Item, type Pack, type Quote, askedRate, exchangeRate, kitchenOf, packContent, parsePack, priceQuestions, printPack, quoteKindMatches,
} from "@/lib/book";
import { type Checked, type Exact, type Problem, type Ratio, baseFactor, kindOf, printDay, printMoney, quoted, ratio, toDecimal } from "@/lib/measure";
import { type Answer, ANSWERS_TO, type ListChoices, type ListQuestion } from "./choices";
import type { ListLine, PricedPer } from "./line";
import { quoteIndex } from "./match";
import { type DecimalMark, listHabits } from "./read-cells";

export const FATES = ["asked", "unreadable", "new-price", "new-quote", "same", "repeated", "left", "not-bought"] as const;
export type Fate = (typeof FATES)[number];

export interface JudgedLine {
  readonly line: ListLine;
  readonly fate: Fate;
  /** The item that it is; null where nobody knows. */
  readonly itemId: string | null;
  readonly before: Quote | null;
  /** The quote as the line would have it; null where none can be made of it. */
  readonly after: Quote | null;
  /** It changes the book when the list is recorded. */
  readonly counts: boolean;
  /** What is asked, or why it cannot be read. */
  readonly problem: Problem | null;
  readonly answers: readonly Answer[];
  readonly answer: Answer | null;
  /** What else a buyer should know of it: another pack than before, another day. */
  readonly notes: readonly string[];
  /** Of a repeated line, the row of the one that counts. */
  readonly repeats: number | null;
}

export interface JudgedList {
  readonly lines: readonly JudgedLine[];
  readonly counts: Readonly<Record<Fate, number>>;
  /** How many lines ask each question and have no answer. */
  readonly open: Readonly<Partial<Record<ListQuestion, number>>>;
  /** How many lines ask each question, answered or not. */
  readonly asked: Readonly<Partial<Record<ListQuestion, number>>>;
  readonly changes: readonly Change[];
}

export interface ListToJudge {
  /** Of the list itself: new quotes are called by it and their row, so that they have the same id whenever they are worked out. */
  readonly listId: string;
  readonly dealerId: string;
  readonly lines: readonly ListLine[];
  readonly decimal: DecimalMark;
  readonly choices: ListChoices;
  /** The book whose quotes stand before it. */
  readonly book: Book;
  /** The day from which it counts. */
  readonly from: string;
  /** A jump beyond this is asked about; the house's usual one without. */
  readonly limit?: Ratio | undefined;
}

export function judgeList(list: ListToJudge): JudgedList {
  const judge = new Judge(list);
  const first = list.lines.map((line) => judge.line(line));
  const lines = settleRepeats(first, list);
  const counts = Object.fromEntries(FATES.map((fate) => [fate, 0])) as Record<Fate, number>;
  const open: Partial<Record<ListQuestion, number>> = {};
  const asked: Partial<Record<ListQuestion, number>> = {};
  const changes: Change[] = [];
  for (const { fate, problem, after, answers, counts: counted } of lines) {
    counts[fate] += 1;
    if (problem !== null && answers.length > 0) {
      const question = problem.code as ListQuestion;
      asked[question] = (asked[question] ?? 0) + 1;
      if (fate === "asked") open[question] = (open[question] ?? 0) + 1;
    }
    if (counted && after !== null) changes.push({ kind: "quote", id: after.id, after });
  }
  return { lines, counts, open, asked, changes };
}

/** A line as far as it can be judged by itself. */
class Judge {
  readonly #list: ListToJudge;
  readonly #kitchen: FactOf["kitchen"];
  readonly #index: ReturnType<typeof quoteIndex>;
  readonly #packs = new Map<string, Checked<Pack>>();

  constructor(list: ListToJudge) {
    this.#list = list;
    this.#kitchen = kitchenOf(list.book);
    this.#index = quoteIndex(list.book, list.dealerId);
  }

  line(line: ListLine): JudgedLine {
    const choice = this.#list.choices.lines[String(line.row)];
    const found = this.#index.of(line);
    const chosen = choice?.itemId === undefined || choice.itemId === "" ? undefined : this.#list.book.shelves.item.get(choice.itemId);
    const pack = this.#pack(line.pack);
    const one = found.length === 1 ? found[0] : undefined;
    const before = one ?? (chosen === undefined ? null : this.#quoteOf(chosen.id, found, line, pack));
    const item = before === null ? chosen : this.#list.book.shelves.item.get(before.itemId);
    const bare: Bare = { line, itemId: item?.id ?? null, before, after: null, notes: [], answer: choice?.answer ?? null };

    const unread = line.problems[0];
    if (unread !== undefined) {
      // What is not bought here need not be readable.
      return item === undefined ? fated(bare, "not-bought") : fated(bare, "unreadable", { problem: unread });
    }
    if (item === undefined) return fated(bare, "not-bought");
    const made = this.#quote(line, item, before, pack);
    if (!made.ok) return fated(bare, "unreadable", { problem: made.problems[0] ?? null });
    return this.#weighed({ ...bare, notes: made.value.notes }, made.value.quote, item, one === undefined);
  }

  /** Of several quotes the dealer has for an item, the one a chosen line speaks of: with its code, of its pack, without a code. */
  #quoteOf(itemId: string, found: readonly Quote[], line: ListLine, pack: Checked<Pack>): Quote | null {
    const own = this.#index.ofItem(itemId);
    const coded = own.filter((quote) => found.includes(quote));
    const among = coded.length > 0 ? coded : own;
    return among.find((quote) => pack.ok && sameContent(quote.pack, pack.value)) ?? among.find(({ code }) => code === "" || code === line.code) ?? among[0] ?? null;
  }

  #pack(text: string): Checked<Pack> {
    let read = this.#packs.get(text);
    if (read === undefined) {
      const parsed = parsePack(text, listHabits(this.#kitchen, this.#list.decimal));
      // What was typed belongs to the dealer's way of writing, and would be read anew by the kitchen's.
      read = parsed.ok ? { ok: true, value: { ...parsed.value, size: { amount: parsed.value.size.amount, unit: parsed.value.size.unit } } } : parsed;
      this.#packs.set(text, read);
    }
    return read;
  }

  /** The quote that the line makes, with what is worth telling of it. */
  #quote(line: ListLine, item: Item, before: Quote | null, listed: Checked<Pack>): Checked<{ readonly quote: Quote; readonly notes: readonly string[] }> {
    const kitchen = this.#kitchen;
    const notes: string[] = [];
    const refused = (path: string, code: string, sentence: string): Checked<never> => ({ ok: false, problems: [{ path, code, sentence }] });
    if (item.transfer !== null) return refused("name", "by-product", `${item.name} is a by-product of the house and has no dealer’s price: choose what is bought.`);

    let pack: Pack;
    if (before === null) {
      if (!listed.ok) return refused("pack", listed.problems[0]?.code ?? "no-pack", line.pack === "" ? `The list does not say how ${item.name} is packed: choose the column of the pack, or enter this price on the item’s own page.` : listed.problems[0]?.sentence ?? "The pack cannot be read.");
      pack = listed.value;
    } else if (!listed.ok) {
      if (line.pack !== "") notes.push(`The pack ${quoted(line.pack)} cannot be read; that on file stays: ${printPack(before.pack, kitchen)}.`);
      pack = before.pack;
    } else if (sameContent(before.pack, listed.value)) {
      pack = before.pack;
    } else if (kindOf(listed.value.size.unit) !== kindOf(before.pack.size.unit)) {
      notes.push(`The list says ${quoted(line.pack)}; the pack on file stays, told by ${KIND[item.kind]}: ${printPack(before.pack, kitchen)}.`);
      pack = before.pack;
    } else {
      pack = { ...listed.value, catchWeight: listed.value.catchWeight || before.pack.catchWeight };
      notes.push(`Another pack: ${printPack(before.pack, kitchen)} before, ${printPack(pack, kitchen)} in the list.`);
    }

    const per: PricedPer = line.per ?? before?.per ?? (pack.catchWeight ? pack.size.unit : "pack");
    if (pack.catchWeight && per === "pack") return refused("per", "catch-weight-per-pack", `${item.name} is billed by what it weighs, and the list prices the case: say what a pound or a kilo costs, or take catch weight off its quote.`);
    if (per !== "pack" && kindOf(per) !== kindOf(pack.size.unit)) return refused("per", "wrong-kind", `The price is per ${per}, and the pack is told as ${printPack(pack, kitchen)}: one of the two is of another kind. Say on the item’s own page what the pack holds.`);
    if (before !== null && before.per !== per && line.per !== null) notes.push(`Priced ${per === "pack" ? "by the pack" : `per ${per}`} now, ${before.per === "pack" ? "by the pack" : `per ${before.per}`} before.`);

    const told = line.currency === kitchen.currency ? null : line.currency;
    const currency = line.currency === null ? before?.currency ?? null : told;
    if (exchangeRate(this.#list.book, { currency }) === null) {
      return refused("currency", "no-rate", `The price is in ${currency}, and the house has no rate for it: tell it under House, then look at this list again.`);
    }
    if (line.from !== null && line.from !== this.#list.from) notes.push(`The line itself names ${printDay(line.from, kitchen)}.`);
    const moved = before === null || ratio.compare(ratio.fromExact(before.price.amount), ratio.fromExact(line.price as Exact)) !== 0;
    const quote: Quote = {
      ...(before ?? { id: `quote-${this.#list.listId}-${line.row}`, itemId: item.id, dealerId: this.#list.dealerId, basis: "quoted", until: null, landed: [] }),
      pack, per, currency, price: { amount: line.price as Exact },
      code: line.code === "" ? before?.code ?? "" : line.code, gtin: line.gtin === "" ? before?.gtin ?? "" : line.gtin,
      ...(before !== null && moved && (before.basis === "invoice" || before.basis === "contract") ? { basis: "quoted" as const, until: null } : {}),
    };
    if (!quoteKindMatches(item, quote)) return refused("pack", "wrong-kind", `${item.name} is costed by ${KIND[item.kind]}, and the list tells it in ${quote.per === "pack" ? quote.pack.size.unit : quote.per}: say on the item’s own page what the pack holds by ${KIND[item.kind]}.`);
    return { ok: true, value: { quote, notes } };
  }

  /** The same as before, a question, or a price that counts; `told` where a person said which item it is. */
  #weighed(bare: Bare, quote: Quote, item: Item, told: boolean): JudgedLine {
    const { before, answer } = bare;
    if (before !== null && samePrice(before, quote)) {
      // A code that a person has taught is kept, so that next month's list finds the item by itself.
      const learns = told && (before.code !== quote.code || before.gtin !== quote.gtin);
      return fated({ ...bare, after: learns ? quote : before }, "same", { counts: learns });
    }
    const fate: Fate = before === null ? "new-quote" : "new-price";
    const question = before === null ? null : this.#question(quote, before, item);
    // Whoever knows better may leave out any line.
    if (question === null) return answer === "leave" ? fated({ ...bare, after: quote }, "left", { answers: OR_NOT }) : fated({ ...bare, after: quote, answer: null }, fate, { counts: true, answers: OR_NOT });
    const code = question.code as ListQuestion;
    const answers = ANSWERS_TO[code].filter((one) => answered(quote, before, one) !== null);
    const given = answer ?? this.#list.choices.all[code] ?? null;
    const settled = given === null || !answers.includes(given) ? null : answered(quote, before, given);
    const asking = { problem: question, answers };
    if (settled === null) return fated({ ...bare, after: quote, answer: null }, "asked", asking);
    if (settled === "left") return fated({ ...bare, after: quote, answer: given }, "left", asking);
    if (before !== null && samePrice(before, settled)) return fated({ ...bare, after: before, answer: given }, "same", asking);
    return fated({ ...bare, after: settled, answer: given }, fate, { ...asking, counts: true });
  }

  #question(now: Quote, before: Quote, item: Item): Problem | null {
    const kitchen = this.#kitchen;
    if (before.basis === "contract" && (before.until === null || before.until >= this.#list.from)) {
      return { path: "price", code: "contract", sentence: `${item.name} is on contract${before.until === null ? "" : ` until ${printDay(before.until, kitchen)}`} at ${this.#money(before)}, and the list says ${this.#money(now)}: does the list’s price take its place?` };
    }
    if (now.currency !== before.currency) {
      return { path: "currency", code: "other-currency", sentence: `${item.name} was asked in ${before.currency ?? kitchen.currency}, and the list asks in ${now.currency ?? kitchen.currency}: ${this.#money(before)} before, ${this.#money(now)} now. Is that right?` };
    }
    return priceQuestions(now, before, kitchen, this.#list.limit)[0] ?? null;
  }

  #money({ price, per, currency }: Quote): string {
    return `${printMoney(toDecimal(price.amount), currency === null ? this.#kitchen : { ...this.#kitchen, currency })} ${per === "pack" ? "a pack" : `per ${per}`}`;
  }
}

const OR_NOT: readonly Answer[] = ["take", "leave"];
const KIND = { mass: "weight", volume: "volume", count: "count" } as const;

type Bare = Pick<JudgedLine, "line" | "itemId" | "before" | "after" | "notes" | "answer">;

function fated(bare: Bare, fate: Fate, more: Partial<Pick<JudgedLine, "problem" | "answers" | "counts" | "repeats">> = {}): JudgedLine {
  return { ...bare, fate, counts: false, problem: null, answers: [], repeats: null, ...more };
}

/** What an answer makes of the quote; "left" where the old price stands, null where it makes no sense of it. */
function answered(quote: Quote, before: Quote | null, answer: Answer): Quote | "left" | null {
  switch (answer) {
    case "take": return quote;
    case "leave": return "left";
    case "pack": return quote.pack.catchWeight ? null : { ...quote, per: "pack" };
    case "unit": {
      const per = before === null || before.per === "pack" ? packContent(quote.pack).unit : before.per;
      return { ...quote, per };
    }
    case "moved": return before === null ? null : withPointMoved(quote, before);
    case "this": return quote;
  }
}

const MOVES: readonly Ratio[] = [ratio.of(1n, 10n), ratio.of(10n), ratio.of(1n, 100n), ratio.of(100n)];

/** The price that an answer would record for this line; null where it makes no sense of it, or leaves the old one. */
export function priceIfAnswered({ after, before }: Pick<JudgedLine, "after" | "before">, answer: Answer): Exact | null {
  const made = after === null ? null : answered(after, before, answer);
  return made === null || made === "left" ? null : made.price.amount;
}

/** The quote with the point where it comes nearest to the last price; null where no place comes near it. */
function withPointMoved(quote: Quote, before: Quote): Quote | null {
  const was = askedRate(before);
  for (const move of MOVES) {
    const amount = ratio.mul(ratio.fromExact(quote.price.amount), move);
    const moved: Quote = { ...quote, price: { amount: ratio.toExact(amount) } };
    const off = ratio.sub(ratio.div(askedRate(moved), was), ratio.ONE);
    if (ratio.compare(ratio.sign(off) < 0 ? ratio.neg(off) : off, ratio.of(1n, 4n)) <= 0) return moved;
  }
  return null;
}

/** Whether two packs hold the same; what their levels are called makes no other pack. */
export function sameContent(one: Pack, other: Pack): boolean {
  const [a, b] = [packContent(one), packContent(other)];
  return kindOf(a.unit) === kindOf(b.unit)
    && ratio.compare(ratio.mul(ratio.fromExact(a.amount), ratio.fromExact(baseFactor(a.unit))), ratio.mul(ratio.fromExact(b.amount), ratio.fromExact(baseFactor(b.unit)))) === 0
    && (one.catchWeight || !other.catchWeight);
}

function samePrice(before: Quote, after: Quote): boolean {
  return before.per === after.per && before.currency === after.currency && before.pack === after.pack
    && ratio.compare(ratio.fromExact(before.price.amount), ratio.fromExact(after.price.amount)) === 0;
}

/**
 * Lines that speak of one quote: where they all say the same, the first counts and the others repeat it. Where they differ,
 * nobody but a person knows which counts, whatever their order; until it is said, the old price stands.
 */
function settleRepeats(lines: readonly JudgedLine[], { dealerId, choices, book }: ListToJudge): JudgedLine[] {
  const byQuote = new Map<string, JudgedLine[]>();
  for (const one of lines) {
    if (one.itemId === null || one.after === null || one.fate === "left") continue;
    const key = one.before === null ? `new ${dealerId} ${one.itemId}` : one.before.id;
    const there = byQuote.get(key);
    if (there === undefined) byQuote.set(key, [one]);
    else there.push(one);
  }
  const settled = new Map<JudgedLine, JudgedLine>();
  for (const group of byQuote.values()) {
    if (group.length < 2) continue;
    const first = group[0] as JudgedLine;
    if (group.every((one) => saysTheSame(one, first))) {
      for (const one of group.slice(1)) settled.set(one, { ...one, fate: "repeated", counts: false, problem: null, answers: [], repeats: first.line.row });
      continue;
    }
    const chosen = group.find(({ line }) => choices.lines[String(line.row)]?.answer === "this");
    const left = choices.all.several === "leave";
    const name = first.itemId === null ? "" : book.shelves.item.get(first.itemId)?.name ?? "";
    const rows = group.map(({ line }) => `row ${line.row} (${line.priceText})`);
    const told = rows.length > 4 ? `${rows.slice(0, 4).join(", ")} and ${rows.length - 4} more` : rows.join(", ");
    const problem: Problem = { path: "code", code: "several", sentence: `${name} is in this list more than once, and the lines differ: ${told}. Which one counts?` };
    for (const one of group) {
      if (one === chosen) {
        const counts = one.before === null || (one.after !== null && !samePrice(one.before, one.after));
        settled.set(one, { ...one, fate: one.before === null ? "new-quote" : counts ? "new-price" : "same", counts, problem, answers: ANSWERS_TO.several, answer: "this" });
      } else if (chosen !== undefined) settled.set(one, { ...one, fate: "repeated", counts: false, problem, answers: ANSWERS_TO.several, answer: null, repeats: chosen.line.row });
      else settled.set(one, { ...one, fate: left ? "left" : "asked", counts: false, problem, answers: ANSWERS_TO.several, answer: left ? "leave" : null });
    }
  }
  return settled.size === 0 ? [...lines] : lines.map((one) => settled.get(one) ?? one);
}

function saysTheSame(one: JudgedLine, other: JudgedLine): boolean {
  const [a, b] = [one.after, other.after];
  return a !== null && b !== null && a.per === b.per && a.currency === b.currency && sameContent(a.pack, b.pack) && ratio.compare(ratio.fromExact(a.price.amount), ratio.fromExact(b.price.amount)) === 0;
}
