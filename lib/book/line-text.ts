/**
 * One line of a recipe or dish as it is written on a card: "2 1/4 cup heavy cream", "3 lb 6 oz carrots, peeled",
 * "2 portions strip loin 9 oz", "12 eggs", or the quantity last: "salt, 10 g". The text is taken apart where its longest
 * beginning (or end) is a quantity and the rest is the name of something in the book. Nothing is guessed: where a name
 * fits several things, where an item as purchased and a cut of it are called by the same words, or where "oz" may be
 * fluid ounces, the answer is a question, and each of its choices is a text that says more.
 */
import { type Habits, type Kind, type Quantity, UNITS, customaryUnit, exact, kindOf, needsUS, parseNumber, parseQuantity, portionUnit, quantityText, quoted, ratio, unitNamed } from "@/lib/measure";
import type { Book } from "./book";
import { findAnything, foldWords, foldedName } from "./find-anything";
import { findLabel, labelOf, namedSo } from "./labels";
import { cutKind } from "./quantity-of";
import type { Line, LineKind } from "./recipe";

/** Longer than any line on a card: what is longer is not looked at. */
const LONGEST_LINE = 300;
/** A quantity has at most so many words: "1 lb 2 oz + 3 lb 4 oz less 10 oz". */
const MOST_QUANTITY_WORDS = 14;
const MOST_CHOICES = 6;
const ANY: readonly Kind[] = ["mass", "volume", "count"];
const ONE = exact("1");
/** The kinds of things a line can take, the ready ones first. */
export const TAKEN_KINDS = ["cut", "spec", "recipe", "item"] as const satisfies readonly LineKind[];

/** What a quantity of each kind of thing is: no yield is divided twice. */
export const TAKEN_AS: Readonly<Record<LineKind, string>> = {
  item: "as purchased", cut: "edible portion", spec: "portion", recipe: "part of the recipe",
};

export interface ReadLine {
  readonly of: Line["of"];
  readonly quantity: Quantity;
  /** The quantity alone, as it can be typed into a field of its own. */
  readonly quantityTyped: string;
}

/** One way to say it. */
export interface LineChoice {
  readonly text: string;
  readonly of: Line["of"];
}

export type LineAnswer =
  | { readonly is: "understood"; readonly line: ReadLine }
  | { readonly is: "question"; readonly code: string; readonly sentence: string; readonly choices: readonly LineChoice[] }
  | { readonly is: "problem"; readonly code: string; readonly sentence: string };

/** An answer whose choices are not made yet: making one reads lines in turn. */
type Reading = Exclude<LineAnswer, { readonly is: "question" }> | { readonly is: "question"; readonly code: string; readonly sentence: string; readonly choices: () => readonly LineChoice[] };

/** Reads a line; never throws, whatever the text. */
export function readLine(book: Book, text: string, habits: Habits): LineAnswer {
  const reading = readingOf(book, text, habits);
  return reading.is === "question" ? { ...reading, choices: onceEach(reading.choices()).slice(0, MOST_CHOICES) } : reading;
}

function readingOf(book: Book, text: string, habits: Habits): Reading {
  const typed = spaced(text);
  if (typed === "") return wrong("missing", "Say how much of what goes in, such as 2 1/4 cup heavy cream.");
  if (typed.length > LONGEST_LINE) return wrong("too-long", `This line is more than ${LONGEST_LINE} characters long: write how much of what, and keep the rest for the note.`);
  const whole = findLabel(book, typed);
  if (whole === null && (parseQuantity(typed, habits, { kinds: ANY }).ok || parseNumber(typed, habits).ok)) {
    return wrong("name-missing", `${quoted(typed)} does not say of what: write the name behind it, such as ${typed} ${/\p{L}/u.test(typed) ? "carrots" : "lb carrots"}.`);
  }
  const named = namedParts(book, typed, habits);
  const first = named[0];
  if (first === undefined) return whole === null ? notNamed(book, typed, habits) : howMuch(book, whole, habits);
  const rivals = named.filter(({ part, of }) => !sameThing(of, first.of) || !sameQuantity(part.quantity, first.part.quantity));
  // "Strip steak 10 oz" is the name of a portion, or ten ounces of a strip steak.
  const counted = whole === null ? null : countedIn(book, whole);
  if (!first.part.decisive && (rivals.length > 0 || whole !== null)) {
    return asked("two-readings", `${quoted(typed)} can be read in more than one way: which is meant?`, () => [
      ...[first, ...rivals].map(({ part, of }) => choice(book, of, part, habits)),
      ...(whole === null || counted === null ? [] : [{ of: whole, text: lineText(book, { of: whole, quantity: { amount: ONE, unit: counted } }, habits) }]),
    ]);
  }
  return settled(book, first, habits);
}

/** A line that is settled, as a text that `readLine` reads as this line and as nothing else. */
export function lineText(book: Book, line: Pick<Line, "of" | "quantity">, habits: Habits): string {
  const label = labelOf(book, line.of);
  const quantities = [...new Set([line.quantity.typed ?? "", ...plainQuantities(line.quantity, habits), quantityText(line.quantity, habits)])].filter((one) => one !== "");
  const names = [label, ...(line.of.kind === "item" ? [`${label}, ${TAKEN_AS.item}`] : line.of.kind === "cut" ? [`${label}, ${TAKEN_AS.cut}`] : [])];
  const weighed = line.quantity.unit === "oz" ? ["", ", by weight"] : [""];
  for (const quantity of quantities) {
    for (const between of [" ", " of "]) {
      for (const name of names) {
        for (const by of weighed) {
          const text = `${quantity}${between}${name}${by}`;
          const read = readingOf(book, text, habits);
          if (read.is === "understood" && sameThing(read.line.of, line.of) && sameQuantity(read.line.quantity, line.quantity)) return text;
        }
      }
    }
  }
  return `${quantities[0] ?? ""} ${label}`;
}

/** What was understood, in words: "2 1/4 cups of Heavy cream, as purchased". */
export function lineSaid(book: Book, line: Pick<Line, "of" | "quantity">, habits: Habits): string {
  const name = nameIn(book, line.of) ?? labelOf(book, line.of);
  const so = `${quantityText(line.quantity, habits)} of ${name}`;
  return line.of.kind === "spec" && line.quantity.unit === "portion" ? so : `${so}, ${TAKEN_AS[line.of.kind]}`;
}

/** What a line being typed may become: things whose names answer to what stands beside the quantity, the best first. */
export function lineAnswers(book: Book, text: string, habits: Habits, most: number): readonly LineChoice[] {
  const typed = spaced(text).slice(0, LONGEST_LINE);
  for (const part of partsOf(typed, habits)) {
    const said = qualified(namesIn(part.name)[0] ?? part.name);
    const found = nearThings(book, said, most);
    if (found.length > 0) return onceEach(found.map((of) => choice(book, of, part, habits)));
  }
  // No quantity yet: the name stands first and waits for it.
  return nearThings(book, qualified(typed), most).map((of) => {
    const label = labelOf(book, of);
    return { of, text: of.kind === "item" && cutsCalledSo(book, of.id, label).length > 0 ? `${label}, ${TAKEN_AS.item}, ` : `${label}, ` };
  });
}

/** What somebody said about how it is taken, and the rest of the words. */
interface Said {
  readonly words: string;
  readonly as: "item" | "cut" | null;
  readonly byWeight: boolean;
}

const NOTHING_SAID: Said = { words: "", as: null, byWeight: false };
const ENDINGS: readonly (readonly [RegExp, Partial<Said>])[] = [
  [/[\s,]+\(?(?:as[ -]purchased|ap|a\.p\.)\)?$/i, { as: "item" }],
  [/[\s,]+\(?(?:edible[ -]portion|ep|e\.p\.)\)?$/i, { as: "cut" }],
  [/[\s,]+\(?by weight\)?$/i, { byWeight: true }],
];

/** "3 lb carrots, EP": the ending that says how it is taken, taken off. */
function qualified(typed: string): Said {
  let said: Said = { ...NOTHING_SAID, words: typed };
  for (let times = 0; times < 2; times += 1) {
    for (const [ending, meaning] of ENDINGS) {
      const words = said.words.replace(ending, "");
      if (words !== said.words && words !== "") said = { ...said, ...meaning, words };
    }
  }
  return said;
}

/** A text taken apart: a quantity and the name beside it. */
interface Part {
  readonly side: "first" | "last";
  readonly quantity: Quantity;
  readonly typed: string;
  readonly name: string;
  /** A number without a unit: so many of something counted. */
  readonly bare: boolean;
  /** "of" stands between them: the name begins there. */
  readonly decisive: boolean;
}

/** Every way to take it apart, the longest quantity first; numbers without a unit after those with one. */
function partsOf(words: string, habits: Habits): readonly Part[] {
  const gaps = [...words.matchAll(/ /g)].map((match) => match.index);
  const parts: Part[] = [];
  const bare: Part[] = [];
  const put = (side: Part["side"], typed: string, name: string): void => {
    if (name === "" || typed === "") return;
    const decisive = side === "first" && /^of /i.test(name);
    const inBrackets = /^\((.*)\)$/.exec(typed)?.[1];
    if (inBrackets !== undefined) { put(side, inBrackets, name); return; }
    const quantity = parseQuantity(typed, habits, { kinds: ANY });
    if (quantity.ok) { parts.push({ side, quantity: quantity.value, typed, name, bare: false, decisive }); return; }
    const number = /\d/.test(typed) ? parseNumber(typed, habits) : null;
    if (number?.ok === true && !number.value.startsWith("-")) bare.push({ side, quantity: { amount: number.value, unit: "each" }, typed, name, bare: true, decisive });
  };
  for (const gap of gaps.slice(0, MOST_QUANTITY_WORDS).reverse()) put("first", words.slice(0, gap).replace(/[,:]+$/, ""), words.slice(gap + 1).replace(/^[-–—,:] ?/, ""));
  for (const gap of gaps.slice(-MOST_QUANTITY_WORDS)) put("last", words.slice(gap + 1), words.slice(0, gap).replace(/ ?[-–—,:]+$/, ""));
  return [...parts.filter((part) => part.decisive), ...parts.filter((part) => !part.decisive), ...bare];
}

/** The name as it stands, and without the "of" before it. */
function namesIn(name: string): readonly string[] {
  const without = name.replace(/^(?:of )(?=\S)/i, "");
  return without === name ? [name] : [without, name];
}

interface Named {
  readonly part: Part;
  readonly of: Line["of"];
  readonly said: Said;
}

/** Every way to take a line apart in which the name is exactly that of one thing. Endings that say how it is taken may stand behind the name or behind all. */
function namedParts(book: Book, typed: string, habits: Habits): readonly Named[] {
  const said = qualified(typed);
  const forms = said.words === typed ? [{ ...NOTHING_SAID, words: typed }] : [{ ...NOTHING_SAID, words: typed }, said];
  for (const form of forms) {
    const named = partsOf(form.words, habits).flatMap((part) => namesIn(part.name).flatMap((name): Named[] => {
      const own = qualified(name);
      for (const one of own.words === name ? [{ ...form, words: name }] : [{ ...form, words: name }, { words: own.words, as: own.as ?? form.as, byWeight: own.byWeight || form.byWeight }]) {
        const of = exactly(book, one);
        if (of !== null) return [{ part, of, said: one }];
      }
      return [];
    }));
    if (named.length > 0) return named;
  }
  return [];
}

/** The one thing that is called exactly so (case, accents and marks aside); null where none is, or several are. */
function exactly(book: Book, said: Said): Line["of"] | null {
  const labelled = findLabel(book, said.words);
  if (labelled !== null && (said.as === null || labelled.kind === said.as)) return labelled;
  const all = calledSo(book, said);
  return all.length === 1 ? (all[0] ?? null) : null;
}

function calledSo(book: Book, { words, as }: Said): readonly Line["of"][] {
  return namedSo(book, words).filter((of) => as === null || of.kind === as);
}

/** A quantity of one thing: what is left to ask about it. */
function settled(book: Book, { part, of, said }: Named, habits: Habits): Reading {
  const counted = part.bare ? countedIn(book, of) : null;
  const label = labelOf(book, of);
  if (part.bare && counted === null) {
    const unit = ownUnits(book, of, habits)[0] ?? "lb";
    return wrong("unit-missing", `${quoted(part.typed)} has no unit, and ${label} is not counted: write one, such as ${part.typed} ${unit} ${label}.`);
  }
  const quantity: Quantity = counted === null ? part.quantity : { ...part.quantity, unit: counted };
  const quantityTyped = counted === null ? part.typed : `${part.typed} ${counted}`;
  if (said.as === null && of.kind === "item") {
    const cuts = cutsCalledSo(book, of.id, said.words);
    if (cuts.length > 0) {
      const whole: Part = { ...part, quantity, typed: quantityTyped, bare: false };
      return asked("as-purchased-or-edible-portion", `Is it ${label} as purchased, or edible portion, whose yield is in its cost already?`, () => [of, ...cuts].map((one) => choice(book, one, whole, habits)));
    }
  }
  if (quantity.unit === "oz" && !said.byWeight && inVolumeOnly(book, of)) {
    const weighed = of.kind === "recipe" ? "a batch of it is weighed too" : "somebody records what a cup of it weighs";
    return asked("which-ounce", `${label} is measured by volume: are these fluid ounces, or ounces of weight? A weight of it has a cost only once ${weighed}.`, () => [unitNamed("fl oz", habits) ?? "fl oz", "oz" as const]
      .map((unit) => ({ of, text: lineText(book, { of, quantity: { amount: quantity.amount, unit } }, habits) })));
  }
  return { is: "understood", line: { of, quantity, quantityTyped } };
}

/** Nothing is called exactly so: what may have been meant, or what is missing. */
function notNamed(book: Book, typed: string, habits: Habits): Reading {
  const alone = exactly(book, qualified(typed));
  if (alone !== null) return howMuch(book, alone, habits);
  const unreadable = quantityProblem(book, typed, habits);
  const parts = partsOf(qualified(typed).words, habits);
  const ending = qualified(typed);
  for (const part of parts) {
    const own = qualified(namesIn(part.name)[0] ?? part.name);
    const said: Said = { words: own.words, as: own.as ?? ending.as, byWeight: false };
    const all = calledSo(book, said);
    if (all.length > 1) return asked("several-so-named", `More than one thing in the book is called ${quoted(said.words)}: which is meant?`, () => all.map((of) => choice(book, of, part, habits)));
    const near = unreadable !== null && part.bare ? [] : nearThings(book, said, MOST_CHOICES);
    if (near.length > 0) return asked("not-the-whole-name", `Nothing in the book is called just ${quoted(said.words)}. Did you mean ${near.length === 1 ? "this" : "one of these"}?`, () => near.map((of) => choice(book, of, part, habits)));
  }
  if (unreadable !== null) return unreadable;
  const part = parts[0];
  if (part !== undefined) return wrong("not-found", `Nothing in the book is called ${quoted(namesIn(part.name)[0] ?? part.name)}: write the name of an item, a cut, a portion or a recipe, or add it to the items first.`);
  const near = nearThings(book, ending, 1)[0];
  if (near === undefined) return wrong("not-a-line", `${quoted(typed)} cannot be read: write how much, then of what in the book, such as 2 1/4 cup heavy cream.`);
  return wrong("quantity-missing", `${quoted(typed)} does not say how much: write the quantity first, such as ${example(book, near, habits)}.`);
}

/** What is wrong with a quantity that cannot be read, before a name that can; null where it is not that. */
function quantityProblem(book: Book, typed: string, habits: Habits): Reading | null {
  const words = typed.split(" ");
  for (let at = 1; at < Math.min(words.length, MOST_QUANTITY_WORDS); at += 1) {
    const before = words.slice(0, at).join(" ");
    const name = words.slice(at).join(" ");
    if (!/\d/.test(before) || namesIn(name).every((one) => exactly(book, qualified(one)) === null)) continue;
    const quantity = parseQuantity(before, habits, { kinds: ANY });
    const problem = quantity.ok ? undefined : quantity.problems[0];
    return problem === undefined ? null : wrong(problem.code, problem.sentence);
  }
  return null;
}

function howMuch(book: Book, of: Line["of"], habits: Habits): Reading {
  return wrong("quantity-missing", `How much of ${labelOf(book, of)}? Write the quantity first, such as ${example(book, of, habits)}.`);
}

function example(book: Book, of: Line["of"], habits: Habits): string {
  return `2 ${ownUnits(book, of, habits)[0] ?? "lb"} ${labelOf(book, of)}`;
}

/** Things whose names hold these words, the best first; else those that hold them without a plural's s. */
function nearThings(book: Book, { words, as }: Said, most: number): readonly Line["of"][] {
  const kinds = as === null ? TAKEN_KINDS : [as];
  for (const asked of [words, singular(words)]) {
    const { found } = findAnything(book, asked, { kinds, most });
    if (found.length > 0) return found.flatMap(({ kind, id }) => (kind === "dish" || kind === "test" ? [] : [{ kind, id }]));
  }
  return [];
}

function singular(name: string): string {
  return foldWords(name).split(" ").map((word) => (word.length > 3 ? word.replace(/(?:(?<=o|sh|ch|x|ss)es|(?<!s)s)$/, "") : word)).join(" ");
}

/** Cuts of an item, however far down, whose names hold the words it was called by. */
function cutsCalledSo(book: Book, itemId: string, name: string): readonly Line["of"][] {
  const words = foldWords(name).split(" ").filter(Boolean);
  const found: Line["of"][] = [];
  for (const cut of book.shelves.cut.values()) {
    const own = ` ${foldedName(cut)} `;
    if (words.every((word) => own.includes(` ${word} `)) && originItem(book, cut.id) === itemId) found.push({ kind: "cut", id: cut.id });
    if (found.length === MOST_CHOICES) break;
  }
  return found;
}

function originItem(book: Book, cutId: string): string | null {
  const seen = new Set<string>();
  let id = cutId;
  while (!seen.has(id)) {
    seen.add(id);
    const of = book.shelves.cut.get(id)?.of;
    if (of === undefined) return null;
    if (of.kind === "item") return of.id;
    id = of.id;
  }
  return null;
}

/** What one of a thing is called where it is counted; null where it is not. */
function countedIn(book: Book, of: Line["of"]): "each" | "portion" | null {
  const { item, recipe } = book.shelves;
  switch (of.kind) {
    case "spec": return "portion";
    case "cut": return cutKind(book, of.id) === "count" ? "each" : null;
    case "item": {
      const one = item.get(of.id);
      return one !== undefined && (one.kind === "count" || one.eachWeight !== null) ? "each" : null;
    }
    case "recipe": {
      const yielded = recipe.get(of.id)?.yields.find(({ unit }) => kindOf(unit) === "count");
      return yielded === undefined ? null : yielded.unit === "portion" ? "portion" : "each";
    }
  }
}

/** Measured by volume, with nothing recorded that would turn a weight into it. */
function inVolumeOnly(book: Book, of: Line["of"]): boolean {
  switch (of.kind) {
    case "item": {
      const item = book.shelves.item.get(of.id);
      return item?.kind === "volume" && item.density === null;
    }
    case "cut": return cutKind(book, of.id) === "volume";
    case "spec": {
      const spec = book.shelves.spec.get(of.id);
      return spec !== undefined && kindOf(spec.size.unit) === "volume";
    }
    case "recipe": {
      const kinds = book.shelves.recipe.get(of.id)?.yields.map(({ unit }) => kindOf(unit)) ?? [];
      return kinds.includes("volume") && !kinds.includes("mass");
    }
  }
}

/** Units in which a thing is told here, as they are typed. */
function ownUnits(book: Book, of: Line["of"], habits: Habits): readonly string[] {
  const { item, recipe } = book.shelves;
  const kind: Kind | null = of.kind === "item" ? item.get(of.id)?.kind ?? null : of.kind === "cut" ? cutKind(book, of.id) : null;
  if (of.kind === "spec") return [UNITS.portion.many];
  if (of.kind === "recipe") return (recipe.get(of.id)?.yields ?? []).map(({ unit }) => (unit === "portion" ? UNITS.portion.many : unit));
  return kind === null ? [] : [customaryUnit(kind, habits), portionUnit(kind, habits)];
}

/** This much of this thing as a text. Which ounce is meant is asked next, and not answered here. */
function choice(book: Book, of: Line["of"], part: Part, habits: Habits): LineChoice {
  if (part.quantity.unit === "oz" && inVolumeOnly(book, of)) return { of, text: `${part.typed} ${labelOf(book, of)}` };
  if (!part.bare) return { of, text: lineText(book, { of, quantity: { ...part.quantity, typed: part.typed } }, habits) };
  const unit = countedIn(book, of) ?? unitNamed(ownUnits(book, of, habits)[0] ?? "lb", habits) ?? "lb";
  return { of, text: lineText(book, { of, quantity: { amount: part.quantity.amount, unit } }, habits) };
}

/** Amount and unit as they are typed, with either decimal mark: "2.5 kg", "2,5 kg"; "US pt" where a pint is imperial. */
function plainQuantities({ amount, unit }: Quantity, habits: Habits): readonly string[] {
  const spelled = needsUS(unit, habits) ? `US ${unit}` : unit;
  return [`${amount} ${spelled}`, `${amount.replace(".", ",")} ${spelled}`];
}

function sameQuantity(a: Quantity, b: Quantity): boolean {
  return a.unit === b.unit && ratio.compare(ratio.fromExact(a.amount), ratio.fromExact(b.amount)) === 0;
}

function sameThing(a: Line["of"], b: Line["of"]): boolean {
  return a.kind === b.kind && a.id === b.id;
}

function onceEach(choices: readonly LineChoice[]): readonly LineChoice[] {
  return choices.filter((one, at) => choices.findIndex((other) => other.text === one.text) === at);
}

function nameIn(book: Book, of: Line["of"]): string | undefined {
  return book.shelves[of.kind].get(of.id)?.name;
}

/** More than `LONGEST_LINE` of it is never looked at. */
function spaced(text: string): string {
  return text.slice(0, 20 * LONGEST_LINE).replace(/[\p{Cc}\s]+/gu, " ").trim().slice(0, LONGEST_LINE + 1);
}

function wrong(code: string, sentence: string): Extract<LineAnswer, { readonly is: "problem" }> {
  return { is: "problem", code, sentence };
}

function asked(code: string, sentence: string, choices: () => readonly LineChoice[]): Reading {
  return { is: "question", code, sentence, choices };
}
