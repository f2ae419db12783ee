/** A kitchen's own settings in their table: what it is called, how it writes, what its food may cost. */
import { exactColumns, exactIn, exactRow } from "./figures";
import { only, shape, wordIn } from "./shape";
import { table } from "./table";

const MEASURES = ["us", "metric"] as const;

export const kitchenShape = shape(
  "kitchen",
  {
    settings: table("kitchen_settings", {
      name: "text", place: "text", currency: "text", locale: "text", time_zone: "text", measures: "text",
      ...exactColumns("tax"), ...exactColumns("target"), ...exactColumns("near"),
    }),
  },
  (kitchen) => ({
    settings: [{
      name: kitchen.name, place: kitchen.place, currency: kitchen.currency, locale: kitchen.locale,
      time_zone: kitchen.timeZone, measures: kitchen.measures,
      ...exactRow("tax", kitchen.taxRate), ...exactRow("target", kitchen.target), ...exactRow("near", kitchen.near),
    }],
  }),
  (id, rows) => {
    const settings = only(rows.settings);
    return {
      id, name: settings.name, place: settings.place, currency: settings.currency, locale: settings.locale,
      timeZone: settings.time_zone, measures: wordIn(settings.measures, MEASURES),
      taxRate: exactIn(settings, "tax"), target: exactIn(settings, "target"), near: exactIn(settings, "near"),
    };
  },
);
