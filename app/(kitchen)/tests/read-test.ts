/**
 * What the form of a yield test says, as facts: the test itself and, when it is adopted in the same step, the cut it
 * stands behind from then on. Field names are those of the schema, but for a by-product's worth, which is typed in one
 * field (`worth`) or taken from another thing (`worthOf`), and pieces, which stand in one field apart by semicolons.
 */
import { type Book, type Change, type Cut, type Origin, type TestKind, type YieldTest, lastTestOf, readFact, testDayQuestions } from "@/lib/book";
import { type Checked, type Problem, bad, good, printDay } from "@/lib/measure";
import { type DatedChange, newId } from "@/lib/store";
import type { ChangeInput } from "../change-flow/run-change";
import { priceText, rateInput } from "./sheet-props";
import { kindNamed } from "./start-of";

/** The test and the cut it is adopted for, as dated changes. */
export function readTestForm(input: ChangeInput): Checked<readonly DatedChange[]> {
  const { form, live, habits, today } = input;
  const id = form.text("id");
  const rows = form.rows("parts");
  const raw = input.seesMoney
    ? { ...form.input, id, parts: rows.map(partInput) }
    : { ...form.input, id, ...moneyOfTheHouse(live.book, habits, { id, of: originIn(form.text("of")), kind: kindIn(form.text("kind")) }, rows.map(partInput)) };
  const read = readFact("test", raw, habits);
  if (!read.ok) return { ok: false, problems: read.problems.map(onForm).map((problem) => (problem.code === "no-value" && !input.seesMoney ? { ...problem, path: problem.path.replace(/worth$/, "role"), sentence: FOR_THE_CHEF } : problem)) };
  const test = read.value;
  // When the goods came in is told by a delivery, which the book does not keep.
  const days = testDayQuestions(test.on, today, null, habits);
  if (days.length > 0) return { ok: false, problems: days };
  const replaces = form.text("replaces") === "" ? undefined : Number(form.text("replaces"));
  const recorded: DatedChange = { change: { kind: "test", id, after: test }, validFrom: test.on, ...(replaces === undefined ? {} : { replaces }) };
  return withAdoption(input, test, recorded);
}

/** A recorded test, with the cut it is adopted for in the same step where the form says so. */
export function withAdoption(input: ChangeInput, test: YieldTest, recorded: DatedChange): Checked<readonly DatedChange[]> {
  const { form, live, habits } = input;
  const adopt = form.text("adopt");
  if (adopt === "") return good([recorded]);
  const early = adoptedEarly(input, test);
  if (early !== null) return { ok: false, problems: [early] };
  const cut = adoptedCut(live.book, test, adoptionIn(form, mainFor(test, live.book.shelves.cut.get(adopt))), habits);
  return cut.ok ? good([recorded, input.dated(cut.value)]) : cut;
}

/**
 * The money of a test recorded by somebody who sees none: the dealer's price of today and what each part was worth in
 * the test being corrected or in the last one, whatever the form says. A by-product that is new is worth what nobody
 * has said yet.
 */
export function moneyOfTheHouse(
  book: Book, habits: ChangeInput["habits"], { id, of, kind }: { readonly id: string; readonly of: Origin; readonly kind: TestKind }, parts: readonly Readonly<Record<string, unknown>>[],
): { readonly price: string; readonly parts: readonly Record<string, unknown>[] } {
  const corrected = book.shelves.test.get(id);
  const model = corrected ?? lastTestOf(book, of, kind);
  const price = corrected !== undefined ? (corrected.price === null ? "" : rateInput(corrected.price)) : of.kind === "item" ? priceText(book, of.id, habits.measures === "us" ? "lb" : "kg") : "";
  return {
    price: price === "" || corrected !== undefined ? price : `${price} / ${habits.measures === "us" ? "lb" : "kg"}`,
    parts: parts.map((part) => {
      const before = model?.parts.find((one) => one.key === part["key"]) ?? model?.parts.find((one) => one.name === part["name"]);
      return {
        ...part,
        value: before === undefined || before.value === null ? null : before.value.kind === "typed" ? { kind: "typed", rate: rateInput(before.value.rate) } : before.value,
        marketValue: before?.marketValue ? rateInput(before.marketValue) : "",
        furtherCost: before?.furtherCost ? rateInput(before.furtherCost) : "",
      };
    }),
  };
}

export function originIn(text: string): Origin {
  const [kind, ...rest] = text.split(":");
  return { kind: kind === "cut" ? "cut" : "item", id: rest.join(":") };
}

export function kindIn(text: string): TestKind {
  return kindNamed(text) ?? "butcher";
}

const FOR_THE_CHEF = "What this part is worth has not been said for this house yet, and that is the chef’s to say. Call it a discard for now: it is weighed all the same, and the chef can correct it.";

/** A cut cannot stand on a test before the day the test was done. */
export function adoptedEarly({ from, habits }: Pick<ChangeInput, "from" | "habits">, test: YieldTest): Problem | null {
  return from >= test.on ? null : {
    path: "from", code: "before-the-test",
    sentence: `The test was done on ${printDay(test.on, habits)}, so a cut can stand on it from that day: choose that day or a later one.`,
  };
}

/** The part that the cut has been so far, where the test has it; else its first main part. */
function mainFor(test: YieldTest, cut: Cut | undefined): string {
  const mains = test.parts.filter((part) => part.role === "main");
  return (mains.find((part) => part.key === cut?.partKey) ?? mains[0])?.key ?? "";
}

export interface Adoption {
  /** "new", or the id of a cut. */
  readonly adopt: string;
  /** Id of the new cut. */
  readonly cutId: string;
  readonly name: string;
  /** Pooled with the tests that stand behind the cut already, or alone. */
  readonly pooled: boolean;
  readonly partKey: string;
  /** As typed; "keep" leaves what the cut says. */
  readonly repricing: string;
  readonly joint: string;
}

/** What the form says about adopting; `partKey` is the part to take where the form does not choose one. */
export function adoptionIn(form: ChangeInput["form"], partKey: string): Adoption {
  const chosen = form.text("partKey");
  return {
    adopt: form.text("adopt"), cutId: form.text("cutId"), name: form.text("adoptName"), pooled: form.text("adoptPooled") === "yes",
    partKey: chosen === "" ? partKey : chosen, repricing: form.text("repricing"), joint: form.text("joint"),
  };
}

/** The cut once this test stands behind it. */
export function adoptedCut(book: Book, test: YieldTest, adoption: Adoption, habits: ChangeInput["habits"]): Checked<Change> {
  const { adopt, repricing, joint } = adoption;
  const cut = adopt === "new" ? null : book.shelves.cut.get(adopt);
  if (cut === undefined) return bad("adopt", "not-in-the-book", "There is no such cut in the book any more: choose another.");
  const made = cut === null
    ? { id: adoption.cutId === "" ? newId("cut") : adoption.cutId, name: adoption.name, of: test.of, partKey: adoption.partKey, testIds: [test.id], repricing, joint: joint === "" ? "sales-value" : joint, specification: "" }
    : {
      ...cut, partKey: adoption.partKey, leftOut: cut.leftOut.filter(({ testId }) => testId !== test.id), testIds: adoption.pooled ? [...cut.testIds.filter((one) => one !== test.id), test.id] : [test.id],
      repricing: repricing === "keep" ? cut.repricing : repricing, joint: joint === "keep" || joint === "" ? cut.joint : joint,
    };
  const read = readFact("cut", made, habits);
  if (!read.ok) return { ok: false, problems: read.problems.map((problem) => (problem.path === "name" ? { ...problem, path: "adoptName" } : problem)) };
  return good({ kind: "cut", id: read.value.id, after: read.value });
}

function partInput(row: Readonly<Record<string, string>>): Record<string, unknown> {
  const { worth = "", worthOf = "", pieces = "", ...rest } = row;
  const [kind, ...id] = worthOf.split(":");
  const value = worthOf !== "" ? { kind, id: id.join(":") } : worth.trim() === "" ? null : { kind: "typed", rate: worth };
  return { ...rest, value, pieces: pieces.split(/[;\n]/).map((one) => one.trim()).filter((one) => one !== "") };
}

/** A problem of a part's value belongs to the field that it was typed in. */
function onForm(problem: Problem): Problem {
  return { ...problem, path: problem.path.replace(/^(parts\.\d+)\.value(?:\..*)?$/, "$1.worth") };
}
