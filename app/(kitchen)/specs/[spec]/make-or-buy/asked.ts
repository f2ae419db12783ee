/** What the address of a make-or-buy asks: the bought portion, and what nobody has recorded of cutting it here. What cannot be read is told. */
import { type MakeAsked, portionsAWeek } from "@/lib/buying";
import { type Book, type Item, type PortionSpec, findLabel, labelOf } from "@/lib/book";
import type { Cascade } from "@/lib/cascade";
import { type Checked, type Exact, type Problem, type Rate, type Ratio, bad, parseMoney, parseNumber, parseRate, parseShare, printNumber, ratio } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { Asked } from "../../../find";
import type { OpenKitchen } from "../../../open-kitchen";

export interface AskedMake {
  /** Bought cut: an item of the book, or a price that somebody typed; null: neither is told. */
  readonly bought: { readonly kind: "item"; readonly item: Item } | { readonly kind: "typed"; readonly rate: Rate } | null;
  /** Of what is bought cut, the share that is still thrown. */
  readonly trimmed: Ratio;
  readonly asked: Omit<MakeAsked, "bought">;
  /** Which of the figures somebody told, by field. */
  readonly told: ReadonlySet<string>;
  /** The volume is that of a usual week. */
  readonly usualWeek: boolean;
  readonly values: Values;
  readonly problems: readonly Problem[];
  /** The same address again, for another paper. */
  readonly query: string;
}

const FIELDS = ["item", "price", "trimmed", "minutes", "hourly", "hours", "wrap", "used", "fixed", "machine", "volume"] as const;

export function readMakeAsked(asked: Asked, spec: PortionSpec, cascade: Cascade, kitchen: OpenKitchen["kitchen"]): AskedMake {
  const { book } = cascade;
  const values = Object.fromEntries(FIELDS.map((name) => [name, typeof asked[name] === "string" ? asked[name].slice(0, 200).trim() : ""])) as Record<(typeof FIELDS)[number], string>;
  const problems: Problem[] = [];
  const figure = (name: (typeof FIELDS)[number], read: (text: string) => Checked<Exact>, fit: (value: Ratio) => string | null): Ratio | null => {
    if (values[name] === "") return null;
    const found = read(values[name]);
    if (!found.ok) { problems.push(...found.problems.map((problem) => ({ ...problem, path: name }))); return null; }
    const value = ratio.fromExact(found.value);
    const wrong = fit(value);
    if (wrong !== null) { problems.push({ path: name, code: "out-of-range", sentence: wrong }); return null; }
    return value;
  };
  const money = (text: string): Checked<Exact> => { const read = parseMoney(text, kitchen); return read.ok ? { ok: true, value: read.value.amount } : read; };
  const notBelow = (what: string) => (value: Ratio): string | null => (ratio.sign(value) < 0 ? `${what} cannot be below zero.` : null);
  const share = (text: string): Checked<Exact> => parseShare(text, kitchen);
  const bought = boughtIn(book, values, kitchen, problems);
  const trimmed = figure("trimmed", share, (value) => (ratio.compare(value, ratio.ONE) < 0 ? null : "Not all of what is bought can be thrown: give less than 100 %."));
  const minutes = figure("minutes", (text) => parseNumber(text, kitchen), notBelow("Minutes"));
  const hourly = figure("hourly", money, notBelow("What an hour costs"));
  const wrap = figure("wrap", money, notBelow("Wrap and disposal"));
  const used = figure("used", share, () => null);
  const fixed = figure("fixed", money, notBelow("What a week of the machine costs"));
  const volume = figure("volume", (text) => parseNumber(text, kitchen), (value) => (ratio.sign(value) > 0 ? null : "How many portions a week must be above zero; leave it blank for a usual week."));
  const usual = volume === null && values.volume === "" ? portionsAWeek(cascade, spec.id) : null;
  if (fixed !== null && ratio.sign(fixed) > 0 && volume === null && usual === null && !problems.some(({ path }) => path === "volume")) {
    problems.push(...bad("volume", "volume-missing", "Say how many portions a week: nothing was sold of it, and a week’s fixed cost is shared out over them.").problems);
  }
  const told = new Set<string>([["minutes", minutes], ["hourly", hourly], ["wrap", wrap], ["used", used], ["fixed", fixed], ["volume", volume], ["trimmed", trimmed]].flatMap(([name, value]) => (value === null ? [] : [name as string])));
  return {
    bought, trimmed: trimmed ?? ratio.ZERO, told, usualWeek: usual !== null, problems,
    asked: {
      minutes: minutes ?? ratio.ZERO, hourly: hourly ?? ratio.ZERO, hoursCanBeCut: values.hours === "yes", wrap: wrap ?? ratio.ZERO, fixed: fixed ?? ratio.ZERO, fixedAvoidable: values.machine === "yes",
      volume: volume ?? usual, used: used ?? ratio.ONE,
    },
    values: { ...values, volume: values.volume === "" && usual !== null ? printNumber(ratio.toDecimal(usual), kitchen, { places: usual.d === 1n ? 0 : 1 }) : values.volume },
    query: new URLSearchParams(Object.entries(values).filter(([, text]) => text !== "")).toString(),
  };
}

function boughtIn(book: Book, { item, price }: Readonly<Record<"item" | "price", string>>, kitchen: OpenKitchen["kitchen"], problems: Problem[]): AskedMake["bought"] {
  if (price !== "") {
    const read = parseRate(price, kitchen, { bare: "portion", kinds: ["mass", "volume", "count"] });
    if (!read.ok) { problems.push(...read.problems.map((problem) => ({ ...problem, path: "price" }))); return null; }
    if (ratio.sign(ratio.fromExact(read.value.amount)) <= 0) { problems.push({ path: "price", code: "not-above-zero", sentence: "What a bought portion costs must be above zero." }); return null; }
    return { kind: "typed", rate: read.value };
  }
  if (item === "") return null;
  const of = findLabel(book, item);
  const found = of?.kind === "item" ? book.shelves.item.get(of.id) : undefined;
  if (found === undefined) { problems.push({ path: "item", code: "not-found", sentence: `No item is called “${item.slice(0, 60)}”: choose one from the list, or type a price beside it.` }); return null; }
  return { kind: "item", item: found };
}

export function itemLabels(book: Book): readonly string[] {
  return [...book.shelves.item.values()].filter(({ transfer }) => transfer === null).map(({ id }) => labelOf(book, { kind: "item", id })).sort();
}
