/**
 * A yield to borrow, as BorrowFields says it: a row of a published table by its key, or a yield typed by hand with what it
 * is of and where it is from. And which rows of the tables are offered: those that answer to the words asked for, else to
 * a word of what the cut is made from.
 */
import { type Book, type BorrowedYield, type Cut, cutKind } from "@/lib/book";
import { type Checked, bad, good, parseYield, printShare, toDecimal } from "@/lib/measure";
import { type PublishedYield, publishedYields, sayPublished, saySource } from "@/lib/yield";
import type { BorrowChoice } from "@/components/cut/BorrowFields";
import type { ChangeInput } from "../change-flow/run-change";
import { answering } from "../find";

/** What stands for "typed by hand" among the keys of the tables, and for nothing borrowed. */
export const BY_HAND = "by hand";
export const NOTHING = "";

/** The yield chosen; null where none is. `kind` is that of what the cut is made from: published yields are of weight. */
export function readBorrowed({ form, habits, today }: Pick<ChangeInput, "form" | "habits" | "today">, kind: ReturnType<typeof cutKind>): Checked<BorrowedYield | null> {
  const chosen = form.text("borrow");
  if (chosen === NOTHING) return good(null);
  if (chosen === BY_HAND) {
    const typed = form.text("borrowed.share");
    if (typed === "") return bad("borrowed.share", "missing", "Say how much of a hundred is usable, such as 76 or 76 %.");
    const share = parseYield(typed, habits);
    if (!share.ok) return { ok: false, problems: share.problems.map((problem) => ({ ...problem, path: "borrowed.share" })) };
    return good({ share: share.value, what: form.text("borrowed.what"), source: form.text("borrowed.source"), on: today });
  }
  const row = publishedYields().find(({ key }) => key === chosen);
  if (row === undefined) return bad("borrow", "not-in-the-tables", "That yield is in none of the tables: choose one of those shown, or type it by hand.");
  if (kind !== "mass") return bad("borrow", "not-by-weight", "Published yields are of weight, and this is not costed by weight. Type a yield by hand that is of what it is costed by.");
  return good({ share: row.share, what: sayPublished(row), source: saySource(row), on: today });
}

/** The most rows shown at once. */
export const MOST_CHOICES = 24;

export interface Offered {
  readonly rows: readonly PublishedYield[];
  /** The word of the origin's name that they answer to, where nobody asked for words; "" where it has none that is known. */
  readonly guess: string;
}

/** The rows to choose from. */
export function offered(asked: string, originName: string): Offered {
  const all = publishedYields();
  const find = (words: string): readonly PublishedYield[] => answering(all, words, (row) => [row.food, row.preparation]);
  if (asked !== "") return { rows: find(asked), guess: "" };
  // The tables call a food by its noun first: "Peppers, sweet, red". So "Red beets" is looked for under beets.
  for (const word of originName.split(/[^\p{L}]+/u)) {
    const stem = word.replace(/(?:ies|es|s|y)$/i, "");
    const rows = stem.length < 3 ? [] : find(stem).filter((row) => row.food.toLowerCase().startsWith(stem.toLowerCase()));
    if (rows.length > 0) return { rows, guess: word };
  }
  return { rows: [], guess: "" };
}

/** A row as the form shows it. */
export function borrowChoice(row: PublishedYield, kitchen: Parameters<typeof printShare>[1]): BorrowChoice {
  return { key: row.key, label: `${printShare(toDecimal(row.share), kitchen)} %, ${sayPublished(row)}`, note: `${row.table.stage}: ${saySource(row)}` };
}

/** What a cut is measured in, told by its origin where it has no test. */
export function kindOfOrigin(book: Book, of: Cut["of"]): ReturnType<typeof cutKind> {
  return of.kind === "item" ? book.shelves.item.get(of.id)?.kind ?? null : cutKind(book, of.id);
}

/** The same of "item:…" or "cut:…", as a select field sends it. */
export function kindOfOriginTyped(book: Book, typed: string): ReturnType<typeof cutKind> {
  const [kind, ...id] = typed.split(":");
  return kind === "item" || kind === "cut" ? kindOfOrigin(book, { kind, id: id.join(":") }) : null;
}
