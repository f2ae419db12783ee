/** The two ways to begin: with the demo kitchen, or with an empty kitchen of one's own. */
"use client";
import { PlainForm, SelectField, ShareField, TextField } from "@/components/form";
import type { PlainAction } from "@/components/form/plain-state";
import { CURRENCIES, LOCALES, MEASURES, ZONES } from "./habit-choices";
import { KitchenProvider } from "./KitchenContext";

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
            <SelectField name="measures" label="Weighs and measures in" choices={MEASURES} />
            <SelectField name="currency" label="Pays in" choices={CURRENCIES} />
            <SelectField name="locale" label="Writes numbers like" choices={LOCALES} />
            <SelectField name="timeZone" label="Time zone" choices={ZONES} />
            <ShareField name="taxRate" label="Tax within the menu prices" start="0" hint="0 where it is added at the till" />
            <ShareField name="target" label="Target food cost" start="30" hint="Of the net menu price" />
            <ShareField name="near" label="Near the target from" start="1 %" hint="So many points under it" />
          </div>
        </PlainForm>
      </section>
    </KitchenProvider>
  );
}
