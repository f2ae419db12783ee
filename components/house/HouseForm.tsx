/** The house's rules, all in one form: what each changes is said beside it, and a try shows which dishes cross. */
"use client";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { DateField, LinesField, MoneyField, NumberField, PickField, PickList, SelectField, ShareField, TextField, type Values } from "@/components/form";
import { CURRENCIES, LOCALES, MEASURES, ZONES, withOwn } from "@/components/kitchen/habit-choices";

type Form = Pick<ChangeFormProps, "action" | "basedOn" | "deed">;

/** `sections`: those of the menu, to choose from. */
export function HouseForm({ values, targets, exchange, sections, ...form }: Form & { readonly values: Values; readonly targets: readonly Values[]; readonly exchange: readonly Values[]; readonly sections: readonly string[] }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Record these rules">
      <fieldset>
        <legend>What food may cost</legend>
        <div className="fields">
          <ShareField name="target" label="Target food cost" hint="Of the net menu price, where neither the dish nor its section says otherwise" required />
          <ShareField name="near" label="Near the target from" hint="So many points under it" required />
          <ShareField name="taxRate" label="Tax within the menu prices" hint="0 where it is added at the till; on top of the net price" required />
        </div>
        <PickList id="sections" labels={sections} />
        <LinesField name="sectionTargets" legend="Targets of whole sections" noun="section" rows={targets} blankWhen={["section", "target"]} least={0} most={100}>
          {(prefix, index) => (
            <>
              <PickField name={`${prefix}.section`} label="Section" list="sections" {...(index === 0 ? { hint: "As it stands on the menu" } : {})} />
              <ShareField name={`${prefix}.target`} label="Target food cost" {...(index === 0 ? { hint: "A dish’s own comes before it" } : {})} />
            </>
          )}
        </LinesField>
      </fieldset>
      <fieldset>
        <legend>What a menu price may end on</legend>
        <div className="fields">
          <TextField name="endings" label="Endings" hint="0.00 0.50 0.95, a space between; empty: any price" />
        </div>
      </fieldset>
      <fieldset>
        <legend>The house in one period</legend>
        <p className="quiet">From the accounts or the budget. Three of the five ways to a price reckon with it; no cost does. Leave all of it empty to go without.</p>
        <div className="fields">
          <TextField name="budget.period" label="Period" hint="A year, October 2026" />
          <NumberField name="budget.guests" label="Guests" />
          <MoneyField name="budget.foodCost" label="Food cost" />
          <MoneyField name="budget.nonFoodCost" label="Everything but food" hint="Labour, rent, heat" />
          <MoneyField name="budget.labour" label="Of that, labour" hint="May stay empty" />
          <MoneyField name="budget.profit" label="Profit" hint="What has to be left over" />
          <ShareField name="budget.primeCostShare" label="Food and labour together" hint="Of the net price; may stay empty" />
        </div>
      </fieldset>
      <div id="exchange">
        <LinesField name="exchangeRates" legend="What other money is worth" noun="currency" rows={exchange} blankWhen={["currency", "rate"]} least={0} most={30}>
          {(prefix, index) => (
            <>
              <PickField name={`${prefix}.currency`} label="Currency" list="currencies" {...(index === 0 ? { hint: "Three letters, EUR" } : {})} />
              <NumberField name={`${prefix}.rate`} label="One of it is worth" {...(index === 0 ? { hint: `In ${values["currency"] ?? "the kitchen’s money"}` } : {})} />
              <TextField name={`${prefix}.source`} label="Whose rate" {...(index === 0 ? { hint: "The bank, the dealer’s invoice" } : {})} />
              <DateField name={`${prefix}.on`} label="Rate of" />
            </>
          )}
        </LinesField>
        <PickList id="currencies" labels={CURRENCIES.map(({ value }) => value).filter((code) => code !== values["currency"])} />
      </div>
      <fieldset>
        <legend>The kitchen</legend>
        <div className="fields">
          <TextField name="name" label="Name" required />
          <TextField name="place" label="Place" />
          <SelectField name="currency" label="Pays in" choices={withOwn(CURRENCIES, values["currency"] ?? "")} hint="Stays as it is once there are prices" />
          <SelectField name="measures" label="Weighs and measures in" choices={withOwn(MEASURES, values["measures"] ?? "")} hint="How weights are written; none is changed" />
          <SelectField name="locale" label="Writes numbers like" choices={withOwn(LOCALES, values["locale"] ?? "")} hint="How figures and days are written and read" />
          <SelectField name="timeZone" label="Time zone" choices={withOwn(ZONES, values["timeZone"] ?? "")} hint="When a new day begins" />
        </div>
      </fieldset>
    </ChangeForm>
  );
}
