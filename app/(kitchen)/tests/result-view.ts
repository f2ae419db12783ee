/**
 * The result of a yield test put into words and printed figures (components/yield-test/result-view.ts). Nothing is
 * costed here: figures come exact from lib/yield, at what things are worth in the given book.
 */
import { type FactOf, type JointMethod, type YieldTest, cutsOn, factName } from "@/lib/book";
import { type Cascade, carriedIn, valuedSheet } from "@/lib/cascade";
import { type Checked, type Ratio, type Unit, UNITS, exact, moneyFigure, oneOf, printDay, printFactor, printMoney, printQuantity, printShare, ratio } from "@/lib/measure";
import { type YieldFigures, cookingLossTest, costOfQuantity, costPer, figuresOf, totalLoss, weightIn } from "@/lib/yield";
import type { ResultFigure, ResultRow, ResultView } from "@/components/yield-test/result-view";
import { KINDS, ROLE_WORDS } from "@/components/yield-test/kinds";
import { currencySign } from "../change-flow/ripple-view";

type Kitchen = FactOf["kitchen"];

/** How joint cost is shared on the page of a test: as the cut that stands on it says, else by what each part would cost. */
export function jointOf(cascade: Cascade, test: YieldTest): JointMethod {
  return cutsOn(cascade.book, test.id)[0]?.joint ?? "sales-value";
}

/** A test's own figures at what its parts are worth in this book. */
export function figuresOfTest(cascade: Cascade, test: YieldTest): Checked<YieldFigures> {
  return figuresOf(valuedSheet(cascade, test), jointOf(cascade, test));
}

/**
 * null while the sheet gives no figures; its problems are told elsewhere. For somebody who sees no money: weights and
 * shares, and nothing that a price could be read from.
 */
export function resultView(cascade: Cascade, test: YieldTest, kitchen: Kitchen, seesMoney: boolean): ResultView | null {
  const checked = figuresOfTest(cascade, test);
  if (!checked.ok) return null;
  const figures = checked.value;
  const currency = currencySign(kitchen);
  const share = (of: Ratio): string => printShare(ratio.toDecimal(of), kitchen);
  const name = factName(cascade.book, test.of.kind, test.of.id);
  const gained = figures.kind === "hydration" && ratio.sign(totalLoss(figures)) < 0;
  const cost = figures.money === null || !seesMoney ? "" : `; ${printMoney(ratio.toDecimal(costPer(figures.money.costPerUnit, figures.unit)), kitchen)} ${oneOf(figures.unit)} of ${gained ? "it cooked" : "usable weight"}`;
  return {
    kind: "test",
    usable: gained ? `${share(figures.yield)} % of the dry weight` : `${share(figures.yield)} % usable`,
    rest: gained ? `, ${share(ratio.neg(totalLoss(figures)))} % water taken up${cost}.` : `, ${share(totalLoss(figures))} % lost${cost}.`,
    caption: !seesMoney ? `As weighed on ${printDay(test.on, kitchen)}` : test.of.kind === "item"
      ? `Dealer’s price and typed worth of ${printDay(test.on, kitchen)}; linked by-products at what they cost today`
      : "At the net cost carried in today, after the earlier test’s by-products",
    rateHead: seesMoney ? `${currency} a ${UNITS[figures.unit].one}` : "",
    valueHead: seesMoney ? currency : "",
    rows: rowsOf(figures, kitchen, `${name}${test.of.kind === "item" ? " as purchased" : ", at its net cost"}`, KINDS[test.kind].main, seesMoney),
    comes: seesMoney ? comesTo(cascade, test, figures, kitchen) : [],
    notes: figures.notes.map((note) => note.sentence).filter((sentence) => seesMoney || !sentence.includes(currency)),
    missing: seesMoney ? figures.missing.map((note) => note.sentence) : [],
  };
}

function rowsOf(figures: YieldFigures, kitchen: Kitchen, billed: string, usable: string, seesMoney: boolean): readonly ResultRow[] {
  const { unit, money } = figures;
  const row = (key: string, name: string, weight: Ratio, share: Ratio, rest: { readonly perUnit?: Ratio | null; readonly value?: Ratio | null; readonly note?: string | null; readonly rule?: ResultRow["rule"] }): ResultRow => ({
    key, name, note: rest.note ?? null, rule: rest.rule ?? null,
    weight: printQuantity(weightIn(weight, unit), kitchen),
    share: printShare(ratio.toDecimal(share), kitchen, { places: 2 }),
    rate: seesMoney && rest.perUnit ? moneyFigure(ratio.toDecimal(costPer(rest.perUnit, unit)), kitchen) : "",
    value: seesMoney && rest.value ? moneyFigure(ratio.toDecimal(rest.value), kitchen).replace("-", "−") : "",
  });
  const mains = figures.parts.filter((part) => part.role === "main");
  return [
    row("billed", billed, figures.billed, ratio.ONE, { perUnit: money?.price ?? null, value: money?.paid ?? null }),
    ...figures.parts.filter((part) => part.role !== "main").map((part) => row(part.key, part.name, part.weight, part.ratio, {
      perUnit: part.perUnit, value: part.value === null ? null : ratio.neg(part.value), note: part.role === "by-product" ? null : ROLE_WORDS[part.role], rule: "in",
    })),
    ...figures.losses.map((loss) => row(`loss ${loss.key}`, loss.name, loss.weight, loss.ratio, { note: "by difference", rule: "in" })),
    row("usable", mains.length === 1 ? mains[0]?.name ?? usable : usable, figures.usable, figures.yield, { perUnit: money?.costPerUnit ?? null, value: money?.usableValue ?? null, rule: "sum" }),
    ...(mains.length === 1 ? [] : mains.map((part) => row(part.key, part.name, part.weight, part.ratio, { perUnit: part.perUnit, value: part.value, rule: "of" }))),
  ];
}

function comesTo(cascade: Cascade, test: YieldTest, figures: YieldFigures, kitchen: Kitchen): readonly ResultFigure[] {
  const { money, measure } = figures;
  if (money === null) return [];
  const currency = currencySign(kitchen);
  const cooking = test.kind === "cooking" ? cookingLossTest(valuedSheet(cascade, test), carriedIn(cascade, test), jointOf(cascade, test)) : null;
  const factor = cooking?.ok ? cooking.value.factorOnDealerPrice : money.factor;
  const metric = kitchen.measures === "metric";
  const large: Unit = measure !== "mass" ? figures.unit : metric ? "kg" : "lb";
  const per = (what: string, cost: Ratio, unit: string, places?: number): ResultFigure => ({ what, figure: { figure: moneyFigure(ratio.toDecimal(cost), kitchen, { places }), unit: `${currency} / ${unit}` } });
  return [
    { what: test.kind === "butcher" || test.kind === "cooking" ? "Value of the usable meat" : "Value of the usable part", figure: { figure: moneyFigure(ratio.toDecimal(money.usableValue), kitchen), unit: currency } },
    per(`Cost per usable ${WORDS[large] ?? UNITS[large].one}`, costPer(money.costPerUnit, large), large),
    ...(measure !== "mass" ? [] : [metric
      ? per("Cost per usable 100 grams", costOfQuantity(money.costPerUnit, { amount: exact("100"), unit: "g" }), "100 g")
      : per("Cost per usable ounce", costPer(money.costPerUnit, "oz"), "oz", 4)]),
    {
      what: `Cost factor per ${WORDS[large] ?? UNITS[large].one}, on the dealer’s price`,
      figure: { figure: factor === null ? "undefined" : printFactor(ratio.toDecimal(factor), kitchen), unit: "" },
    },
  ];
}

const WORDS: Partial<Record<Unit, string>> = { lb: "pound", kg: "kilo" };
