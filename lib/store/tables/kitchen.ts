/** A kitchen's own settings in their tables: what it is called, how it writes, what its food may cost, how it prices. */
import type { Budget } from "@/lib/book";
import { exactColumns, exactIn, exactRow, maybeExactColumns, maybeExactIn, maybeExactRow, maybeMoneyColumns, maybeMoneyIn, maybeMoneyRow } from "./figures";
import { only, shape, wordIn } from "./shape";
import { type Row, table } from "./table";

const MEASURES = ["us", "metric"] as const;

const BUDGET = {
  budget_period: "text?", ...maybeExactColumns("budget_guests"), ...maybeMoneyColumns("budget_food"), ...maybeMoneyColumns("budget_other"),
  ...maybeMoneyColumns("budget_profit"), ...maybeMoneyColumns("budget_labour"), ...maybeExactColumns("budget_prime"),
} as const;

export const kitchenShape = shape(
  "kitchen",
  {
    settings: table("kitchen_settings", {
      name: "text", place: "text", currency: "text", locale: "text", time_zone: "text", measures: "text",
      ...exactColumns("tax"), ...exactColumns("target"), ...exactColumns("near"), ...BUDGET,
    }),
    sections: table("kitchen_section_target", { position: "int", section: "text", ...exactColumns("target") }),
    endings: table("kitchen_ending", { position: "int", ...exactColumns("ending") }),
    exchange: table("kitchen_exchange_rate", { position: "int", currency: "text", ...exactColumns("rate"), source: "text", told_on: "day" }),
  },
  (kitchen) => ({
    settings: [{
      name: kitchen.name, place: kitchen.place, currency: kitchen.currency, locale: kitchen.locale,
      time_zone: kitchen.timeZone, measures: kitchen.measures,
      ...exactRow("tax", kitchen.taxRate), ...exactRow("target", kitchen.target), ...exactRow("near", kitchen.near), ...budgetRow(kitchen.budget),
    }],
    sections: kitchen.sectionTargets.map(({ section, target }, position) => ({ position, section, ...exactRow("target", target) })),
    endings: kitchen.endings.map((ending, position) => ({ position, ...exactRow("ending", ending) })),
    exchange: kitchen.exchangeRates.map(({ currency, rate, source, on }, position) => ({ position, currency, ...exactRow("rate", rate), source, told_on: on })),
  }),
  (id, rows) => {
    const settings = only(rows.settings);
    return {
      id, name: settings.name, place: settings.place, currency: settings.currency, locale: settings.locale,
      timeZone: settings.time_zone, measures: wordIn(settings.measures, MEASURES),
      taxRate: exactIn(settings, "tax"), target: exactIn(settings, "target"), near: exactIn(settings, "near"),
      sectionTargets: rows.sections.map((row) => ({ section: row.section, target: exactIn(row, "target") })),
      endings: rows.endings.map((row) => exactIn(row, "ending")),
      budget: budgetIn(settings),
      exchangeRates: rows.exchange.map((row) => ({ currency: row.currency, rate: exactIn(row, "rate"), source: row.source, on: row.told_on })),
    };
  },
);

function budgetRow(budget: Budget | null): Row<typeof BUDGET> {
  return {
    budget_period: budget?.period ?? null, ...maybeExactRow("budget_guests", budget?.guests ?? null), ...maybeMoneyRow("budget_food", budget?.foodCost ?? null),
    ...maybeMoneyRow("budget_other", budget?.nonFoodCost ?? null), ...maybeMoneyRow("budget_profit", budget?.profit ?? null),
    ...maybeMoneyRow("budget_labour", budget?.labour ?? null), ...maybeExactRow("budget_prime", budget?.primeCostShare ?? null),
  };
}

function budgetIn(row: Row<typeof BUDGET>): Budget | null {
  const guests = maybeExactIn(row, "budget_guests");
  const foodCost = maybeMoneyIn(row, "budget_food");
  const nonFoodCost = maybeMoneyIn(row, "budget_other");
  const profit = maybeMoneyIn(row, "budget_profit");
  if (row.budget_period === null || guests === null || foodCost === null || nonFoodCost === null || profit === null) return null;
  return { period: row.budget_period, guests, foodCost, nonFoodCost, profit, labour: maybeMoneyIn(row, "budget_labour"), primeCostShare: maybeExactIn(row, "budget_prime") };
}
