/**
 * What can be done to by-products: change how one is passed on, make a part of a test one of the house, take the week's
 * figures over as its use, let a part be worth what it earns.
 */
"use server";
import { type Change, type Item, type PartValue, type TestPart, type YieldTest, readFact } from "@/lib/book";
import { type Checked, type Problem, bad, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { type ChangeInput, runChange } from "../change-flow/run-change";
import { allergensLike } from "./allergens-like";
import { readTransfer, transferField } from "./read-transfer";

const text = (formData: FormData, name: string): string => {
  const value = formData.get(name);
  return typeof value === "string" ? value : "";
};

/** At which price an item of the house is passed on, where it goes, how much of it is used. */
export async function passOn(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: ({ form, live, habits, today, dated }) => {
      const item = live.book.shelves.item.get(form.text("id"));
      if (item === undefined) return GONE;
      const transfer = readTransfer(form, live.book, today, item.transfer);
      const read = readItem({ ...item, dealerId: null, transfer: transfer.input }, habits, transfer.problems);
      return read.ok ? good([dated({ kind: "item", id: item.id, after: read.value })]) : read;
    },
  });
}

/** A part of a test becomes an item of its own, worth and charged what it is passed on at: from the day of the change on. */
export async function makeByProduct(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: (input): Checked<readonly DatedChange[]> => {
      const { form, live, habits, today, dated } = input;
      const transfer = readTransfer(form, live.book, today, null);
      const test = live.book.shelves.test.get(form.text("testId"));
      const kind = form.text("kind");
      const read = readItem({
        id: form.text("id"), name: form.text("name"), section: form.text("section"), specification: "", kind, dealerId: null, density: null, eachWeight: null,
        allergens: test === undefined ? null : allergensLike(live.book, test.of), transfer: transfer.input,
      }, habits, transfer.problems);
      if (!read.ok) return read;
      const parts = [...(form.text("testId") === "" ? [] : [`${form.text("testId")} ${form.text("key")}`]), ...Object.entries(form.values).flatMap(([name, value]) => (name.startsWith("also.") && value === "yes" ? [name.slice("also.".length)] : []))];
      const tests = linked(input, parts, { kind: "item", id: read.value.id });
      return tests.ok ? good([dated({ kind: "item", id: read.value.id, after: read.value }), ...tests.value.map(dated)]) : tests;
    },
    next: () => `/by-products/${encodeURIComponent(text(formData, "id"))}`,
  });
}

/** A part of a test is worth what something costs: where that goes round in a circle, the form says so and offers the ways out. */
export async function valueAt(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: (input): Checked<readonly DatedChange[]> => {
      const { form, live, dated } = input;
      const [kind, ...id] = form.text("earns").split(":");
      if ((kind !== "item" && kind !== "recipe") || !live.book.shelves[kind].has(id.join(":"))) return bad("earns", "not-in-the-book", "Choose what it is worth: an item or a recipe of the book.");
      const tests = linked(input, [form.text("part")], { kind, id: id.join(":") });
      return tests.ok ? good(tests.value.map(dated)) : { ok: false, problems: tests.problems.map((problem) => ({ ...problem, path: "part" })) };
    },
    next: () => "/by-products",
  });
}

const GONE = bad("", "not-in-the-book", "That by-product is not in the book any more: open the list again.");

/** The tests whose parts ("test key") come to be worth something, each once; every part that is named must be there. */
function linked({ live }: ChangeInput, parts: readonly string[], value: PartValue): Checked<readonly Change[]> {
  const tests = new Map<string, YieldTest>();
  for (const named of parts) {
    const space = named.indexOf(" ");
    const [id, key] = [named.slice(0, space), named.slice(space + 1)];
    const test = tests.get(id) ?? live.book.shelves.test.get(id);
    if (test === undefined || !test.parts.some((part) => part.key === key && part.role === "by-product")) return bad("", "not-in-the-book", "That part of a test is not in the book any more: open the by-products again and choose another.");
    tests.set(id, { ...test, parts: test.parts.map((part): TestPart => (part.key === key && part.role === "by-product" ? { ...part, value } : part)) });
  }
  return good([...tests.values()].map((test): Change => ({ kind: "test", id: test.id, after: test })));
}

function readItem(input: Record<string, unknown>, habits: ChangeInput["habits"], problems: readonly Problem[]): Checked<Item> {
  const read = readFact("item", input, habits);
  // What could not be found by name has been told already.
  const own = read.ok ? [] : read.problems.map((problem) => ({ ...problem, path: transferField(problem.path) })).filter(({ path }) => !problems.some((told) => told.path === path));
  const all = [...problems, ...own];
  return all.length > 0 || !read.ok ? { ok: false, problems: all } : read;
}
