/**
 * `npx tsx tests/bench/tryout.ts`: how long a try-out takes to answer on this machine, at a group's size, from the moves to
 * the printed figures. p50 and p95 in milliseconds over many answers, each with another figure, as while somebody types.
 */
import { type Book, type Change, type Move, type MoveBody, aboutOf, basisOf, withChanges } from "@/lib/book";
import { compile } from "@/lib/cascade";
import { type Exact, exact } from "@/lib/measure";
import { tryMoves } from "@/lib/menu";
import { SIZES, type Size, dice, generateBook } from "./generate";

/** What a panel may take on the server, in milliseconds, so that 200 are kept with the pause for the typist and the way there and back. */
const LIMIT = 120;
/** A whole shelf moves most of the menu: its limit is the 200 themselves. */
const SHELF_LIMIT = 200;
const ANSWERS = 60;

const size = SIZES.find(({ name }) => name === (process.argv[2] ?? "group")) as Size;
const book = withSections(generateBook(size));
const cascade = compile(book);
if (!cascade.ok) throw new Error("expected the generated book to compile");
const costed = cascade.value;
console.log(`${size.name}: ${size.items} items, ${size.recipes} recipes, ${size.dishes} dishes`);

const roll = dice(11);
const share = (): Exact => exact((0.01 + roll(900) / 10_000).toFixed(4));
const bodies: readonly (() => MoveBody)[] = [
  () => ({ kind: "share", of: { kind: "item", id: `i${roll(200)}` }, share: share() }),
  () => ({ kind: "menu price", dishId: `d${roll(size.dishes)}`, gross: { amount: exact(String(10 + roll(40))) } }),
  () => ({ kind: "size", specId: `s${roll(size.specs)}`, size: { amount: exact(String(3 + roll(12))), unit: "oz" } }),
  () => ({ kind: "replace", itemId: `i${200 + roll(800)}`, byId: `i${1000 + roll(800)}`, from: null, until: null }),
];
const move = (body: MoveBody, at: number): Move => ({ key: `m${at}`, about: aboutOf(body, book), body, basis: basisOf(book, body), added: null });
const some = (count: number): readonly Move[] => Array.from({ length: count }, (_, at) => move((bodies[at % bodies.length] as () => MoveBody)(), at));

let failed = false;
for (const count of [1, 5, 20]) failed = !measure(`${count} ${count === 1 ? "move" : "moves"}`, () => some(count)) || failed;
failed = !measure("a whole section of 500 items", () => [move({ kind: "share", of: { kind: "section", name: "Section 3" }, share: share() }, 0)], SHELF_LIMIT) || failed;
failed = !measure("the staple that reaches most", () => [move({ kind: "share", of: { kind: "item", id: "i0" }, share: share() }, 0)]) || failed;
if (failed) process.exitCode = 1;

function measure(what: string, moves: () => readonly Move[], limit = LIMIT): boolean {
  const took: number[] = [];
  /** Time of the processor, which other work on the machine does not lengthen much. */
  const worked: number[] = [];
  let dishes = 0;
  for (let at = 0; at < ANSWERS + 5; at += 1) {
    const tried = moves();
    const start = performance.now();
    const used = process.cpuUsage();
    const answer = tryMoves(costed, tried);
    const ms = performance.now() - start;
    const { user, system } = process.cpuUsage(used);
    // The first few warm the code up.
    if (at >= 5) { took.push(ms); worked.push((user + system) / 1000); }
    dishes += answer.report?.dishes.length ?? 0;
  }
  const at = (times: readonly number[], share: number): number => [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * share))] as number;
  const told = (times: readonly number[]): string => [0.5, 0.95].map((share) => `p${share * 100} ${at(times, share).toFixed(1).padStart(6)} ms`).join("   ");
  const fits = at(took, 0.95) <= limit;
  console.log(`  ${what.padEnd(32)} ${told(took)}   processor ${told(worked)}   ${String(Math.round(dishes / (ANSWERS + 5))).padStart(5)} dishes move${fits ? "" : `   over ${limit} ms`}`);
  return fits;
}

/** The generated book with its items on twenty shelves and twelve weeks of sales. */
function withSections(generated: Book): Book {
  const sold = dice(5);
  const changes: Change[] = [...generated.shelves.item.values()].map((item, at): Change => ({ kind: "item", id: item.id, after: { ...item, section: `Section ${at % 20}` } }));
  for (let week = 0; week < 12; week += 1) {
    const id = new Date(Date.UTC(2026, 7, 31) + week * 7 * 86_400_000).toISOString().slice(0, 10);
    changes.push({ kind: "sales", id, after: { id, sold: [...generated.shelves.dish.keys()].map((dishId) => ({ dishId, count: exact(String(sold(60))) })) } });
  }
  return withChanges(generated, changes);
}
