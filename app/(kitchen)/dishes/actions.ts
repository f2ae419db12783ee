/** What can be done to dishes: put one together, price it, take it off the menu. */
"use server";
import { type Dish, readFact } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";
import { allowancesOf, atAllowances } from "../read-allowances";
import { linesOf } from "../read-lines";

const pageOf = (formData: FormData) => (): string => `/dishes/${encodeURIComponent(String(formData.get("id") ?? ""))}`;

/** The plate; and, where the form has a price (a new dish), the price with it. */
export async function saveDish(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change dishes and menu prices",
    read: ({ form, live, habits, dated }): Checked<readonly DatedChange[]> => {
      const lines = linesOf(form, live.book, habits);
      const before = live.book.shelves.dish.get(form.text("id"));
      const dish = readFact("dish", { ...form.input, lines: lines.input.map((line) => kept(line, before)), allowances: "allowances" in form.input ? allowancesOf(form) : before?.allowances ?? [] }, habits);
      const problems = [...lines.problems, ...(dish.ok ? [] : atAllowances(dish.problems))];
      const priced = form.text("gross") !== "";
      const price = priced ? readFact("menuPrice", { id: form.text("id"), gross: form.text("gross"), taxRate: "", target: form.text("target") }, habits) : null;
      if (price !== null && !price.ok) problems.push(...price.problems);
      if (problems.length > 0 || !dish.ok) return { ok: false, problems };
      return good([
        dated({ kind: "dish", id: dish.value.id, after: dish.value }),
        ...(price?.ok ? [dated({ kind: "menuPrice", id: price.value.id, after: price.value })] : []),
      ]);
    },
    next: pageOf(formData),
  });
}

/** What a form leaves unsaid about a line that the dish has already stays as it was: its part on the plate, which way it goes, its note. */
function kept(line: unknown, before: Dish | undefined): unknown {
  const { key } = line as { readonly key?: string };
  const was = before?.lines.find((one) => one.key === key);
  return was === undefined ? line : { role: was.role, channel: was.channel, note: was.note, ...(line as object) };
}

export async function priceDish(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change dishes and menu prices",
    read: ({ form, habits, dated }) => {
      const price = readFact("menuPrice", form.input, habits);
      return price.ok ? good([dated({ kind: "menuPrice", id: price.value.id, after: price.value })]) : price;
    },
    next: pageOf(formData),
  });
}

export async function withdrawDish(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change dishes and menu prices",
    read: ({ form, live, dated }) => {
      const id = form.text("id");
      return good([dated({ kind: "dish", id, after: null }), ...(live.book.shelves.menuPrice.has(id) ? [dated({ kind: "menuPrice", id, after: null })] : [])]);
    },
    next: () => "/dishes",
  });
}
