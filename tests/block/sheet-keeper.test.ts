/** Nothing typed at the block is lost: through a cut connection, a reload, two windows, two devices, a full browser. */
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { type BlockBody, type BlockEntry, blockSheet } from "@/lib/book";
import { exact } from "@/lib/measure";
import type { SentEntry, SheetsAnswer } from "@/lib/store";
import { SheetKeeper } from "@/components/block/sheet-keeper";

/** The kitchen's book as a device sees it: keeps each entry once, numbers it, tells what is new. */
class Book {
  readonly entries: SentEntry[] = [];
  reachable = true;
  /** Takes what is sent, and then the answer gets lost. */
  losesAnswers = false;
  status = 200;
  sent = 0;
  readonly send = async (_url: string, body: string): Promise<{ status: number; json(): Promise<unknown> }> => {
    await Promise.resolve();
    if (!this.reachable) throw new Error("no connection");
    if (this.status !== 200) return { status: this.status, json: () => Promise.resolve({ sentence: "This sheet is closed." }) };
    const { since, entries } = JSON.parse(body) as { since: number; entries: BlockEntry[] };
    this.sent += 1;
    for (const entry of entries) if (!this.entries.some(({ id }) => id === entry.id)) this.entries.push({ ...entry, no: this.entries.length + 1, by: "Cook" });
    if (this.losesAnswers) throw new Error("the answer was lost");
    const answer: SheetsAnswer = { entries: this.entries.filter(({ no }) => no > since), last: this.entries.length, recordedChange: null, putAway: false };
    return { status: 200, json: () => Promise.resolve(JSON.parse(JSON.stringify(answer))) };
  };
}

class Browser {
  readonly kept = new Map<string, string>();
  full = false;
  getItem(key: string): string | null { return this.kept.get(key) ?? null; }
  setItem(key: string, text: string): void {
    if (this.full) throw new Error("the browser is full");
    this.kept.set(key, text);
  }
}

let devices = 0;
function device(book: Book, browser: Browser | null): SheetKeeper {
  devices += 1;
  const name = `device${devices}`;
  let made = 0;
  const keeper = new SheetKeeper({
    sheetId: "test-1", url: "/", start: { entries: [], last: 0, recordedChange: null, putAway: false }, storage: browser, send: book.send, now: () => Date.now(),
    randomId: () => { made += 1; return `${name}-${String(made).padStart(4, "0")}`; },
  });
  keeper.begin();
  return keeper;
}

const reading = (key: string, ounces: number): BlockBody => ({ kind: "reading", key, gross: { amount: exact(String(ounces)), unit: "oz" }, tare: null, piece: false });
const part = (key: string): BlockBody => ({ kind: "part", key, name: key, role: "discard", place: 0 });
const count = (keeper: SheetKeeper): number => keeper.kept().entries.length;

beforeEach(() => { vi.useFakeTimers({ now: Date.UTC(2026, 10, 25, 9) }); });
afterEach(() => { vi.useRealTimers(); });

test("an entry is kept in the browser before anything is sent", () => {
  const book = new Book();
  const browser = new Browser();
  book.reachable = false;
  const keeper = device(book, browser);
  keeper.add(reading("fat", 12));
  expect([...browser.kept.values()][0]).toContain('"amount":"12"');
  expect(keeper.kept().waiting).toBe(1);
});

test("through a cut connection and a reload, everything arrives once", async () => {
  const book = new Book();
  const browser = new Browser();
  const first = device(book, browser);
  first.add(part("fat"), reading("fat", 12));
  await vi.advanceTimersByTimeAsync(100);
  expect(book.entries).toHaveLength(2);
  book.reachable = false;
  first.add(reading("fat", 3));
  await vi.advanceTimersByTimeAsync(60_000);
  expect(first.kept()).toMatchObject({ connection: "away", waiting: 1 });
  first.stop();

  const again = device(book, browser);
  expect(count(again)).toBe(3);
  expect(again.kept().waiting).toBe(1);
  book.reachable = true;
  await vi.advanceTimersByTimeAsync(40_000);
  expect(again.kept()).toMatchObject({ connection: "there", waiting: 0 });
  expect(book.entries).toHaveLength(3);
  again.stop();
});

test("an answer that is lost on the way makes nothing twice", async () => {
  const book = new Book();
  const keeper = device(book, new Browser());
  book.losesAnswers = true;
  keeper.add(reading("fat", 12));
  await vi.advanceTimersByTimeAsync(20_000);
  expect(book.entries).toHaveLength(1);
  expect(keeper.kept().waiting).toBe(1);
  book.losesAnswers = false;
  await vi.advanceTimersByTimeAsync(40_000);
  expect(keeper.kept().waiting).toBe(0);
  expect(book.entries).toHaveLength(1);
  keeper.stop();
});

test("two devices see each other's parts, and one that was away too", async () => {
  const book = new Book();
  const [one, two] = [device(book, new Browser()), device(book, new Browser())];
  one.add(part("fat"), reading("fat", 12));
  two.add(part("bones"), reading("bones", 40));
  await vi.advanceTimersByTimeAsync(5_000);
  expect(blockSheet(one.kept().entries)).toEqual(blockSheet(two.kept().entries));
  expect(blockSheet(one.kept().entries).parts.map(({ key }) => key)).toEqual(["bones", "fat"]);
  one.stop();
  two.stop();
});

test("two windows of one browser keep each other's", async () => {
  const book = new Book();
  const browser = new Browser();
  book.reachable = false;
  const [one, two] = [device(book, browser), device(book, browser)];
  one.add(reading("fat", 1));
  two.add(reading("fat", 2));
  one.add(reading("fat", 3));
  one.stop();
  two.stop();
  const later = device(book, browser);
  expect(count(later)).toBe(3);
  later.stop();
  await vi.advanceTimersByTimeAsync(0);
});

test("a browser that keeps nothing is told, and the book has it all the same", async () => {
  const book = new Book();
  const browser = new Browser();
  browser.full = true;
  const keeper = device(book, browser);
  keeper.add(reading("fat", 12));
  expect(keeper.kept().keptHere).toBe(false);
  await vi.advanceTimersByTimeAsync(100);
  expect(book.entries).toHaveLength(1);
  keeper.stop();
  const nowhere = device(book, null);
  nowhere.add(reading("fat", 1));
  expect(nowhere.kept().keptHere).toBe(false);
  nowhere.stop();
});

test("somebody signed out meanwhile keeps what they typed, and it goes on when they are in again", async () => {
  const book = new Book();
  const keeper = device(book, new Browser());
  book.status = 401;
  keeper.add(reading("fat", 12));
  await vi.advanceTimersByTimeAsync(3_000);
  expect(keeper.kept()).toMatchObject({ connection: "signed out", waiting: 1 });
  book.status = 200;
  await vi.advanceTimersByTimeAsync(5_000);
  expect(keeper.kept()).toMatchObject({ connection: "there", waiting: 0 });
  keeper.stop();
});

test("what the book will not take stays on the device, and is told", async () => {
  const book = new Book();
  const keeper = device(book, new Browser());
  book.status = 409;
  keeper.add(reading("fat", 12));
  await vi.advanceTimersByTimeAsync(3_000);
  expect(keeper.kept()).toMatchObject({ refused: "This sheet is closed.", waiting: 1 });
  keeper.stop();
});

test("a clock that is set back does not put a later reading before an earlier one", () => {
  const book = new Book();
  book.reachable = false;
  const keeper = device(book, new Browser());
  keeper.add(reading("fat", 1));
  vi.setSystemTime(Date.UTC(2026, 10, 25, 8));
  keeper.add(reading("fat", 2));
  const [first, second] = keeper.kept().entries;
  expect((first?.at ?? "") < (second?.at ?? "")).toBe(true);
  keeper.stop();
});
