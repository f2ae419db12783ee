/**
 * `npm run bench`: what costing a book takes on this machine, beside what it must not exceed. Compile, full costing, one
 * price at the median and at the greatest fan-out, shares of all prices, memory; and whether the figures agree with
 * decimal.js at 60 digits and return to the same digits when a change is undone. `npm run bench -- group` for one size.
 */
import { type Book, type Quote } from "@/lib/book";
import { decimal60 } from "@/lib/cascade/decimal-60";
import { decimalOf } from "@/lib/cascade/double-double";
import { Engine } from "@/lib/cascade/engine";
import { sayQuote } from "@/lib/cascade/rows/item";
import { Cascade } from "@/lib/cascade/cascade";
import { costRows, keyOf, rowsBelow } from "@/lib/cascade/exact";
import { advance, compile } from "@/lib/cascade";
import { exact } from "@/lib/measure";
import { SIZES, type Size, dice, generateBook } from "./generate";

interface Target { readonly compile: number; readonly memory: number | null; readonly full: number; readonly median: number; readonly greatest: number | null; readonly tenth: number }
const TARGETS: Readonly<Record<Size["name"], Target | null>> = {
  house: null,
  group: { compile: 600, memory: 60, full: 15, median: 0.04, greatest: 9, tenth: 15 },
  chain: { compile: 5000, memory: null, full: 250, median: 0.06, greatest: null, tenth: 300 },
};

const wanted = process.argv.slice(2).filter((name) => !name.startsWith("-"));
const failures: string[] = [];
for (const size of SIZES) if (wanted.length === 0 || wanted.includes(size.name)) measure(size);
if (failures.length > 0) {
  console.log(`\nNot met: ${failures.join("; ")}`);
  process.exitCode = 1;
}

function measure(size: Size): void {
  const book = generateBook(size);
  const target = TARGETS[size.name];
  console.log(`\n${size.name}: ${size.items} items, ${size.tests} tests, ${size.specs} specs, ${size.recipes} recipes, ${size.dishes} dishes`);

  // The first compile of a process warms the code up; what a running server pays is the next.
  build(book);
  const compiles = [1, 2, 3].map(() => timed(() => build(book)));
  row("compile", median(compiles.map(({ ms }) => ms)), "ms", target?.compile);
  const memory = heldBy(() => build(book));
  row("memory of the graph", memory, "MB", target?.memory ?? undefined);

  const engine = build(book);
  const { graph } = engine;
  console.log(`  ${graph.rows} rows, ${graph.users.length} lines`);
  row("full costing", median(times(30, () => engine.costAll())), "ms", target?.full);

  const before = digits(engine);
  const reach = fanOuts(engine, size.items);
  const order = [...reach].sort((a, b) => a[1] - b[1]);
  const [middle, middleReach] = order[Math.floor(order.length / 2)] as [number, number];
  const [greatest, greatestReach] = order.at(-1) as [number, number];
  row(`one price, median fan-out (${middleReach} rows)`, perPrice(engine, book, middle, 2000), "ms", target?.median);
  row(`one price, greatest fan-out (${greatestReach} rows)`, perPrice(engine, book, greatest, 60), "ms", target?.greatest ?? undefined);
  const roll = dice(7);
  for (const [share, limit] of [[0.01, undefined], [0.1, target?.tenth], [1, undefined]] as const) {
    const nodes = Array.from({ length: Math.round(size.items * share) }, () => roll(size.items));
    const distinct = [...new Set(nodes)];
    row(`${share * 100} % of prices`, perPrices(engine, book, distinct, 12), "ms", limit);
  }
  check("undone changes give the same digits", same(before, digits(engine)));
  const worst = worstAgainst60(engine, book, size.name === "chain" ? 400 : 1500);
  console.log(`  worst difference from decimal.js at 60 digits: ${worst.toExponential(1)} relative`);
  check("agrees with 60 digits to 1e-24", worst <= 1e-24);
  wholeChange(book, middle);
}

/** What a commit pays: book, cascade and ripple of one new price, through the public way in. */
function wholeChange(book: Book, item: number): void {
  const compiled = compile(book);
  if (!compiled.ok) throw new Error("expected a generated book to compile");
  let cascade = compiled.value;
  let at = 0;
  const quote = book.shelves.quote.get(`q${item}`) as Quote;
  row("one price through advance(), ripple told", median(times(40, () => {
    at += 1;
    const made = advance(cascade, [{ kind: "quote", id: quote.id, after: { ...quote, price: { amount: exact(`${10 + at}.25`) } } }]);
    if (made.ok) cascade = made.value.cascade;
  })), "ms", undefined);
}

function build(book: Book): Engine {
  const engine = Engine.of(book);
  if (!engine.ok) throw new Error("expected a generated book to compile");
  return engine.value;
}

/** New prices laid directly on items, then the old ones back: half of it is one change. */
function perPrices(engine: Engine, book: Book, items: readonly number[], rounds: number): number {
  const quotes = items.map((item) => book.shelves.quote.get(`q${item}`) as Quote);
  const dearer = quotes.map((quote) => ({ ...quote, price: { amount: exact(`${quote.price.amount}7`) } }));
  const numbers = items.map((item) => engine.graph.index.numberOf("item", `i${item}`));
  const lay = (from: readonly Quote[]) => {
    const place = new Map(numbers.map((node, at) => [node, from[at] as Quote]));
    engine.applyAs(numbers, (node, into) => sayQuote(book, place.get(node) as Quote, into));
  };
  return median(times(rounds, () => { lay(dearer); lay(quotes); })) / 2;
}

function perPrice(engine: Engine, book: Book, item: number, rounds: number): number {
  const quote = book.shelves.quote.get(`q${item}`) as Quote;
  const dearer = { ...quote, price: { amount: exact(`${quote.price.amount}7`) } };
  const node = [engine.graph.index.numberOf("item", `i${item}`)];
  const batch = 20;
  return median(times(Math.ceil(rounds / batch) + 5, () => {
    for (let at = 0; at < batch; at += 1) {
      engine.applyAs(node, (_, into) => sayQuote(book, dearer, into));
      engine.applyAs(node, (_, into) => sayQuote(book, quote, into));
    }
  })) / batch / 2;
}

/** How many rows rest on each item; of a large book, on every twentieth, so that staples and rarities count alike. */
function fanOuts(engine: Engine, items: number): ReadonlyMap<number, number> {
  const { graph } = engine;
  const stamp = new Int32Array(graph.rows).fill(-1);
  const every = items > 20_000 ? 20 : 1;
  const reach = new Map<number, number>();
  for (let item = 0; item < items; item += every) {
    const waiting = [graph.rowOf[graph.index.numberOf("item", `i${item}`)] as number];
    let reached = 0;
    for (let row = waiting.pop(); row !== undefined; row = waiting.pop()) {
      for (const user of graph.usersOf(row)) {
        if (stamp[user] === item) continue;
        stamp[user] = item;
        reached += 1;
        waiting.push(user);
      }
    }
    reach.set(item, reached);
  }
  return reach;
}

/** The largest relative difference over a sample of dishes from the same rows costed by decimal.js at 60 digits. */
function worstAgainst60(engine: Engine, book: Book, sample: number): number {
  const { graph, figures } = engine;
  const dishes = [...book.shelves.dish.keys()].slice(0, sample).map((id) => ({ kind: "dish", id }) as const);
  const judged = costRows(decimal60, rowsBelow(new Cascade(book, engine), dishes));
  let worst = 0;
  for (const dish of dishes) {
    const judge = judged.get(keyOf(dish)) ?? decimal60.zero;
    const row = graph.rowOf[graph.index.numberOf("dish", dish.id)] as number;
    const ours = decimalOf(figures.hi[row] as number, figures.lo[row] as number);
    const off = judge.minus(ours.toFixed()).div(judge).abs().toNumber();
    if (off > worst) worst = off;
  }
  return worst;
}

function digits(engine: Engine): Float64Array {
  const { hi, lo } = engine.figures;
  const all = new Float64Array(hi.length * 2);
  all.set(hi);
  all.set(lo, hi.length);
  return all;
}

function same(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((value, at) => value === b[at]);
}

function timed<T>(work: () => T): { readonly value: T; readonly ms: number } {
  const start = process.hrtime.bigint();
  const value = work();
  return { value, ms: Number(process.hrtime.bigint() - start) / 1e6 };
}

function times(rounds: number, work: () => void): number[] {
  for (let at = 0; at < 3; at += 1) work();
  return Array.from({ length: rounds }, () => timed(work).ms);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

/** What a result keeps alive, in MB: heap and typed arrays, collected before and after where the collector can be asked. */
function heldBy(make: () => unknown): number {
  const collect = (globalThis as { gc?: () => void }).gc;
  const used = (): number => {
    collect?.();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const before = used();
  const kept = make();
  const after = used();
  if (kept === undefined) throw new Error("expected something to be kept");
  return (after - before) / 1e6;
}

function row(what: string, value: number, unit: string, limit: number | undefined): void {
  const figure = value < 0.1 ? value.toPrecision(2) : value.toFixed(2);
  const met = limit === undefined ? "" : value <= limit ? `met: at most ${limit} ${unit}` : `NOT MET: at most ${limit} ${unit}`;
  if (limit !== undefined && value > limit) failures.push(`${what} ${figure} ${unit}`);
  console.log(`  ${what.padEnd(52)} ${figure.padStart(10)} ${unit}   ${met}`);
}

function check(what: string, holds: boolean): void {
  if (!holds) failures.push(what);
  console.log(`  ${what}: ${holds ? "yes" : "NO"}`);
}
