/** Make or buy put into words and printed figures, for the screen and for the memo. Nothing is reckoned here. */
import type { Basis, BreakEven, BreakEvenOf, Made, MadeCost, MakeOrBuy } from "@/lib/buying";
import type { PortionSpec } from "@/lib/book";
import { Decimal, type Ratio, UNITS, customaryUnit, oneOf, perUnit, printDay, printMoney, printNumber, printShare, quantityText, rateText, ratio } from "@/lib/measure";
import type { MemoBreakEven, MemoLine, MemoView } from "@/components/make-or-buy/memo-view";
import type { OpenKitchen } from "../../../open-kitchen";
import type { AskedMake } from "./asked";

type Kitchen = OpenKitchen["kitchen"];

export interface MemoMade {
  readonly made: Made;
  readonly itemName: string;
  readonly itemKind: "mass" | "volume" | "count";
  readonly cutName: string;
  readonly boughtName: string;
  readonly perPortion: Ratio;
  readonly found: MakeOrBuy;
}

const money = (amount: Ratio | Decimal, kitchen: Kitchen): string => printMoney(amount instanceof Decimal ? amount : ratio.toDecimal(amount), kitchen);
const figures = (value: Ratio, kitchen: Kitchen): string => printNumber(ratio.toDecimal(value), kitchen, { places: value.d === 1n ? 0 : 1 });

/** "Cut in the house it is $0.40 a portion cheaper, $40.00 a week." */
function verdict({ saves, savesAWeek }: MadeCost, kitchen: Kitchen): string {
  const side = ratio.sign(saves);
  if (side === 0) return "both cost the same to the last digit";
  const size = side < 0 ? ratio.neg(saves) : saves;
  const week = savesAWeek === null ? "" : `, ${money(side < 0 ? ratio.neg(savesAWeek) : savesAWeek, kitchen)} a week`;
  return `${side > 0 ? "cutting in the house" : "buying it cut"} is ${money(size, kitchen)} a portion cheaper${week}`;
}

export function verdicts({ cost }: MakeOrBuy, asked: AskedMake, kitchen: Kitchen): string {
  const [cash, full] = [verdict(cost.cash, kitchen), verdict(cost.full, kitchen)];
  const guess = labourTold(asked) ? "" : " The time is not told, so the full cost in the house is at least what stands here.";
  return cash === full ? `By cash that can be avoided and by full cost, ${cash}.${guess}` : `By cash that can be avoided, ${cash}; by full cost, ${full}.${guess}`;
}

function labourTold({ told }: AskedMake): boolean {
  return told.has("minutes") && told.has("hourly");
}

export function memoView({ live, kitchen, visitor }: OpenKitchen, spec: PortionSpec, asked: AskedMake, { made, itemName, itemKind, cutName, boughtName, perPortion, found }: MemoMade): MemoView {
  const { cost, breakEvens } = found;
  const unit = customaryUnit(itemKind, kitchen);
  const row = (key: keyof MadeCost, name: string): MemoLine => ({ key, name, cash: money(cost.cash[key] ?? ratio.ZERO, kitchen), full: money(cost.full[key] ?? ratio.ZERO, kitchen), sum: false });
  const shown = (key: "byProducts" | "ends" | "fixed"): boolean => ratio.sign(cost.full[key]) !== 0;
  const week = cost.full.savesAWeek;
  const difference = (one: MadeCost): string => { const side = ratio.sign(one.saves); return side === 0 ? "the same" : `${money(side < 0 ? ratio.neg(one.saves) : one.saves, kitchen)} for ${side > 0 ? "the house" : "buying"}`; };
  const aWeek = (one: MadeCost): string => { const value = one.savesAWeek ?? ratio.ZERO; const side = ratio.sign(value); return side === 0 ? "the same" : `${money(side < 0 ? ratio.neg(value) : value, kitchen)} for ${side > 0 ? "the house" : "buying"}`; };
  const least = labourTold(asked) ? "" : "at least ";
  return {
    title: `${spec.name}: make or buy`,
    lines: `${kitchen.name} · ${printDay(live.today, kitchen)} · ${visitor.name}`,
    says: verdicts(found, asked, kitchen),
    costs: [
      row("goods", `Goods: ${itemName} at ${money(perUnit(ratio.toDecimal(made.price), unit), kitchen)} ${oneOf(unit)}, at the door`),
      ...(shown("byProducts") ? [row("byProducts", "Less by-products, as far as they are used")] : []),
      ...(shown("ends") ? [row("ends", "Less what an end is worth")] : []),
      { ...row("labour", "Work"), full: labourTold(asked) ? money(cost.full.labour, kitchen) : "not told", cash: asked.asked.hoursCanBeCut ? money(cost.cash.labour, kitchen) : "not counted" },
      row("wrap", "Wrap and disposal"),
      ...(ratio.sign(asked.asked.fixed) > 0 ? [{ ...row("fixed", "A portion’s share of the week’s fixed cost"), cash: asked.asked.fixedAvoidable ? money(cost.cash.fixed, kitchen) : "not counted" }] : []),
      { key: "total", name: "A portion cut in the house", cash: money(cost.cash.total, kitchen), full: `${least}${money(cost.full.total, kitchen)}`, sum: true },
      { key: "bought", name: `A portion bought cut: ${boughtName}`, cash: money(perPortion, kitchen), full: money(perPortion, kitchen), sum: false },
      { key: "saves", name: "Apart, a portion", cash: difference(cost.cash), full: difference(cost.full), sum: false },
      ...(week === null ? [] : [{ key: "week", name: `Apart, a week of ${figures(asked.asked.volume ?? ratio.ZERO, kitchen)}`, cash: aWeek(cost.cash), full: aWeek(cost.full), sum: false }]),
    ],
    breakEvens: BREAK_EVENS.map(({ of, name, note }): MemoBreakEven => ({
      key: of, name: name(itemName), note, now: nowText(of, made, asked, perPortion, unit, kitchen),
      cash: evenText(of, breakEvens, "cash", perPortion, asked, unit, kitchen), full: evenText(of, breakEvens, "full", perPortion, asked, unit, kitchen),
    })),
    assumptions: assumptions(spec, asked, made, cutName, kitchen),
    cautions: CAUTIONS,
    printed: `Printed ${printDay(live.today, kitchen)} by ${visitor.name}`,
  };
}

const BREAK_EVENS: readonly { readonly of: BreakEvenOf; readonly name: (item: string) => string; readonly note: string }[] = [
  { of: "bought", name: () => "What a bought portion may cost", note: "Buy below it" },
  { of: "price", name: (item) => `Price of ${item}, at the door`, note: "Cut in the house below it" },
  { of: "hourly", name: () => "An hour, with all that comes on top", note: "Cut in the house below it" },
  { of: "minutes", name: () => "Minutes a piece", note: "Cut in the house below it" },
  { of: "yield", name: () => "Yield", note: "Cut in the house above it" },
  { of: "used", name: () => "Share of by-products used", note: "Cut in the house above it" },
  { of: "volume", name: () => "Portions a week", note: "Cut in the house above it" },
];

function evenText(of: BreakEvenOf, evens: MakeOrBuy["breakEvens"], basis: Basis, perPortion: Ratio, asked: AskedMake, unit: Parameters<typeof oneOf>[0], kitchen: Kitchen): string {
  const found: BreakEven = evens[basis][of];
  if (found.kind === "none") return found.why;
  return figureText(of, found.value, perPortion, asked, unit, kitchen);
}

function figureText(of: BreakEvenOf, value: Ratio, perPortion: Ratio, asked: AskedMake, unit: Parameters<typeof oneOf>[0], kitchen: Kitchen): string {
  switch (of) {
    case "bought": return `${money(value, kitchen)} a portion${rateAt(value, perPortion, asked, kitchen)}`;
    case "price": return `${money(perUnit(ratio.toDecimal(value), unit), kitchen)} ${oneOf(unit)}`;
    case "hourly": return `${money(value, kitchen)} an hour`;
    case "minutes": return `${figures(value, kitchen)} minutes`;
    case "yield": case "used": return `${printShare(ratio.toDecimal(value), kitchen)} %`;
    case "volume": return `${figures(value, kitchen)} a week`;
  }
}

/** The same as the price that was typed or is quoted per weight. */
function rateAt(value: Ratio, perPortion: Ratio, { bought }: AskedMake, kitchen: Kitchen): string {
  if (bought?.kind !== "typed" || UNITS[bought.rate.per].kind === "count") return "";
  const rate = ratio.mul(ratio.fromExact(bought.rate.amount), ratio.div(value, perPortion));
  return `, ${money(rate, kitchen)} ${oneOf(bought.rate.per)}`;
}

function nowText(of: BreakEvenOf, made: Made, asked: AskedMake, perPortion: Ratio, unit: Parameters<typeof oneOf>[0], kitchen: Kitchen): string {
  const { minutes, hourly, used, volume } = asked.asked;
  switch (of) {
    case "bought": return figureText(of, perPortion, perPortion, asked, unit, kitchen);
    case "price": return figureText(of, made.price, perPortion, asked, unit, kitchen);
    case "hourly": return asked.told.has("hourly") ? figureText(of, hourly, perPortion, asked, unit, kitchen) : "not told";
    case "minutes": return asked.told.has("minutes") ? figureText(of, minutes, perPortion, asked, unit, kitchen) : "not told";
    case "yield": return figureText(of, made.yield, perPortion, asked, unit, kitchen);
    case "used": return figureText(of, used, perPortion, asked, unit, kitchen);
    case "volume": return volume === null ? "not told" : figureText(of, volume, perPortion, asked, unit, kitchen);
  }
}

function assumptions(spec: PortionSpec, asked: AskedMake, made: Made, cutName: string, kitchen: Kitchen): readonly string[] {
  const { hoursCanBeCut, fixedAvoidable, fixed, volume } = asked.asked;
  const counted = made.credits.filter((credit) => credit.counted !== null);
  return [
    `${cutName}, ${quantityText(spec.meanCut?.weight ?? spec.size, kitchen)} a portion${spec.meanCut === null ? "" : " as cut"}, ${figures(made.perPiece, kitchen)} portions a piece at a yield of ${printShare(ratio.toDecimal(made.yield), kitchen)} %, by the tests the cut stands on.`,
    labourTold(asked) ? `${figures(asked.asked.minutes, kitchen)} minutes a piece at ${money(asked.asked.hourly, kitchen)} an hour, with taxes, insurance and breaks in it.` : "Nobody has told how long a piece takes and what an hour costs: time a few pieces first. Times differ widely from cutter to cutter and from dealer to dealer.",
    hoursCanBeCut ? "The hours can really be cut, so they are cash." : "The hours cannot be cut: whoever cuts is there anyway. So they are in the full cost and not in the cash.",
    ...(ratio.sign(fixed) > 0 ? [`${money(fixed, kitchen)} a week for the machine, ${fixedAvoidable ? "which would not be spent" : "which is spent either way, so it is not in the cash"}.`] : []),
    made.credits.length === 0 ? "No by-products." : `By-products count as far as they are used: ${[...counted.map(({ name, counted: share }) => `${name} ${printShare(ratio.toDecimal(share ?? ratio.ONE), kitchen)} %, counted`), ...(counted.length < made.credits.length ? [`${made.credits.filter((credit) => credit.counted === null).map(({ name }) => name).join(", ")} ${printShare(ratio.toDecimal(asked.asked.used), kitchen, { places: 0 })} %, ${asked.told.has("used") ? "as told" : "taken for all, since nobody has counted"}`] : [])].join("; ")}. They are held at what they are worth today.`,
    ratio.sign(asked.trimmed) > 0 ? `${printShare(ratio.toDecimal(asked.trimmed), kitchen)} % is still trimmed off what is bought cut.` : "What is bought cut is served as it comes: no trim, and the count and the weight firm. Weigh some when they come.",
    ...(asked.bought?.kind === "typed" ? [`The bought price is as typed, ${rateText(asked.bought.rate, kitchen)}, and no dealer’s quote in the book.`] : []),
    volume === null ? "How many a week is not told." : `${figures(volume, kitchen)} portions a week${asked.usualWeek ? ", as a usual week sells" : ""}.`,
  ];
}

/** What money does not tell. Defers to local code. */
const CAUTIONS: readonly string[] = [
  "Vacuum packing in the house is reduced-oxygen packaging: it needs a written food-safety plan (HACCP) with cold holding, labels and a limit of days, and in many places the approval of the local authority beforehand. Fish stays frozen. Ask before a machine is bought.",
  "Knives and machines: cut-resistant glove, stable board, guard on the slicer, unplugged to clean. In the US nobody under 18 runs or cleans a power slicer, saw or grinder. Trim that is ground: note its source and lot, and cook it as ground meat.",
  "Not in the figures: skill and who stands in when the cutter is away, chilled room, how fresh it is cut, whether the menu needs other sizes, and what becomes of the trim. Your local food code and licensed practice come first.",
];
