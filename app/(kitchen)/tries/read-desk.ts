/**
 * The form of a try-out, read as moves: figures of kept moves typed over, and the rows in which something new is tried. While
 * somebody is still typing, a row with half of it filled in is simply not there yet; when it is to be kept, it is asked about.
 */
import { type Book, type Move, type MoveBody, type NamedKind, aboutOf, basisOf, costingQuote, findNamed, kitchenOf, nearNamed, readMoveBody, withMove } from "@/lib/book";
import { type Checked, type Habits, type Problem, bad, parseMoney, parseQuantity, parseRate, quoted, shareText } from "@/lib/measure";
import { quantityInput } from "../tests/sheet-props";

/** What may be typed into the first field of each row. */
export const NAMES_OF: Readonly<Record<string, readonly NamedKind[]>> = { prices: ["item", "dealer", "section"], item: ["item"], dish: ["dish"], spec: ["spec"] };

type Text = (name: string) => string;

export interface ReadDesk {
  /** The kept moves, with what was typed over them, and the new ones after them. */
  readonly moves: readonly Move[];
  /** Those that are new. */
  readonly drafts: readonly Move[];
  readonly problems: readonly Problem[];
}

export function readDesk(text: Text, kept: readonly Move[], book: Book, { whole }: { readonly whole: boolean }): ReadDesk {
  const habits = kitchenOf(book);
  const problems: Problem[] = [];
  const retyped = kept.map((move): Move => {
    const name = `figure.${move.key}`;
    const typed = text(name).trim();
    const { body } = move;
    if (typed === "" || typed === figureInput(body, habits)) return move;
    const read = readMoveBody(withFigure(body, typed, book), habits);
    if (!read.ok) { problems.push(...read.problems.map((problem) => ({ ...problem, path: name }))); return move; }
    return { ...move, body: read.value, about: aboutOf(read.value, book), basis: basisOf(book, read.value), added: null };
  });
  const drafts: Move[] = [];
  for (const row of ROWS) {
    const parts = row.fields.map((field) => text(`add.${row.name}.${field}`).trim());
    const needed = parts.slice(0, row.needed);
    if (needed.every((part) => part === "") || (!whole && needed.some((part) => part === ""))) continue;
    const read = row.read(parts, book);
    if (!read.ok) {
      problems.push(...read.problems.map((problem) => ({ ...problem, path: `add.${row.name}.${problem.path === "" ? row.fields[1] ?? "" : problem.path}` })));
      continue;
    }
    const body = read.value;
    drafts.push({ key: `move-${crypto.randomUUID()}`, about: aboutOf(body, book), body, basis: basisOf(book, body), added: null });
  }
  return { moves: drafts.reduce<readonly Move[]>((list, move) => withMove(list, move), retyped), drafts, problems };
}

/** The figure of a move as one would type it; null where it has none of its own. */
export function figureInput(body: MoveBody, habits: Habits): string | null {
  switch (body.kind) {
    case "share": return `${body.share.startsWith("-") ? "−" : "+"}${shareText(body.share.replace(/^-/, "") as typeof body.share, habits)}`;
    case "price": return body.price.typed ?? body.price.amount;
    case "size": return quantityInput(body.size);
    case "menu price": return body.gross.typed ?? body.gross.amount;
    case "target": return body.target === null ? null : shareText(body.target, habits);
    case "line": return body.to.kind === "removed" ? null : quantityInput(body.to.quantity);
    case "dealer": case "tests": case "replace": case "fact": return null;
  }
}

function withFigure(body: MoveBody, typed: string, book: Book): unknown {
  switch (body.kind) {
    case "share": return { ...body, share: typed };
    case "price": return { ...body, price: typed };
    case "size": return { ...body, size: sized(typed, body.specId, book) };
    case "menu price": return { ...body, gross: typed };
    case "target": return { ...body, target: typed };
    case "line": return { ...body, to: { ...body.to, quantity: typed } };
    case "dealer": case "tests": case "replace": case "fact": return body;
  }
}

/** A bare number is in the unit that the portion is told in. */
function sized(typed: string, specId: string, book: Book): unknown {
  const unit = book.shelves.spec.get(specId)?.size.unit;
  const read = parseQuantity(typed, kitchenOf(book), { kinds: ["mass", "volume"], ...(unit === undefined ? {} : { bare: unit }) });
  return read.ok ? read.value : typed;
}

interface Row {
  readonly name: string;
  readonly fields: readonly string[];
  /** So many of the fields must be filled in. */
  readonly needed: number;
  readonly read: (parts: readonly string[], book: Book) => Checked<MoveBody>;
}

const ROWS: readonly Row[] = [
  { name: "share", fields: ["of", "by"], needed: 2, read: ([name = "", by = ""], book) => {
    const found = named(book, "prices", name, "of");
    if (!found.ok) return found;
    const { kind, id } = found.value;
    return onField("by", readMoveBody({ kind: "share", of: kind === "section" ? { kind, name: id } : { kind, id }, share: by }, kitchenOf(book)));
  } },
  { name: "price", fields: ["item", "price"], needed: 2, read: ([name = "", typed = ""], book) => {
    const found = named(book, "item", name, "item");
    return found.ok ? onField("price", priceOf(book, found.value.id, typed)) : found;
  } },
  { name: "size", fields: ["spec", "size"], needed: 2, read: ([name = "", typed = ""], book) => {
    const found = named(book, "spec", name, "spec");
    return found.ok ? onField("size", readMoveBody({ kind: "size", specId: found.value.id, size: sized(typed, found.value.id, book) }, kitchenOf(book))) : found;
  } },
  { name: "gross", fields: ["dish", "gross"], needed: 2, read: ([name = "", typed = ""], book) => {
    const found = named(book, "dish", name, "dish");
    return found.ok ? onField("gross", readMoveBody({ kind: "menu price", dishId: found.value.id, gross: typed }, kitchenOf(book))) : found;
  } },
  { name: "replace", fields: ["item", "by", "from", "until"], needed: 2, read: ([name = "", other = "", from = "", until = ""], book) => {
    const [found, by] = [named(book, "item", name, "item"), named(book, "item", other, "by")];
    if (!found.ok) return found;
    if (!by.ok) return by;
    const read = readMoveBody({ kind: "replace", itemId: found.value.id, byId: by.value.id, from, until }, kitchenOf(book));
    return read.ok ? read : { ok: false, problems: read.problems.map((problem) => ({ ...problem, path: problem.path === "byId" ? "by" : problem.path })) };
  } },
];

function onField(path: string, read: Checked<MoveBody>): Checked<MoveBody> {
  return read.ok ? read : { ok: false, problems: read.problems.map((problem) => ({ ...problem, path })) };
}

/** A price in the unit that the item is bought by, or in the one that is said. */
function priceOf(book: Book, itemId: string, typed: string): Checked<MoveBody> {
  const habits = kitchenOf(book);
  const item = book.shelves.item.get(itemId);
  const quote = costingQuote(book, itemId);
  if (item !== undefined && item.transfer !== null) return bad("", "made-here", `${item.name} is made in the house and has no dealer’s price: try another transfer price among the by-products.`);
  if (item === undefined || quote === null) return bad("", "no-price", `Nobody’s price of ${item?.name ?? "that"} is in the book yet: record one, then try others.`);
  if (quote.per === "pack" && !typed.includes("/")) {
    const money = parseMoney(typed, habits);
    return money.ok ? readMoveBody({ kind: "price", itemId, quoteId: quote.id, price: money.value, per: "pack" }, habits) : money;
  }
  const rate = parseRate(typed, habits, { bare: quote.per === "pack" ? quote.pack.size.unit : quote.per, kinds: [item.kind] });
  return rate.ok ? readMoveBody({ kind: "price", itemId, quoteId: quote.id, price: { amount: rate.value.amount }, per: rate.value.per }, habits) : rate;
}

const ASKED: Readonly<Record<string, string>> = { prices: "an item, a dealer or a shelf", item: "an item", dish: "a dish", spec: "a portion" };

function named(book: Book, of: string, typed: string, path: string): Checked<{ readonly kind: NamedKind; readonly id: string }> {
  const kinds = NAMES_OF[of] ?? [];
  if (typed === "") return bad(path, "missing", `Say which: ${ASKED[of] ?? "a name"}.`);
  const found = findNamed(book, kinds, typed);
  if (found !== null) return { ok: true, value: found };
  const near = nearNamed(book, kinds, typed, 3).map(({ label }) => `“${label}”`);
  return bad(path, "not-found", near.length === 0 ? `Nothing in the book is called ${quoted(typed)}: type ${ASKED[of] ?? "a name"} as the book has it.` : `More than one may be meant by ${quoted(typed)}: ${near.join(" or ")}?`);
}
