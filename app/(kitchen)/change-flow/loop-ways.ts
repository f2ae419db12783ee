/**
 * A change that would make something of itself through what a by-product earns: the way round in words, the ways out with
 * their figures, and the change with the way that was chosen, in which each such by-product has a transfer price of its
 * own. Server only.
 */
import { type Change, type FactOf, withChanges } from "@/lib/book";
import { type Loop, type Solved, cutLoop, lastWorths, loopOf, solveLoop } from "@/lib/buying";
import { type Checked, type Problem, type Rate, type Ratio, UNITS, bad, good, kindOf, parseRate, printDay, printMoney, printNumber, ratio } from "@/lib/measure";
import type { DatedChange, LiveBook } from "@/lib/store";
import { missingText } from "@/components/figure/Missing";
import type { LoopView } from "@/components/byproduct/loop-view";
import type { ReadForm } from "./read-form";

type Kitchen = FactOf["kitchen"];

/** What the form asks of the loop. */
interface Asked {
  readonly form: ReadForm;
  readonly live: LiveBook;
  readonly habits: Kitchen;
}

function loopIn({ live }: Pick<Asked, "live">, changes: readonly Change[]): { readonly loop: Loop; readonly book: LiveBook["book"] } | null {
  const book = withChanges(live.book, changes);
  const loop = loopOf(book, changes);
  return loop === null ? null : { loop, book };
}

/** The loop that these changes would make, for the screen; null where they make none that can be cut at a by-product. */
export function loopView(asked: Asked, changes: readonly Change[]): LoopView | null {
  const found = loopIn(asked, changes);
  if (found === null) return null;
  const { loop, book } = found;
  const solved = solveLoop(book, loop);
  const last = lastWorths(asked.live.cascade, loop);
  const { habits } = asked;
  return {
    way: loop.way.join(" → "), unsolved: solved.ok ? null : whyUnsolved(solved), chosen: asked.form.text("loop.way"),
    worths: loop.worths.map((worth, at) => {
      const own = solved.ok ? solved.x[at] : undefined;
      const before = last[at];
      return {
        label: `${worth.name}, at what ${worth.ofName} costs`, unit: worth.unit,
        last: before === null || before === undefined ? null : perUnit(ratio.fromExact(before.amount), worth.unit, habits),
        solved: own === undefined ? null : perUnit(own, worth.unit, habits),
        working: solved.ok ? workingOf(loop, solved, at, habits) : "",
      };
    }),
  };
}

/** "$3.2174 / lb": a price inside the house, to a hundredth of a cent. */
function perUnit(amount: Ratio, unit: Loop["worths"][number]["unit"], habits: Kitchen): string {
  return `${printMoney(ratio.toDecimal(amount), habits, { places: 4 })} / ${UNITS[unit].one}`;
}

function workingOf(loop: Loop, { A, b }: Solved & { readonly ok: true }, at: number, habits: Kitchen): string {
  const worth = loop.worths[at];
  if (worth === undefined) return "";
  const moves = (A[at] ?? []).flatMap((a, j): string[] => {
    const other = loop.worths[j];
    if (other === undefined || ratio.sign(a) === 0) return [];
    const size = ratio.sign(a) < 0 ? ratio.neg(a) : a;
    return [`${ratio.sign(a) < 0 ? "less" : "and"} ${printNumber(ratio.toDecimal(size).toSignificantDigits(4), habits)} of the worth of ${other.name}`];
  });
  return `${worth.ofName} costs ${perUnit(b[at] ?? ratio.ZERO, worth.unit, habits)}${moves.length > 0 ? `, ${moves.join(", ")}` : ""}`;
}

function whyUnsolved(solved: Solved & { readonly ok: false }): string {
  switch (solved.why) {
    case "does-not-settle": return "Each turn would move the worth by as much as the turn before, or more: it never comes to rest. Take one of the other two ways.";
    case "below-nothing": return "It would have to be worth nothing or less: what it goes into is already paid for by other credits. Take one of the other two ways.";
    case "another-loop": return "With the by-products cut out something is still made of itself: take that line out first.";
    case "missing": return `Something in the circle is not known: missing ${missingText(solved.missing)}.`;
  }
}

/** The changes as the form would have them, the loop in them cut in the way that was chosen; as they are where none was. */
export function cutLoops(asked: Asked, entries: readonly DatedChange[]): Checked<readonly DatedChange[]> {
  const { form, live } = asked;
  const way = form.text("loop.way");
  if (way === "") return good(entries);
  const changes = entries.map((entry) => entry.change);
  const found = loopIn(asked, changes);
  if (found === null) return good(entries);
  const { loop, book } = found;
  const prices = pricesOf(way, loop, book, asked);
  if (!prices.ok) return prices;
  const cut = cutLoop(book, loop, (_, at) => prices.value[at] as Price);
  const known = new Map(entries.map((entry) => [`${entry.change.kind}:${entry.change.id}`, entry]));
  const first = entries.map(({ validFrom }) => validFrom).sort()[0] ?? live.today;
  const said = cut.map((change): DatedChange => {
    const own = known.get(`${change.kind}:${change.id}`);
    known.delete(`${change.kind}:${change.id}`);
    return own === undefined ? { change, validFrom: first } : { ...own, change };
  });
  // What a fact refers to comes before it.
  const items = said.filter(({ change }) => change.kind === "item");
  return good([...items, ...known.values(), ...said.filter(({ change }) => change.kind !== "item")]);
}

interface Price {
  readonly kind: "market" | "fixed";
  readonly rate: Rate;
  readonly source: string;
}

function pricesOf(way: string, loop: Loop, book: LiveBook["book"], { form, live, habits }: Asked): Checked<readonly Price[]> {
  const day = printDay(live.today, habits);
  const round = loop.way.join(" → ");
  switch (way) {
    case "market": {
      const source = form.text("loop.source");
      const read = loop.worths.map(({ unit }, at) => parseRate(form.text(`loop.rate.${at}`), habits, { bare: unit, kinds: [kindOf(unit)] }));
      const problems: Problem[] = read.flatMap((one, at) => (one.ok ? [] : one.problems.map((problem) => ({ ...problem, path: `loop.rate.${at}` }))));
      if (source === "") problems.push({ path: "loop.source", code: "missing", sentence: "Say which market pays that: which report and week, or whose offer." });
      return problems.length > 0 ? { ok: false, problems } : good(read.flatMap((one): Price[] => (one.ok ? [{ kind: "market", rate: one.value, source }] : [])));
    }
    case "last": {
      const last = lastWorths(live.cascade, loop);
      return last.some((one) => one === null)
        ? bad("loop.way", "not-known", "What it last cost is not known: take one of the other ways.")
        : good(loop.worths.map(({ unit, ofName }, at) => ({ kind: "fixed", rate: rounded(ratio.fromExact(last[at]?.amount ?? ZERO), unit), source: shortened(`what ${ofName} cost on ${day}, before the circle ${round}`) })));
    }
    case "solved": {
      const solved = solveLoop(book, loop);
      return solved.ok
        ? good(loop.worths.map(({ unit }, at) => ({ kind: "fixed", rate: rounded(solved.x[at] ?? ratio.ZERO, unit), source: shortened(`worked out together (${round}) at the prices of ${day}`) })))
        : bad("loop.way", "unsolved", whyUnsolved(solved));
    }
    default: return bad("loop.way", "not-a-way", "Choose one of the ways out.");
  }
}

const ZERO = ratio.toExact(ratio.ZERO);
const PLACES = 4;

/** A price inside the house is kept to a hundredth of a cent: credit and charge are this same figure. */
function rounded(amount: Ratio, unit: Loop["worths"][number]["unit"]): Rate {
  const scale = 10n ** BigInt(PLACES);
  const whole = ratio.floor(ratio.add(ratio.mul(amount, ratio.of(scale)), ratio.of(1n, 2n)));
  return { amount: ratio.toExact(ratio.of(whole, scale)), per: unit };
}

/** A source has 200 characters: of a long way round the middle is left out. */
function shortened(text: string): string {
  return text.length <= 200 ? text : `${text.slice(0, 120)} … ${text.slice(-70)}`;
}
