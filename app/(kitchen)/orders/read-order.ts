/** An order's form read into a plan, and a plan put back into the form's fields. */
import { type OrderPlan, type PlannedDish, MOST_ORDER_ROWS, ORDER_NOTE_LIMIT, SURENESSES, readCovers, readSureness } from "@/lib/buying";
import { type Book, type Dish, type Line, foldWords, isDay, readLine } from "@/lib/book";
import { type Checked, type Habits, type Problem, at, isExact, parseNumber, printNumber, printShare, quoted, toDecimal, exact } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { ReadForm } from "../change-flow/read-form";
import { lineValues } from "../read-lines";

export interface ReadOrder {
  readonly name: string;
  readonly forDay: string | null;
  readonly plan: OrderPlan;
}

export function readOrder(form: ReadForm, book: Book, habits: Habits): Checked<ReadOrder> {
  const problems: Problem[] = [];
  const dishes = form.rows("dishes").flatMap((row, index): readonly PlannedDish[] => {
    const path = `dishes.${index}`;
    const found = dishNamed(book, row["dish"] ?? "");
    const covers = coversIn(row["covers"] ?? "", habits);
    if (!found.ok) problems.push(...at(`${path}.dish`, found.problems));
    if (!covers.ok) problems.push(...covers.problems.map((problem) => ({ ...problem, path: `${path}.covers` })));
    return found.ok && covers.ok ? [{ key: keyOf(row, "d", index), dishId: found.value.id, covers: covers.value }] : [];
  });
  const lines = linesIn(form, "lines", book, habits, problems);
  const onHand = linesIn(form, "onHand", book, habits, problems);
  const level = form.text("sureness");
  const sureness = level === "" ? null : isExact(level) ? readSureness(level) : readSureness(exact("0"));
  if (sureness?.ok === false) problems.push(...sureness.problems);
  const forDay = form.text("forDay");
  if (forDay !== "" && !isDay(forDay)) problems.push({ path: "forDay", code: "not-a-day", sentence: "Give the day as a calendar day, or leave it empty." });
  const note = form.text("note");
  if (note.length > ORDER_NOTE_LIMIT) problems.push({ path: "note", code: "too-long", sentence: `A note has at most ${ORDER_NOTE_LIMIT} characters; this one has ${note.length}.` });
  if (problems.length === 0 && dishes.length + lines.length === 0) problems.push({ path: "dishes", code: "nothing-wanted", sentence: "Say what is to be served: a dish and how many covers, or something else that is wanted." });
  for (const [name, rows] of [["dishes", dishes], ["lines", lines], ["onHand", onHand]] as const) {
    if (rows.length > MOST_ORDER_ROWS) problems.push({ path: name, code: "too-many", sentence: `At most ${MOST_ORDER_ROWS} rows fit here.` });
  }
  if (problems.length > 0) return { ok: false, problems };
  return {
    ok: true,
    value: {
      name: form.text("name"), forDay: forDay === "" ? null : forDay,
      plan: { dishes, lines, onHand, sureness: sureness?.ok === true ? sureness.value : null, way: form.text("way") === "away" ? "away" : "table", note },
    },
  };
}

function coversIn(text: string, habits: Habits): Checked<PlannedDish["covers"]> {
  if (text.trim() === "") return { ok: false, problems: [{ path: "", code: "missing", sentence: "Say how many of it are served." }] };
  const read = parseNumber(text, habits);
  return read.ok ? readCovers(read.value) : read;
}

/** The dish that is called so, whatever the case and the accents. */
function dishNamed(book: Book, typed: string): Checked<Dish> {
  const refuse = (code: string, sentence: string): Checked<Dish> => ({ ok: false, problems: [{ path: "", code, sentence }] });
  const words = foldWords(typed);
  if (words === "") return refuse("missing", "Say which dish: a few letters, then choose.");
  const all = [...book.shelves.dish.values()];
  const labelled = all.find((dish) => dishLabel(book, dish) === typed.trim());
  const same = labelled === undefined ? all.filter(({ name }) => foldWords(name) === words) : [labelled];
  const [only, other] = same;
  if (only !== undefined && other === undefined) return { ok: true, value: only };
  if (other !== undefined) return refuse("several-so-named", `More than one dish is called ${quoted(typed)}: choose it from the list, where the section stands beside the name.`);
  const near = all.filter(({ name }) => words.split(" ").every((word) => foldWords(name).includes(word))).slice(0, 3);
  return refuse("not-found", near.length === 0 ? `No dish is called ${quoted(typed)}: choose one from the list, or put it on the menu first.` : `No dish is called just ${quoted(typed)}. Did you mean ${near.map(({ name }) => `“${name}”`).join(" or ")}?`);
}

/** What a dish is called in the list: its name, with the section where two share it. */
function dishLabel(book: Book, dish: Dish): string {
  const twice = [...book.shelves.dish.values()].filter(({ name }) => foldWords(name) === foldWords(dish.name)).length > 1;
  return twice ? `${dish.name} (${dish.section})` : dish.name;
}

export function dishLabels(book: Book): readonly string[] {
  const times = new Map<string, number>();
  for (const { name } of book.shelves.dish.values()) times.set(foldWords(name), (times.get(foldWords(name)) ?? 0) + 1);
  return [...book.shelves.dish.values()].map((dish) => (times.get(foldWords(dish.name)) === 1 ? dish.name : `${dish.name} (${dish.section})`)).sort();
}

function linesIn(form: ReadForm, name: string, book: Book, habits: Habits, problems: Problem[]): readonly Line[] {
  return form.rows(name).flatMap((row, index): readonly Line[] => {
    const answer = readLine(book, row["text"] ?? "", habits);
    if (answer.is !== "understood") {
      const sentence = answer.is === "problem" ? answer.sentence : `${answer.sentence} Write ${answer.choices.map(({ text }) => `“${text}”`).join(" or ")}.`;
      problems.push({ path: `${name}.${index}.text`, code: answer.code, sentence });
      return [];
    }
    const { of, quantity, quantityTyped } = answer.line;
    return [{ key: keyOf(row, name.slice(0, 1), index), of, quantity: { ...quantity, typed: quantityTyped.slice(0, 300) }, note: "" }];
  });
}

function keyOf(row: Values, letter: string, index: number): string {
  return (row["key"] ?? "").slice(0, 60) || `${letter}${index + 1}`;
}

export function planValues(book: Book, { name, forDay, plan }: ReadOrder, habits: Habits): { readonly values: Values; readonly dishes: readonly Values[]; readonly lines: readonly Values[]; readonly onHand: readonly Values[] } {
  return {
    values: { name, forDay: forDay ?? "", sureness: plan.sureness ?? "", way: plan.way, note: plan.note },
    dishes: plan.dishes.map(({ key, dishId, covers }) => { const dish = book.shelves.dish.get(dishId); return { key, dish: dish === undefined ? dishId : dishLabel(book, dish), covers: printNumber(toDecimal(covers), habits) }; }),
    lines: plan.lines.map((line) => lineValues(book, line, habits)),
    onHand: plan.onHand.map((line) => lineValues(book, line, habits)),
  };
}

/** Ways to be sure, as a form offers them. */
export function surenessChoices(habits: Habits): readonly { readonly value: string; readonly label: string }[] {
  return [
    { value: "", label: "The mean yield: falls short as often as not" },
    ...SURENESSES.map((level) => ({ value: level, label: `${printShare(toDecimal(exact(level)), habits, { places: 0 })} %: ${level === "0.8" ? "short one time in five" : level === "0.9" ? "short one time in ten" : level === "0.95" ? "short one time in twenty" : "short one time in a hundred"}` })),
  ];
}
