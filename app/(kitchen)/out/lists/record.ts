/** The record and what moved the menu, as files. */
import { factName, isDay } from "@/lib/book";
import { compile } from "@/lib/cascade";
import { dayCell, listWorkbook, numberCell } from "@/lib/exchange";
import { Decimal } from "@/lib/measure";
import { changesBetween, crossings, factsSince, lastWeeks } from "@/lib/menu";
import type { RecordEntry } from "@/lib/store";
import { KIND_WORD } from "../../change-flow/fact-words";
import type { OpenKitchen } from "../../open-kitchen";
import { saySheet } from "../../sheet-answer";
import type { OutList } from "../out-lists";
import { words } from "./cells";

/** Changes that one file tells; the whole kitchen's file tells them all. */
const MOST_CHANGES = 10_000;
const A_PAGE = 500;

async function changes({ store, kitchenId }: OpenKitchen): Promise<readonly RecordEntry[]> {
  const found: RecordEntry[] = [];
  for (let before: number | undefined; found.length < MOST_CHANGES;) {
    const page = await store.record(kitchenId, { limit: A_PAGE, before });
    found.push(...page);
    if (page.length < A_PAGE) break;
    before = page.at(-1)?.changeNo;
  }
  return found;
}

const count = (value: number) => numberCell(new Decimal(value), 0);
const NAMED = 12;

export const record: OutList = {
  what: "record", title: "Record", holds: `every change (the newest ${MOST_CHANGES.toLocaleString("en")}): when, by whom, why, of what, what moved and what crossed its target`,
  count: ({ live }) => live.changeNo,
  workbook: async (open, { paper }) => listWorkbook<RecordEntry>({
    title: "Record", paper, rows: await changes(open),
    columns: [
      { head: "Change", of: ({ changeNo }) => count(changeNo) }, words("When (UTC)", ({ at }) => at.replace("T", " ").replace(/\.\d+Z$/, ""), 20), words("By", ({ by }) => by, 20), words("Why", ({ why }) => why, 40),
      { head: "Facts", of: ({ factCount }) => count(factCount) },
      words("What changed", ({ facts, factCount }) => `${facts.slice(0, NAMED).map(({ name, kind, before, after, replaces }) => `${name} (${KIND_WORD[kind]}${after === null ? ", taken off" : before === null ? ", new" : replaces === null ? "" : ", corrected"})`).join("; ")}${factCount > NAMED ? `; and ${factCount - NAMED} more` : ""}`, 60),
      { head: "Applies from", of: ({ facts }) => dayCell(facts.map(({ validFrom }) => validFrom).sort()[0]) },
      { head: "Costs moved", of: ({ moved }) => count(Object.values(moved).reduce((sum, n) => sum + n, 0)) }, { head: "Dishes moved", of: ({ moved }) => count(moved.dish) },
      words("Crossed over target", (entry) => entry.crossings.filter(({ direction }) => direction === "over").map(({ name }) => name).join(", "), 30),
      words("Back under", (entry) => entry.crossings.filter(({ direction }) => direction !== "over").map(({ name }) => name).join(", "), 30),
    ],
  }),
};

/** More than are worked out one by one (app/(kitchen)/since). */
const MOST_FACTS = 60;

export const since: OutList = {
  what: "since", title: "Since a day", holds: "what changed since a day (four weeks ago, or ?from=2026-11-01), and how far each by itself moved the menu’s food cost",
  count: () => null,
  workbook: async ({ store, kitchenId, live }, { paper, search }) => {
    const from = search["from"] ?? new Date(Date.parse(`${live.today}T00:00:00Z`) - 28 * 86_400_000).toISOString().slice(0, 10);
    if (!isDay(from) || from >= live.today) return saySheet(400, "Give a day gone by, such as ?from=2026-11-01.");
    const then = compile(await store.bookAsOf(kitchenId, { on: from }));
    if (!then.ok) return saySheet(422, "The book of that day cannot be costed. Choose another.");
    const changed = changesBetween(then.value.book, live.book).filter(({ kind }) => kind !== "sales");
    const now = { cascade: live.cascade, weeks: lastWeeks(live.book.shelves.sales.values(), live.today) };
    const points = new Map(changed.length > MOST_FACTS ? [] : factsSince(then.value.book, now, changed).map((fact) => [`${fact.change.kind}:${fact.change.id}`, fact.points]));
    const crossed = new Map(crossings(then.value, live.cascade).map(({ dishId, direction }) => [dishId, direction === "over" ? "crossed over target" : "came back under"]));
    return listWorkbook<(typeof changed)[number]>({
      title: `Since ${from}`, paper, rows: changed,
      columns: [
        words("What changed", ({ kind, id }) => factName(live.book.shelves[kind].has(id) ? live.book : then.value.book, kind, id), 40), words("Is a", ({ kind }) => KIND_WORD[kind], 16), words("How", ({ kind, id, after }) => (after === null ? "taken off" : then.value.book.shelves[kind].has(id) ? "changed" : "new"), 12),
        { head: "Points of the menu’s food cost", of: ({ kind, id }) => numberCell(points.get(`${kind}:${id}`)?.mul(100), 2) }, words("Target", ({ kind, id }) => (kind === "dish" || kind === "menuPrice" ? crossed.get(id) : ""), 20),
        { head: "Since", of: ({ kind, id }) => dayCell(live.book.provenance.get(`${kind}:${id}`)?.validFrom) }, words("By", ({ kind, id }) => live.book.provenance.get(`${kind}:${id}`)?.by), words("Why", ({ kind, id }) => live.book.provenance.get(`${kind}:${id}`)?.why, 30), words("Id", ({ id }) => id, 24),
      ],
    });
  },
};
