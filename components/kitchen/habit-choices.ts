/** What a kitchen may choose to pay in, to write like, to keep time by. A kitchen that has chosen otherwise keeps its own. */
import type { Choice } from "@/components/form";

const same = (value: string): Choice => ({ value, label: value.replaceAll("_", " ") });

export const CURRENCIES: readonly Choice[] = ["USD", "EUR", "GBP", "CAD", "AUD", "NZD", "CHF", "SEK", "NOK", "DKK", "JPY", "MXN", "BRL", "INR", "ZAR", "SGD", "AED"].map(same);
export const LOCALES: readonly Choice[] = [
  { value: "en-US", label: "1,234.56 (American English)" }, { value: "en-GB", label: "1,234.56 (British English)" }, { value: "de-DE", label: "1.234,56 (German)" },
  { value: "fr-FR", label: "1 234,56 (French)" }, { value: "es-ES", label: "1.234,56 (Spanish)" }, { value: "it-IT", label: "1.234,56 (Italian)" }, { value: "en-IN", label: "1,234.56 (Indian English)" },
];
export const ZONES: readonly Choice[] = [
  "America/New_York", "America/Chicago", "America/Denver", "America/Los_Angeles", "America/Toronto", "America/Mexico_City", "America/Sao_Paulo", "Europe/London", "Europe/Dublin", "Europe/Paris",
  "Europe/Berlin", "Europe/Madrid", "Europe/Rome", "Europe/Stockholm", "Africa/Johannesburg", "Asia/Dubai", "Asia/Kolkata", "Asia/Singapore", "Asia/Tokyo", "Australia/Sydney", "Pacific/Auckland",
].map(same);
export const MEASURES: readonly Choice[] = [{ value: "us", label: "Pounds, ounces, quarts" }, { value: "metric", label: "Kilos, grams, litres" }];

/** The choices, with the one in force among them. */
export function withOwn(choices: readonly Choice[], own: string): readonly Choice[] {
  return choices.some((one) => one.value === own) ? choices : [same(own), ...choices];
}
