/** A judged line in words and printed figures, as the page of a list shows it. Nothing is worked out here. */
import { type Book, type FactOf, type Quote, packContent } from "@/lib/book";
import { type Answer, type Fate, type JudgedLine, type LineChoice, type ListQuestion, itemIndex, priceIfAnswered } from "@/lib/buying";
import { UNITS, moneyFigure, oneOf, printMoney, toDecimal } from "@/lib/measure";
import { printCount } from "@/components/find/count";

type Kitchen = FactOf["kitchen"];

/** "46 wait for an answer": what each fate is called behind a count. */
const FATE_WORDS: Readonly<Record<Fate, readonly [one: string, many: string]>> = {
  asked: ["waits for an answer", "wait for an answer"],
  unreadable: ["cannot be read", "cannot be read"],
  "new-price": ["new price", "new prices"],
  "new-quote": ["new quote", "new quotes"],
  same: ["the same as before", "the same as before"],
  repeated: ["twice in the list", "more than once in the list"],
  left: ["left out", "left out"],
  "not-bought": ["not bought here", "not bought here"],
};

export function fateCount(fate: Fate, count: number, locale: string): string {
  return `${printCount(count, locale)} ${FATE_WORDS[fate][count === 1 ? 0 : 1]}`;
}

/** What is said of each fate above its lines. */
export const FATE_SAYS: Readonly<Record<Fate, string>> = {
  asked: "The old price stands until somebody answers.",
  unreadable: "Nothing is done with these. What is wrong is said beside each; the others are recorded without them.",
  "new-price": "These are recorded together, as one change.",
  "new-quote": "Items that somebody chose below, and that this dealer had no price for yet.",
  same: "Nothing changes for these.",
  repeated: "The line that counts is named beside each.",
  left: "Somebody left these out; the old prices stand.",
  "not-bought": "No price of this dealer in the book has their code or GTIN. They are left alone, unless you say which item one is: then its code is remembered.",
};

export const QUESTION_WORDS: Readonly<Record<ListQuestion, string>> = {
  "case-price-per-unit": "the price of a case told per unit", "unit-price-per-case": "the price of a unit told for the case", "price-point": "the point out of its place",
  "price-jump": "a jump over the limit", contract: "on contract", "other-currency": "another currency", several: "several prices for one item",
};

/** What an answer is called, for one line or for all of a kind. */
export function answerWords(answer: Answer, line: JudgedLine | null, kitchen: Kitchen): string {
  switch (answer) {
    case "take": return line !== null && line.problem === null ? "Record it" : "It is right: record it";
    case "leave": return line !== null && line.problem === null ? "Leave it out" : "Keep the old price";
    case "pack": return "It is the price of the pack";
    case "unit": return line === null || line.after === null ? "It is the price of one unit" : `It is the price of ${oneOf(line.before === null || line.before.per === "pack" ? packContent(line.after.pack).unit : line.before.per)}`;
    case "moved": {
      const meant = line === null ? null : priceIfAnswered(line, answer);
      return meant === null ? "Put the point where it belongs" : `${printMoney(toDecimal(meant), kitchen)} is meant`;
    }
    case "this": return "This one counts";
  }
}

export interface PriceView {
  readonly before: string | null;
  readonly after: string | null;
  readonly unit: string;
}

/** "7.10 → 7.35 $/lb"; each with its own unit where they are told for different things. */
export function priceView({ before, after, line }: JudgedLine, kitchen: Kitchen): PriceView {
  const forOne = (quote: Quote): string => `${quote.currency === null ? "" : `${quote.currency} `}${quote.per === "pack" ? "a pack" : `/ ${UNITS[quote.per].one}`}`;
  const figure = (quote: Quote): string => moneyFigure(toDecimal(quote.price.amount), quote.currency === null ? kitchen : { ...kitchen, currency: quote.currency });
  if (after === null) return { before: before === null ? null : figure(before), after: line.priceText === "" ? null : line.priceText, unit: before === null ? "" : forOne(before) };
  if (before !== null && forOne(before) !== forOne(after)) return { before: `${figure(before)} ${forOne(before)}`, after: `${figure(after)} ${forOne(after)}`, unit: "" };
  return { before: before === null ? null : figure(before), after: figure(after), unit: forOne(after) };
}

/** The items that a line nobody matched most likely is, with the one that was chosen. */
export function offers(book: Book, { line, itemId }: JudgedLine, choice: LineChoice | undefined): readonly { readonly value: string; readonly label: string }[] {
  const likely = itemIndex(book).likeliest(`${line.name} ${line.pack}`, 5).map(({ itemId: id }) => id);
  const chosen = choice?.itemId ?? itemId ?? "";
  const ids = chosen === "" || likely.includes(chosen) ? likely : [chosen, ...likely];
  return ids.flatMap((id) => { const item = book.shelves.item.get(id); return item === undefined ? [] : [{ value: id, label: item.name }]; });
}
