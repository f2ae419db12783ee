/**
 * The lines of a recipe or dish as a form sends them: one text ("2 1/4 cup heavy cream"), or a quantity and a label of
 * what it takes, which is looked up in the book.
 */
import { type Book, type Line, type LineAnswer, type LineChoice, TAKEN_AS, findLabel, lineAnswers, lineSaid, lineText, nearLabels, readLine } from "@/lib/book";
import type { Habits, Problem } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { LineChoiceView, LineView } from "@/components/form/line-view";
import type { ReadForm } from "./change-flow/read-form";

/** So many fit below a field. */
const BELOW_THE_FIELD = 12;
const NOTHING: Line["of"] = { kind: "item", id: "none" };

export function linesOf(form: ReadForm, book: Book, habits: Habits): { readonly input: readonly unknown[]; readonly problems: Problem[] } {
  const problems: Problem[] = [];
  const input = form.rows("lines").map(({ text, ...row }, index) => {
    if (text !== undefined && row["of"] === undefined) {
      const answer = readLine(book, text, habits);
      if (answer.is === "understood") return { ...row, of: answer.line.of, quantity: answer.line.quantityTyped };
      problems.push({ path: `lines.${index}.text`, code: answer.code, sentence: inFull(answer) });
      // Stands in for it, so that the other lines are looked at too.
      return { ...row, of: NOTHING, quantity: "1 each" };
    }
    const label = row["of"] ?? "";
    const of = findLabel(book, label);
    if (of === null) problems.push({ path: `lines.${index}.of`, code: "not-found", sentence: notFound(book, label) });
    return { ...row, of: of ?? NOTHING };
  });
  return { input, problems };
}

/** Without a script there are no buttons for the choices: the sentence names them. */
function inFull(answer: Exclude<LineAnswer, { readonly is: "understood" }>): string {
  if (answer.is === "problem") return answer.sentence;
  return `${answer.sentence} Write ${answer.choices.map(({ text }) => `“${text}”`).join(" or ")}.`;
}

function notFound(book: Book, text: string): string {
  if (text.trim() === "") return "Say what goes in: an item, a cut, a portion or a recipe.";
  const near = nearLabels(book, text);
  const shown = text.length > 60 ? `${text.slice(0, 60)}…` : text;
  return near.length === 0 ? `Nothing in the book is called “${shown}”: choose from the list, or add it to the items first.` : `Nothing in the book is called “${shown}”. Did you mean ${near.map((label) => `“${label}”`).join(" or ")}?`;
}

/** A line as its row of the form starts; `says` is what its field says before anything is typed, and is not sent. */
export function lineValues(book: Book, line: Line, habits: Habits): Values {
  return { key: line.key, text: lineText(book, line, habits), says: lineSaid(book, line, habits), note: line.note };
}

/** How a line reads while it is typed. */
export function lineView(book: Book, text: string, habits: Habits): LineView {
  const answer = readLine(book, text, habits);
  const view = ({ text: full, of }: LineChoice): LineChoiceView => ({ text: full, as: TAKEN_AS[of.kind] });
  return {
    echo: answer.is === "understood" ? lineSaid(book, answer.line, habits) : null,
    sentence: answer.is === "understood" ? null : answer.sentence,
    choices: answer.is === "question" ? answer.choices.map(view) : [],
    answers: text.trim() === "" ? [] : lineAnswers(book, text, habits, BELOW_THE_FIELD).map(view),
  };
}
