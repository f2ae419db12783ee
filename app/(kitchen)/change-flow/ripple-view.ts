/**
 * A ripple report put into words and printed figures for the screen (components/change/Ripple.tsx). Nothing is costed
 * here: figures come exact from lib/menu and leave as text. Where a move is smaller than a cent, as many places are
 * printed as it takes to tell before from after.
 */
import { type FactOf, factKey } from "@/lib/book";
import type { Moved, NodeCost } from "@/lib/cascade";
import { type Decimal, type Unit, customaryUnit, moneyFigure, moneyPlaces, oneOf, perUnit, printDay, printMoney, printPoints, printShare } from "@/lib/measure";
import type { DishFigures, DishMove, RippleReport } from "@/lib/menu";
import type { DatedChange, LiveBook } from "@/lib/store";
import type { ChainView, DishMoveView, MovedView, RippleView } from "@/components/change/state";
import { borrowedText } from "@/components/figure/Borrowed";
import { figureHref } from "@/components/figure/Figure";
import { missingText } from "@/components/figure/Missing";

type Kitchen = FactOf["kitchen"];

/** The most dishes told one by one; a change of tax may move thousands. */
const MOST_DISHES = 200;
const MOST_MOVED = 200;

export function rippleView(report: RippleReport, kitchen: Kitchen, when: string | null = null): RippleView {
  return {
    crossing: crossingSentence(report),
    adverse: report.crossings.some((crossing) => crossing.direction === "over"),
    rest: restSentence(report, kitchen),
    when,
    chain: [
      chainOf("Prices of items", report.stands.items, kitchen),
      chainOf("Cuts", report.stands.cuts, kitchen),
      chainOf("Portion specs", report.stands.specs, kitchen),
      chainOf("Recipes", report.stands.recipes, kitchen),
    ].filter((section) => section.rows.length > 0),
    dishes: report.dishes.slice(0, MOST_DISHES).map((move) => dishMove(move, kitchen)),
    dishesMore: Math.max(0, report.dishes.length - MOST_DISHES),
    currency: currencySign(kitchen),
  };
}

/** "2 dishes cross over target. 1 dish comes back under." null when none crosses. */
export function crossingSentence(report: Pick<RippleReport, "crossings">): string | null {
  const over = report.crossings.filter((crossing) => crossing.direction === "over").length;
  const back = report.crossings.length - over;
  const sentences = [
    over > 0 ? `${dishes(over)} ${over === 1 ? "crosses" : "cross"} over target.` : "",
    back > 0 ? `${dishes(back)} ${back === 1 ? "comes" : "come"} back under target.` : "",
  ].filter(Boolean);
  return sentences.length === 0 ? null : sentences.join(" ");
}

export function restSentence(report: RippleReport, kitchen: Kitchen): string {
  const moves = report.dishes.length;
  const parts: string[] = [];
  if (moves === 0) {
    parts.push(report.unmoved === 0 ? "No dish depends on it yet." : `No dish moves${report.unmoved === 1 ? "." : `; all ${report.unmoved} stay as they are.`}`);
  } else {
    if (report.crossings.length === 0) parts.push("No dish crosses its target.");
    parts.push(`${dishes(moves)} ${moves === 1 ? "moves" : "move"}${report.unmoved === 0 ? "." : `, ${report.unmoved} ${report.unmoved === 1 ? "does" : "do"} not.`}`);
  }
  const weeks = report.usualWeek.weeks;
  if (moves > 0 && report.moneyAWeek !== null && !report.moneyAWeek.isZero()) {
    parts.push(`At the sales of the last ${weeks === 1 ? "week" : `${weeks} weeks`} the food costs ${aWeek(report.moneyAWeek, kitchen)} a week ${report.moneyAWeek.gt(0) ? "more" : "less"}.`);
  }
  if (moves > 0 && report.takingsAWeek !== null && !report.takingsAWeek.isZero()) {
    parts.push(`The new prices bring ${aWeek(report.takingsAWeek, kitchen)} a week ${report.takingsAWeek.gt(0) ? "more" : "less"}, if guests order as before.`);
  }
  return parts.join(" ");
}

export function aWeek(amount: Decimal, kitchen: Kitchen): string {
  const size = amount.abs();
  return size.lt(1) ? printMoney(size, kitchen) : printMoney(size, kitchen, { places: 0 });
}

function dishes(count: number): string {
  return count === 1 ? "1 dish" : `${count} dishes`;
}

/** What is told of a ripple to somebody who sees no money: only when it applies. */
export function rippleWithoutMoney(when: string | null): RippleView {
  return { crossing: null, adverse: false, rest: "What it does to the costs is worked out for those who see them.", when, chain: [], dishes: [], dishesMore: 0, currency: "" };
}

function chainOf(title: string, moved: readonly Moved[], kitchen: Kitchen): ChainView {
  return { title, rows: moved.slice(0, MOST_MOVED).map((one) => movedView(one, kitchen)) };
}

function movedView(moved: Moved, kitchen: Kitchen): MovedView {
  const print = (cost: NodeCost, places: number): { figure: string; unit: string } => printNodeCost(cost, kitchen, places);
  const { before, after, unit } = apart(moved.before, moved.after, print, kitchen);
  const missing = moved.after?.missing ?? [];
  return {
    key: `${moved.ref.kind}:${moved.ref.id}`,
    name: moved.name,
    href: figureHref(moved.ref),
    before,
    after,
    unit,
    missing: missing.length === 0 ? null : `missing ${missingText(missing)}`,
    borrowed: borrowedWords(moved.before, moved.after),
  };
}

/** Whether a cost rests on borrowed yields after a move, or did before it: "on a borrowed yield of X", "no longer on …"; null where it never did. */
function borrowedWords(before: NodeCost | null, after: NodeCost | null): string | null {
  const was = before?.borrowed ?? [];
  const is = after?.borrowed ?? [];
  if (is.length > 0) return `on a borrowed yield of ${borrowedText(is)}`;
  return was.length > 0 && after !== null ? `no longer on a borrowed yield of ${borrowedText(was)}` : null;
}

/** A cost in the unit in which the kitchen speaks of it: $/lb, $ each, $ a portion. */
export function printNodeCost(cost: NodeCost, kitchen: Kitchen, places?: number): { figure: string; unit: string } {
  switch (cost.per) {
    case "g": return unitCost(cost, customaryUnit("mass", kitchen), kitchen, places);
    case "mL": return unitCost(cost, customaryUnit("volume", kitchen), kitchen, places);
    case "each": return unitCost(cost, "each", kitchen, places);
    case "portion": return { figure: moneyFigure(cost.amount, kitchen, { places }), unit: `${currencySign(kitchen)} a portion` };
    case "batch": return { figure: moneyFigure(cost.amount, kitchen, { places }), unit: `${currencySign(kitchen)} a batch` };
    case "plate": return { figure: moneyFigure(cost.amount, kitchen, { places }), unit: `${currencySign(kitchen)} a plate` };
  }
}

function unitCost(cost: NodeCost, unit: Unit, kitchen: Kitchen, places: number | undefined): { figure: string; unit: string } {
  return { figure: moneyFigure(perUnit(cost.amount, unit), kitchen, { places }), unit: unit === "each" ? `${currencySign(kitchen)} each` : `${currencySign(kitchen)}/${unit}` };
}

/** A cost in a sentence: "$15.26 a pound", "$9.75 a portion". */
export function costText(cost: NodeCost, kitchen: Kitchen): string {
  const { per, amount } = cost;
  if (per !== "g" && per !== "mL" && per !== "each") return `${printMoney(amount, kitchen)} a ${per}`;
  const unit = customaryUnit(per === "g" ? "mass" : per === "mL" ? "volume" : "count", kitchen);
  return `${printMoney(perUnit(amount, unit), kitchen)} ${per === "each" ? "each" : oneOf(unit)}`;
}

/** The kitchen's sign of money, "$". */
export function currencySign({ locale, currency }: Pick<Kitchen, "locale" | "currency">): string {
  const key = `${locale} ${currency}`;
  let sign = signs.get(key);
  if (sign === undefined) {
    const parts = new Intl.NumberFormat(locale, { style: "currency", currency, currencyDisplay: "narrowSymbol" }).formatToParts(0);
    signs.set(key, sign = parts.find((part) => part.type === "currency")?.value ?? currency);
  }
  return sign;
}

/** Asked for every row of a list, and making a format takes longer than all the rest of the row. */
const signs = new Map<string, string>();

/** Both sides printed alike, with as many places as it takes to tell them apart (at most four more). */
function apart(
  was: NodeCost | null, is: NodeCost | null, print: (cost: NodeCost, places: number) => { figure: string; unit: string }, kitchen: Kitchen,
): { before: string | null; after: string | null; unit: string } {
  const least = moneyPlaces(kitchen.currency);
  for (let places = least; ; places += 1) {
    const before = was && print(was, places);
    const after = is && print(is, places);
    const alike = before !== null && after !== null && before.figure === after.figure && !was?.amount.eq(is?.amount ?? 0);
    if (!alike || places >= least + 4) return { before: before?.figure ?? null, after: after?.figure ?? null, unit: (after ?? before)?.unit ?? "" };
  }
}

export function dishMove(move: DishMove, kitchen: Kitchen): DishMoveView {
  const { before, after } = move;
  const plate = apart(before?.plateCost ?? null, after?.plateCost ?? null, (cost, places) => ({ figure: moneyFigure(cost.amount, kitchen, { places }), unit: "" }), kitchen);
  const gross = (figures: DishFigures | null): string | null => (figures?.gross ? moneyFigure(figures.gross, kitchen) : null);
  const share = (figures: DishFigures | null): string | null => (figures?.foodCost ? printShare(figures.foodCost, kitchen) : null);
  const priceMoved = gross(before) !== gross(after);
  return {
    id: move.dishId,
    name: move.name,
    href: after ? `/dishes/${encodeURIComponent(move.dishId)}` : `/record`,
    crossing: move.crossing === "over" ? "crosses over" : move.crossing,
    over: after?.state === "over",
    plate: { before: plate.before, after: plate.after },
    menuPrice: priceMoved ? { before: gross(before), after: gross(after) } : null,
    foodCost: { before: share(before), after: share(after) },
    gauge: {
      was: before ? pointsOff(before) : null,
      now: after ? pointsOff(after) : null,
      state: after?.state ?? "unpriced",
      label: gaugeLabel(before, after, kitchen),
    },
    words: [moveWords(move, kitchen), borrowedWords(before?.plateCost ?? null, after?.plateCost ?? null) ?? ""].filter(Boolean).join("; "),
  };
}

/** How far a dish stands from its target, in points, for drawing. */
export function pointsOff(figures: DishFigures): number | null {
  return figures.foodCost === null ? null : figures.foodCost.minus(figures.target).mul(100).toNumber();
}

/** "32.5 % against a target of 30 %". */
export function gaugeLabel(before: DishFigures | null, after: DishFigures | null, kitchen: Kitchen): string {
  const now = after ?? before;
  if (!now || now.foodCost === null) return "No menu price, so no food cost";
  const was = before?.foodCost && after ? `from ${printShare(before.foodCost, kitchen)} % to ` : "";
  return `${was}${printShare(now.foodCost, kitchen)} % against a target of ${targetText(now, kitchen)}`;
}

/** A target, without decimals that say nothing: "30 %". */
export function targetText(figures: Pick<DishFigures, "target">, kitchen: Kitchen): string {
  const whole = figures.target.mul(100).isInteger();
  return `${printShare(figures.target, kitchen, whole ? { places: 0 } : {})} %`;
}

/** "up 1.6 points"; for a move that is one. */
export function pointsMoved(points: Decimal, kitchen: Kitchen): string {
  const size = printPoints(points, kitchen);
  return `${points.gt(0) ? "up" : "down"} ${size} ${size === "1" || size === "1.0" ? "point" : "points"}`;
}

function moveWords(move: DishMove, kitchen: Kitchen): string {
  const { before, after, points } = move;
  if (after === null) return "off the menu";
  const target = targetText(after, kitchen);
  const stands: Record<DishFigures["state"], string> = {
    over: before?.state === "over" ? `still over ${target}` : `now over ${target}`,
    near: before?.state === "over" ? `back under ${target}, near it` : `near ${target}`,
    under: before?.state === "over" ? `now back under ${target}` : `under ${target}`,
    unpriced: "no menu price",
    incomplete: `a lower bound, missing ${missingText(after.plateCost.missing)}`,
  };
  const targetMoved = before !== null && !before.target.eq(after.target) ? `target ${targetText(before, kitchen)} before, ` : "";
  if (before === null) return `new, ${stands[after.state]}`;
  if (points === null) return `${targetMoved}${stands[after.state]}`;
  const moved = points.isZero() ? "" : `${pointsMoved(points, kitchen)}, `;
  return `${moved}${targetMoved}${stands[after.state]}`;
}

/** Words for a change that applies on another day than today. */
export function whenWords(entries: readonly DatedChange[], live: LiveBook, kitchen: Kitchen, at: "tried" | "recorded"): string | null {
  const days = [...new Set(entries.map((entry) => entry.validFrom))].filter((day) => day !== live.today).sort();
  const first = days[0];
  if (first === undefined) return null;
  const day = printDay(first, kitchen);
  if (first > live.today) return at === "tried" ? `Told as if it applied today; it will apply from ${day}.` : `It will apply by itself from ${day}.`;
  const since = entries.map(({ change }) => live.book.provenance.get(factKey(change.kind, change.id))?.validFrom ?? "").filter((newer) => newer > first).sort()[0];
  if (since !== undefined) return `It ${at === "tried" ? "would apply" : "applies"} from ${day}; what stands today applies from ${printDay(since, kitchen)}, so today’s costs stay as they are.`;
  return `It applies from ${day}; the figures are today’s.`;
}
