/**
 * `npx tsx tests/bench/price-list.ts`: a dealer's list of 10,000 lines with 100 mistakes, read, judged, tried and recorded
 * at a group's size (10,000 items, 6,000 recipes, 3,000 dishes) in the embedded database, or in that of DATABASE_URL; then
 * undone. Beside each step what it took. A preview is to take at most 3 seconds and saving at most 5.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { type Change, FACT_KINDS, type Item, type Quote, kitchenOf, undoing } from "@/lib/book";
import { type ListLine, NO_CHOICES, guessLayout, itemIndex, judgeList, readLines } from "@/lib/buying";
import { readFileIn } from "@/lib/exchange";
import { exact } from "@/lib/measure";
import { type DatedChange, basedOn, makeStore, newPriceListId } from "@/lib/store";
import { openDatabase } from "@/lib/store/database";
import { SIZES, type Size, dice, generateBook } from "./generate";

const LIMIT = { preview: 3_000, save: 5_000 };
const LINES = 10_000;
const MISTAKES = 100;
const WHO = { name: "Bench" };
const size = SIZES.find(({ name }) => name === (process.argv[2] ?? "group")) as Size;

const WHAT = ["beef striploin", "pork loin", "chicken breast", "carrots", "heavy cream", "olive oil", "salmon fillet", "short ribs", "shallots", "butter", "veal shank", "duck leg", "sea bass", "basmati rice", "plum tomatoes", "parsley", "gruyere", "anchovies", "lamb rack", "white beans"];
const HOW = ["boneless", "bone in", "choice", "select", "organic", "peeled", "diced", "frozen", "smoked", "extra virgin", "unsalted", "wild", "baby", "center cut", "trimmed", "whole", "sliced", "ground", "dried", "aged"];

const folder = await mkdtemp(path.join(tmpdir(), "trimledger-list-"));
const database = await openDatabase(process.env.DATABASE_URL ? { url: process.env.DATABASE_URL } : { folder });
try {
  await measure();
} finally {
  await database.close();
  await rm(folder, { recursive: true, force: true });
}

async function measure(): Promise<void> {
  const store = makeStore(database);
  const { entries, settings, quotes } = opening();
  const kitchenId = await step("open the book", () => store.createKitchen(settings, WHO, entries, "opening"));
  await store.live(kitchenId);
  const file = Buffer.from(csvOf(quotes));
  console.log(`${LINES} lines, ${(file.length / 1e6).toFixed(1)} MB, ${MISTAKES} mistakes; ${size.items} items, ${size.recipes} recipes, ${size.dishes} dishes, ${database.kind}`);

  for (const round of ["first", "again"]) {
    const all = stopwatch();
    const read = await step(`${round}: read the file`, () => readFileIn(file, "list.csv"));
    if (!read.ok || read.value.kind !== "table") throw new Error(JSON.stringify(read).slice(0, 300));
    const { tables } = read.value;
    const live = await store.live(kitchenId);
    const kitchen = kitchenOf(live.book);
    const layout = await step("guess the layout", () => guessLayout(tables, kitchen));
    const { lines } = await step("read the lines", () => readLines(tables, layout, kitchen));
    const judged = await step("judge them", () => judgeList({ listId: "list-bench", dealerId: "d", lines, decimal: layout.decimal, choices: NO_CHOICES, book: live.book, from: live.today }));
    const tried = await step("the ripple", () => store.tryEntries(kitchenId, judged.changes.map((change) => ({ change, validFrom: live.today }))));
    if (!tried.ok) throw new Error(JSON.stringify(tried.problems.slice(0, 3)));
    const took = all();
    console.log(`  ${JSON.stringify(judged.counts)}; ${tried.value.report.dishes.length} dishes move`);
    row(`${round}: preview, in all`, took, round === "again" ? LIMIT.preview : undefined);
  }

  const live = await store.live(kitchenId);
  await step("the likeliest items of every line (names as an index finds them)", () => {
    const index = itemIndex(live.book);
    return namesOf(live.book.shelves.item).map((name) => index.likeliest(name, 5)).length;
  });

  const id = newPriceListId();
  const added = await step("keep the file", () => store.addPriceList(kitchenId, WHO, { id, dealerId: "d", fileName: "list.csv", bytes: file, layout: {}, choices: {} }));
  if (!added.ok) throw new Error(JSON.stringify(added));
  const saving = stopwatch();
  const judged = judgeAll(live.book, file, live.today);
  const heap = process.memoryUsage().rss;
  let last = performance.now();
  const made = await store.recordPriceList(kitchenId, id, {
    version: 1, choices: {}, who: WHO, why: "list.csv", entries: judged.changes.map((change) => ({ change, validFrom: live.today })), basedOn: basedOn(live, judged.changes),
    watch: (doing) => { const now = performance.now(); console.log(`    +${(now - last).toFixed(0)} ms, then ${doing}`); last = now; },
  });
  console.log(`    +${(performance.now() - last).toFixed(0)} ms`);
  if (!made.ok) throw new Error(JSON.stringify(made).slice(0, 500));
  row("save, in all", saving(), LIMIT.save);
  console.log(`  memory at most about ${((process.memoryUsage().rss - heap) / 1e6).toFixed(0)} MB more than before`);
  const entry = await step("the record's page of it", () => store.recordEntry(kitchenId, made.changeNo));
  if (entry === null) throw new Error("expected the change in the record");
  const undone = undoing(entry);
  if (!undone.ok) { console.log(`  cannot be undone: ${undone.problems[0]?.sentence}`); process.exitCode = 1; return; }
  const now = await store.live(kitchenId);
  const back = await step("undo it", () => store.commit(kitchenId, { entries: undone.value, basedOn: basedOn(now, undone.value.map(({ change }) => change)), who: WHO, why: "undo" }));
  if (!back.ok) throw new Error(JSON.stringify(back).slice(0, 500));
}

function judgeAll(book: Parameters<typeof judgeList>[0]["book"], file: Buffer, from: string): ReturnType<typeof judgeList> {
  const read = readFileIn(file, "list.csv");
  if (!read.ok || read.value.kind !== "table") throw new Error("expected a table");
  const layout = guessLayout(read.value.tables, kitchenOf(book));
  const lines: readonly ListLine[] = readLines(read.value.tables, layout, kitchenOf(book)).lines;
  return judgeList({ listId: "list-bench", dealerId: "d", lines, decimal: layout.decimal, choices: NO_CHOICES, book, from });
}

/** The generated book with names as a larder has them and an order code on every quote. */
function opening() {
  const book = generateBook(size);
  const { id: _, ...settings } = kitchenOf(book);
  const names = namesOf(book.shelves.item);
  const place = new Map([...book.shelves.item.keys()].map((id, at) => [id, at]));
  const tested = new Set([...book.shelves.test.values()].map(({ of }) => of.id));
  const worth = (quote: Quote): Quote => (tested.has(quote.itemId) ? { ...quote, per: "lb", price: { amount: Number(quote.price.amount) < 1 ? exact("1") : quote.price.amount } } : quote);
  const quotes = [...book.shelves.quote.values()].map((quote, at): Quote => ({ ...worth(quote), code: `C${100_000 + at}` }));
  const byId = new Map(quotes.map((quote) => [quote.id, quote]));
  const entries = FACT_KINDS.flatMap((kind) => kind === "kitchen" ? [] : [...(book.shelves[kind] as ReadonlyMap<string, unknown>)].map(([id, fact]): DatedChange => {
    const after = kind === "quote" ? byId.get(id) : kind === "item" ? { ...(fact as Item), name: names[place.get(id) ?? 0] } : fact;
    return { change: { kind, id, after } as Change, validFrom: "2026-01-05" };
  }));
  return { entries, settings, quotes };
}

function namesOf(items: ReadonlyMap<string, unknown>): string[] {
  const roll = dice(3);
  return [...items.keys()].map((_, at) => `${WHAT[at % WHAT.length] ?? ""} ${HOW[roll(HOW.length)] ?? ""} ${HOW[roll(HOW.length)] ?? ""} no ${at}`);
}

/** Semicolons and decimal commas; most prices moved a little, a hundred of them wrongly. */
function csvOf(quotes: readonly Quote[]): string {
  const roll = dice(17);
  const lines = quotes.slice(0, LINES).map((quote, at) => {
    const price = Number(quote.price.amount) * (0.93 + roll(140) / 1000);
    const wrong = at % Math.floor(LINES / MISTAKES) === 7;
    const typed = !wrong ? price.toFixed(2) : roll(2) === 0 ? (price * 10).toFixed(2) : "call";
    return [quote.code, `Item ${at} as the dealer calls it`, typed.replace(".", ","), quote.per === "pack" ? "CS" : "LB"].join(";");
  });
  return `Art.-Nr.;Bezeichnung;Nettopreis;Einheit\r\n${lines.join("\r\n")}\r\n`;
}

async function step<T>(what: string, work: () => T | Promise<T>): Promise<T> {
  const took = stopwatch();
  const done = await work();
  row(what, took());
  return done;
}

interface Took { readonly ms: number; readonly worked: number }

/** By the clock, and by the processor, which other work on the machine does not lengthen much. */
function stopwatch(): () => Took {
  const [begun, used] = [performance.now(), process.cpuUsage()];
  return () => {
    const { user, system } = process.cpuUsage(used);
    return { ms: performance.now() - begun, worked: (user + system) / 1000 };
  };
}

function row(what: string, { ms, worked }: Took, limit?: number): void {
  const over = limit !== undefined && ms > limit;
  if (over) process.exitCode = 1;
  console.log(`  ${what.padEnd(66)} ${ms.toFixed(0).padStart(6)} ms, processor ${worked.toFixed(0).padStart(6)}${limit === undefined ? "" : over ? `, over ${limit}` : `, of ${limit}`}`);
}
