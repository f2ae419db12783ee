/** The lines of a recipe or dish as the form sends them: what each takes is a label, which is looked up in the book. */
import { type Book, type Line, findLabel, labelOf, nearLabels } from "@/lib/book";
import type { Problem } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { ReadForm } from "./change-flow/read-form";
import { quantityInput } from "./tests/sheet-props";

export function linesOf(form: ReadForm, book: Book): { readonly input: readonly unknown[]; readonly problems: Problem[] } {
  const problems: Problem[] = [];
  const input = form.rows("lines").map((row, index) => {
    const text = row["of"] ?? "";
    const of = findLabel(book, text);
    if (of === null) problems.push({ path: `lines.${index}.of`, code: "not-found", sentence: notFound(book, text) });
    return { ...row, of: of ?? { kind: "item", id: "none" } };
  });
  return { input, problems };
}

function notFound(book: Book, text: string): string {
  if (text.trim() === "") return "Say what goes in: an item, a cut, a portion or a recipe.";
  const near = nearLabels(book, text);
  const shown = text.length > 60 ? `${text.slice(0, 60)}…` : text;
  return near.length === 0 ? `Nothing in the book is called “${shown}”: choose from the list, or add it to the items first.` : `Nothing in the book is called “${shown}”. Did you mean ${near.map((label) => `“${label}”`).join(" or ")}?`;
}

export function lineValues(book: Book, line: Line): Values {
  return { key: line.key, of: labelOf(book, line.of), quantity: quantityInput(line.quantity), note: line.note };
}
