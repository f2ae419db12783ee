/** A recipe's lines and yields at the size asked for, as plain data for the page, the card and the cost sheet. */
import { type Book, type Line, type Recipe, factName } from "@/lib/book";
import { type Exact, type Habits, type Problem, type Quantity, quantityText, ratio } from "@/lib/measure";
import { type Make, asMeasured, brokenCount, needsCare, readMake, scaled } from "@/lib/menu";

/** What ?make= asked for: nothing, a batch of that size, or something that cannot be read. */
export interface AskedMake {
  /** As typed, for the field. */
  readonly text: string;
  readonly make: Make | null;
  readonly problems: readonly Problem[];
}

export function askedMake(text: string, recipe: Recipe, habits: Habits): AskedMake {
  if (text.trim() === "") return { text: "", make: null, problems: [] };
  const read = readMake(text, recipe.yields, habits);
  return read.ok ? { text, make: read.value, problems: [] } : { text: text.slice(0, 200), make: null, problems: read.problems };
}

/** One batch, where none of another size was asked for. */
export const ONE_BATCH = "1" as Exact;

export interface LineAtSize {
  readonly key: string;
  readonly name: string;
  /** What kind of quantity it is, where that has to be said. */
  readonly basis: "as purchased" | "edible portion" | "";
  readonly note: string;
  readonly written: Quantity;
  readonly quantity: string;
  /** False where the quantity was rounded to what a scale or a spoon shows. */
  readonly exact: boolean;
  /** "8 or 9", where whole things come out broken. */
  readonly broken: string | null;
}

const BASIS: Readonly<Record<Line["of"]["kind"], LineAtSize["basis"]>> = { item: "as purchased", cut: "edible portion", spec: "", recipe: "" };

export function linesAtSize(book: Book, recipe: Recipe, factor: Exact | null, habits: Habits): readonly LineAtSize[] {
  return recipe.lines.map((line): LineAtSize => {
    const at = factor === null ? line.quantity : scaled(line.quantity, factor);
    const measured = factor === null ? { quantity: at, exact: true } : asMeasured(at);
    const broken = factor === null ? null : brokenCount(at);
    return {
      key: line.key, name: factName(book, line.of.kind, line.of.id), basis: BASIS[line.of.kind], note: line.note, written: line.quantity,
      quantity: quantityText(measured.quantity, habits), exact: measured.exact, broken: broken === null ? null : `${broken.below} or ${broken.above}`,
    };
  });
}

/** Every measured yield at that size. */
export function yieldsAtSize(recipe: Recipe, factor: Exact | null, habits: Habits): string {
  return recipe.yields.map((one) => quantityText(factor === null ? one : asMeasured(scaled(one, factor)).quantity, habits)).join(", or ");
}

/** "2", "0.75", "1 1/3": how many of the standard batch. */
export function timesText(factor: Exact, habits: Habits): string {
  const value = ratio.fromExact(factor);
  const whole = ratio.floor(value);
  const rest = ratio.sub(value, ratio.of(whole));
  if (rest.d <= 16n) return rest.n === 0n ? String(whole) : `${whole === 0n ? "" : `${whole} `}${rest.n}/${rest.d}`;
  return quantityText({ amount: ratio.toExact(value), unit: "each" }, habits).replace(/ each$/, "");
}

export function careWords(factor: Exact): string | null {
  return needsCare(factor)
    ? "That is outside a half to four times the batch that was measured. Lines are multiplied; what does not go by multiplying is yours to judge: seasoning, leavening, thickening, evaporation, the area of the pan and the time. Measure what this batch really yields."
    : null;
}
