/** Every list and sheet that can be taken away, over the demo kitchen and over one whose names are formulas. */
import { describe, expect, test } from "vitest";
import { type Change, emptyBook, kitchenOf, withChanges } from "@/lib/book";
import { compile } from "@/lib/cascade";
import { type Workbook, csvOf, xlsx } from "@/lib/exchange";
import { menuFigures } from "@/lib/menu";
import type { OpenKitchen } from "@/app/(kitchen)/open-kitchen";
import { LISTS, SHEETS } from "@/app/(kitchen)/out/out-lists";
import { readDemo } from "@/seed/read";
import { readWorkbook } from "./read-workbook";

const demo = readDemo();
const changes = demo.entries.map((entry) => entry.change);

function opened(facts: readonly Change[]): OpenKitchen {
  const book = withChanges(emptyBook({ id: "demo", ...demo.kitchen }, "2026-11-24"), facts);
  const compiled = compile(book);
  if (!compiled.ok) throw new Error("expected the book to compile");
  const entry = { changeNo: 1, at: "2026-11-24T10:00:00.000Z", by: "=Chef", why: "@why", factCount: 1, facts: [{ kind: "item", id: "i", name: "+name", revision: 1, validFrom: "2026-11-24", replaces: null, before: null, after: null }], moved: { item: 1, cut: 0, spec: 0, recipe: 0, dish: 0 }, crossings: [{ dishId: "d", name: "-dish", direction: "over" }] };
  const store = { record: () => Promise.resolve([entry]), bookAsOf: () => Promise.resolve({ ...book, on: "2026-11-01" }) };
  return { store, kitchenId: "demo", live: { book, cascade: compiled.value, today: "2026-11-24", changeNo: 1 }, kitchen: kitchenOf(book), visitor: { name: "=Chef" }, may: () => true } as unknown as OpenKitchen;
}

const plain = opened(changes);
/** The same, in which every text that somebody types begins a formula. */
const nasty = opened(changes.map((change) => JSON.parse(JSON.stringify(change), (name, value: unknown) => (typeof value === "string" && /^(?:name|section|specification|note|source|cutter|place|trim|thickness|code|lot|method|ordering|destination)$/.test(name) && value !== "" ? `=HYPERLINK("http://evil.example";"${value}")` : value)) as Change));

async function made(open: OpenKitchen, what: string, search: Readonly<Record<string, string>> = {}): Promise<Workbook> {
  const list = LISTS.flatMap(({ lists }) => lists).find((one) => one.what === what);
  if (list !== undefined) {
    const workbook = await list.workbook(open, { paper: "a4", search });
    if (workbook instanceof Response) throw new Error(await workbook.text());
    return workbook;
  }
  const sheet = SHEETS.find((one) => one.what === what)?.make(open, { paper: "a4", search });
  if (sheet === undefined || sheet instanceof Response) throw new Error(`expected a sheet ${what}`);
  return sheet.workbook;
}

const lists = LISTS.flatMap(({ lists: all }) => all.map(({ what }) => what));
const sheets: readonly (readonly [string, Readonly<Record<string, string>>])[] = [["cost-sheet", { of: "demi-glace" }], ["cost-sheet", { of: "demi-glace", make: "2" }], ["recipe-card", { of: "demi-glace" }], ["station-card", { of: "strip-steak-10" }]];
const all = [...lists.map((what) => [what, {}] as const), ...sheets];

describe.each(all)("%s %j", (what, search) => {
  test("has its rows, figures as figures, and is the same in both forms", async () => {
    const workbook = await made(plain, what, search);
    const [sheet] = workbook.sheets;
    if (sheet === undefined) throw new Error("expected a sheet");
    const heads = sheet.rows[0]?.map((cell) => (cell?.kind === "text" ? cell.text : "")) ?? [];
    if (lists.includes(what)) {
      expect(heads.every((head) => head !== "")).toBe(true);
      expect(new Set(heads).size).toBe(heads.length);
      const list = LISTS.flatMap(({ lists: of }) => of).find((one) => one.what === what);
      if ((list?.count(plain) ?? 0) > 0 && what !== "since") expect(sheet.rows.length).toBeGreaterThan(1);
    }
    const written = readWorkbook(xlsx(workbook));
    const cells = [...written.values()].flatMap((one) => [...one.values()]);
    expect(cells.filter(({ formula }) => formula !== null)).toEqual([]);
    const lines = csvOf(sheet, plain.kitchen).split("\r\n");
    if (!sheet.rows.some((row) => row.some((cell) => cell?.kind === "text" && cell.text.includes("\n")))) expect(lines).toHaveLength(sheet.rows.length + 1);
  });

  test("runs nothing, whatever things are called", async () => {
    const workbook = await made(nasty, what, search);
    const texts = [...readWorkbook(xlsx(workbook)).values()].flatMap((sheet) => [...sheet.values()].flatMap(({ text }) => text ?? []));
    expect(texts.filter((text) => /^\s*[=+@＝＋＠]/.test(text))).toEqual([]);
    const [sheet] = workbook.sheets;
    expect(sheet && /(?:^|[\r\n,;])[\s"]*=/.test(csvOf(sheet, nasty.kitchen))).toBe(false);
  });
});

test("dishes tell the figures of the menu to the digit", async () => {
  const [sheet] = (await made(plain, "dishes")).sheets;
  const heads = sheet?.rows[0]?.map((cell) => (cell?.kind === "text" ? cell.text : "")) ?? [];
  const at = (head: string): number => heads.findIndex((one) => one.startsWith(head));
  menuFigures(plain.live.cascade).forEach((figures, index) => {
    const row = sheet?.rows[index + 1];
    const number = (head: string): string | null => { const cell = row?.[at(head)]; return cell?.kind === "number" ? cell.value.toFixed() : null; };
    expect([number("Plate cost"), number("Food cost"), number("Contribution")]).toEqual([figures.plateCost.amount.toFixed(), figures.foodCost?.mul(100).toFixed() ?? null, figures.contribution?.toFixed() ?? null]);
  });
});

test("what is not there is told", () => {
  for (const { make } of SHEETS) {
    const answer = make(plain, { paper: "a4", search: { of: "nothing" } });
    expect(answer instanceof Response && answer.status).toBe(404);
  }
});
