/** House rules: what food may cost, what a price may end on, what the house spends, and how the kitchen writes. */
import type { Metadata } from "next";
import { type Exact, moneyPlaces, printMoney, printNumber, printShare, shareText, toDecimal } from "@/lib/measure";
import { menuFigures, whoseTarget } from "@/lib/menu";
import { basedOn } from "@/lib/store";
import { HouseForm } from "@/components/house/HouseForm";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { openKitchen } from "../open-kitchen";
import { saveHouse } from "./actions";

export const metadata: Metadata = { title: "House rules" };

export default async function HousePage() {
  const { live, kitchen } = await openKitchen("see money");
  const dishes = menuFigures(live.cascade);
  const sections = [...new Set(dishes.map((dish) => dish.section).filter((section) => section !== ""))];
  const share = (value: Exact): string => shareText(value, kitchen);
  const { budget } = kitchen;
  const rated = new Set(kitchen.exchangeRates.map(({ currency }) => currency));
  const unrated = [...new Set([...live.book.shelves.quote.values()].flatMap(({ currency }) => (currency === null || rated.has(currency) ? [] : [currency])))].sort();
  const own = dishes.filter((dish) => whoseTarget(live.book, dish.id) === "dish").length;
  return (
    <>
      <PageTop title="House rules" of={<>{kitchen.name}{kitchen.place !== "" && <>, {kitchen.place}</>}</>}
        answer={<>Food may cost {share(kitchen.target)} of the net menu price{kitchen.sectionTargets.length > 0 && <>, {kitchen.sectionTargets.map(({ section, target }) => `${share(target)} in ${section}`).join(", ")}</>}; a dish within {share(kitchen.near)} under its target is near it.{own > 0 && <> {own === 1 ? "1 dish has a target of its own." : `${own} dishes have a target of their own.`}</>}</>} />
      {sections.length > 0 && (
        <Table narrow caption="How each section stands against its target" rows={sections} rowKey={(section) => section} columns={[
          { key: "section", head: "Section", cell: (section) => section },
          { key: "target", head: "Target, %", label: "target", figure: true, width: 5, cell: (section) => printShare(toDecimal(kitchen.sectionTargets.find((one) => one.section === section)?.target ?? kitchen.target), kitchen) },
          { key: "dishes", head: "Dishes", figure: true, width: 4, cell: (section) => dishes.filter((dish) => dish.section === section).length },
          { key: "over", head: "Over", figure: true, width: 3.5, cell: (section) => dishes.filter((dish) => dish.section === section && dish.state === "over").length },
          { key: "near", head: "Near", label: "near", figure: true, fold: "phone", width: 3.5, cell: (section) => dishes.filter((dish) => dish.section === section && dish.state === "near").length },
        ]} />
      )}
      <h2>The rules</h2>
      <p className="quiet">Try a target before you record it: the dishes that would cross it are shown first. Measures only change how things are written; what was weighed and paid stays as it was. The decimal mark stays once figures stand in the book. Service charge and tips are no part of a price; how prices must be shown to the guest is for your local rules to say.</p>
      {unrated.length > 0 && <p><span className="near">No rate yet:</span> {unrated.join(", ")}. Dealers ask in {unrated.length === 1 ? "it" : "them"}, and what is bought so is only known as “at least” until <a href="#exchange">somebody says what it is worth</a>.</p>}
      <HouseForm action={saveHouse} basedOn={basedOn(live, [{ kind: "kitchen", id: kitchen.id }])} deed="change the kitchen" sections={sections}
        exchange={kitchen.exchangeRates.map(({ currency, rate, source, on }) => ({ currency, rate: printNumber(toDecimal(rate), kitchen), source, on }))}
        targets={kitchen.sectionTargets.map(({ section, target }) => ({ section, target: share(target) }))}
        values={{
          name: kitchen.name, place: kitchen.place, currency: kitchen.currency, measures: kitchen.measures, locale: kitchen.locale, timeZone: kitchen.timeZone,
          target: share(kitchen.target), near: share(kitchen.near), taxRate: share(kitchen.taxRate),
          endings: kitchen.endings.map((ending) => printNumber(toDecimal(ending), kitchen, { places: moneyPlaces(kitchen.currency) })).join(" "),
          "budget.period": budget?.period ?? "", "budget.guests": budget === null ? "" : printNumber(toDecimal(budget.guests), kitchen),
          "budget.foodCost": money(budget?.foodCost), "budget.nonFoodCost": money(budget?.nonFoodCost), "budget.profit": money(budget?.profit), "budget.labour": money(budget?.labour),
          "budget.primeCostShare": budget === null || budget.primeCostShare === null ? "" : share(budget.primeCostShare),
        }} />
    </>
  );

  function money(amount: { readonly amount: Exact } | null | undefined): string {
    return amount === null || amount === undefined ? "" : printMoney(toDecimal(amount.amount), kitchen);
  }
}
