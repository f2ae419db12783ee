/** The two ways to begin: with the demo kitchen, or with an empty kitchen of one's own. */
"use client";
import { PlainForm, SelectField, ShareField, TextField } from "@/components/form";
import type { PlainAction } from "@/components/form/plain-state";
import { KitchenProvider } from "./KitchenContext";

const CURRENCIES = ["USD", "EUR", "GBP", "CAD", "AUD", "NZD", "CHF", "SEK", "NOK", "DKK", "JPY", "MXN", "BRL", "INR", "ZAR", "SGD", "AED"];
const LOCALES = [
  { value: "en-US", label: "1,234.56 (American English)" }, { value: "en-GB", label: "1,234.56 (British English)" }, { value: "de-DE", label: "1.234,56 (German)" },
  { value: "fr-FR", label: "1 234,56 (French)" }, { value: "es-ES", label: "1.234,56 (Spanish)" }, { value: "it-IT", label: "1.234,56 (Italian)" }, { value: "en-IN", label: "1,234.56 (Indian English)" },
];
const ZONES = [
  "America/New_York", "America/Chicago", "America/Denver", "America/Los_Angeles", "America/Toronto", "America/Mexico_City", "America/Sao_Paulo", "Europe/London", "Europe/Dublin", "Europe/Paris",
  "Europe/Berlin", "Europe/Madrid", "Europe/Rome", "Europe/Stockholm", "Africa/Johannesburg", "Asia/Dubai", "Asia/Kolkata", "Asia/Singapore", "Asia/Tokyo", "Australia/Sydney", "Pacific/Auckland",
];
const same = (value: string) => ({ value, label: value.replaceAll("_", " ") });

export function OpenKitchenForms({ demo, empty, today }: { readonly demo: PlainAction; readonly empty: PlainAction; readonly today: string }) {
  return (
    <KitchenProvider value={{ habits: { locale: "en-US", measures: "us", currency: "USD" }, today, writer: "", deeds: [] }}>
      <section aria-labelledby="demo">
        <h2 id="demo">Look around in a demo kitchen</h2>
        <p>An invented bistro with a year of dealers’ prices, twenty yield tests, thirty recipes and twenty-four dishes. Change anything; it is yours.</p>
        <PlainForm id="demo-form" action={demo} submit="Open the demo kitchen" busy="Laying out a year of prices…" />
      </section>
      <section aria-labelledby="empty">
        <h2 id="empty">Begin with an empty kitchen</h2>
        <PlainForm id="empty-form" action={empty} submit="Open an empty kitchen" plain>
          <div className="fields">
            <TextField name="name" label="Name of the kitchen" required />
            <TextField name="place" label="Place" />
            <SelectField name="measures" label="Weighs and measures in" choices={[{ value: "us", label: "Pounds, ounces, quarts" }, { value: "metric", label: "Kilos, grams, litres" }]} />
            <SelectField name="currency" label="Pays in" choices={CURRENCIES.map(same)} />
            <SelectField name="locale" label="Writes numbers like" choices={LOCALES} />
            <SelectField name="timeZone" label="Time zone" choices={ZONES.map(same)} />
            <ShareField name="taxRate" label="Tax within the menu prices" start="0" hint="0 where it is added at the till" />
            <ShareField name="target" label="Target food cost" start="30" hint="Of the net menu price" />
            <ShareField name="near" label="Near the target from" start="1 %" hint="So many points under it" />
          </div>
        </PlainForm>
      </section>
    </KitchenProvider>
  );
}
