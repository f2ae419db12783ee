/** A comparison of dealers put into words and printed figures. Nothing is reckoned here. */
import type { DealerCompared, DealersSideBySide, DealersTold } from "@/lib/buying";
import { type Decimal, type Ratio, type Unit, UNITS, oneOf, perUnit, printMoney, printShare, ratio } from "@/lib/measure";
import type { OpenKitchen } from "../../../open-kitchen";

type Kitchen = OpenKitchen["kitchen"];

/** "$10.85 a pound", of money per base unit. */
export function perText(perBase: Decimal, unit: Unit, kitchen: Kitchen): string {
  return `${printMoney(perUnit(perBase, unit), kitchen)} ${oneOf(unit)}`;
}

const shareOf = (share: Ratio, kitchen: Kitchen): string => `${printShare(ratio.toDecimal(share), kitchen)} %`;

/** Who is cheapest as asked and who as used, in a sentence or two. */
export function dealersSentence({ dealers, cheapestAsked, cheapestUsable, told }: DealersSideBySide, units: { readonly item: Unit; readonly cut: Unit }, kitchen: Kitchen): string {
  const of = (id: string | null): DealerCompared | undefined => dealers.find(({ dealerId }) => dealerId === id);
  const [asked, usable] = [of(cheapestAsked), of(cheapestUsable)];
  if (asked === undefined || asked.asked === null) return "No price is known to compare.";
  const cheapestTo = `${asked.name} asks least, ${perText(ratio.toDecimal(asked.asked), units.item, kitchen)}`;
  if (usable === undefined || usable.cost === null) return `${cheapestTo}; what a usable ${UNITS[units.cut].one} costs is not known of any dealer.`;
  const costs = perText(ratio.toDecimal(usable.cost), units.cut, kitchen);
  const sure = told.length > 0 && told.every((one) => one.told.kind === "told");
  const doubt = told.length === 0 || sure ? "" : " Whether that is more than chance is told below.";
  return usable.dealerId === asked.dealerId ? `${cheapestTo}, and is cheapest as used too: ${costs} usable.${doubt}` : `${cheapestTo}, and yet ${usable.name} is cheapest as used: ${costs} usable.${doubt}`;
}

/** What stands beside a dealer's name. */
export function marksOf(dealer: DealerCompared, { cheapestAsked, cheapestUsable }: DealersSideBySide): readonly string[] {
  return [
    ...(dealer.now ? ["bought from now"] : []), ...(dealer.dealerId === cheapestAsked ? ["cheapest as asked"] : []), ...(dealer.dealerId === cheapestUsable ? ["cheapest as used"] : []),
  ];
}

export function yieldWords(dealer: DealerCompared, kitchen: Kitchen): string {
  if (dealer.yield === null) return "no yield is known";
  const share = shareOf(dealer.yield, kitchen);
  switch (dealer.by) {
    case "own": return `${share}, ${dealer.tests.length === 1 ? "one test" : `${dealer.tests.length} tests`} of their own`;
    case "house": return `${share}, the house’s tests: none of theirs`;
    case "borrowed": return `${share}, borrowed: no test at all`;
    case "none": return "no yield is known";
  }
}

/** Whether the tests tell the cheapest from another, in a sentence. */
export function toldSentence({ cheaper, other, by, told }: DealersTold, dealers: readonly DealerCompared[], unit: Unit, kitchen: Kitchen): string {
  const name = (id: string): string => dealers.find(({ dealerId }) => dealerId === id)?.name ?? id;
  const money = (perBase: Decimal): string => printMoney(perUnit(perBase, unit), kitchen);
  const per = UNITS[unit].one;
  const apart = money(ratio.toDecimal(by));
  const pair = `${name(cheaper)} against ${name(other)}`;
  switch (told.kind) {
    case "told": return `${pair}: cheaper as used, and the tests tell it: a usable ${per} of ${name(other)} costs between ${money(told.least)} and ${money(told.most)} more (${shareWords(told.level, kitchen)} sure).`;
    case "against": return `${pair}: ${apart} a usable ${per} apart by weights pooled, and the other way round test by test. The pieces differ too much in size: weigh more of each before you choose.`;
    case "cannot-tell": {
      const more = told.tests === null ? "no number of tests that anybody makes would tell so small a difference" : `about ${told.tests} tests of each would tell a difference of this size, should pieces go on differing as they have`;
      return `${pair}: ${apart} a usable ${per} apart, and the tests cannot tell them apart: it may be ${sideWords(told.low, told.high, name(cheaper), name(other), money)} (${shareWords(told.level, kitchen)} sure). To know more, ${more}.`;
    }
    case "too-few": {
      const needs = told.have.map(({ dealerId, tests }) => `${needed(told.needed - tests)} of ${name(dealerId)}`);
      return `${pair}: ${apart} a usable ${per} apart, and there are not enough tests to tell: ${needs.join(" and ")} at least.`;
    }
    case "no-spread": return `${pair}: every test gave the very same figure. Weighings do not repeat so well: check that these were weighed and not worked out.`;
    case "price-only": return `${pair}: ${apart} a usable ${per} apart by price alone. There is no test of ${told.untested.map(name).join(" or ")}, so the house’s yield stands in: nothing here says that the goods yield the same.`;
  }
}

function needed(tests: number): string {
  return tests === 1 ? "one more" : `${tests} more`;
}

function sideWords(low: Decimal, high: Decimal, cheaper: string, other: string, money: (perBase: Decimal) => string): string {
  return `${money(high.lt(0) ? low.abs() : high)} cheaper from ${cheaper}, or ${money(low.abs())} cheaper from ${other}`;
}

function shareWords(level: Ratio, kitchen: Kitchen): string {
  const whole = ratio.mul(level, ratio.of(100n)).d === 1n;
  return `${printShare(ratio.toDecimal(level), kitchen, { places: whole ? 0 : 1 })} %`;
}

/** A share of what was billed, "" for none. */
export function lostText(share: Ratio | null, kitchen: Kitchen): string {
  return share === null ? "" : ratio.sign(share) === 0 ? "none" : shareOf(share, kitchen);
}
