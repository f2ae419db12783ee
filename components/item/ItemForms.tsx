/**
 * The forms about what is bought: an item with its purchase specification, a dealer's quote, a new price as a question,
 * and whom it is bought from.
 */
"use client";
import type { ReactNode } from "react";
import { ALLERGENS } from "@/lib/book";
import { type Checked, type Unit, good, kindOf, parseMoney, parseRate, printMoney, rateText, toDecimal } from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { ALLERGEN_WORDS, CHECK_THE_LABEL } from "@/components/allergen/words";
import "@/components/allergen/allergens.css";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, DateField, EchoField, NumberField, QuantityField, RadioField, SelectField, TextField, type Values } from "@/components/form";
import { QuoteFields, type QuoteFieldsProps } from "./QuoteFields";

type Form = Pick<ChangeFormProps, "action" | "basedOn" | "hidden" | "id">;

export const KIND_CHOICES: readonly Choice[] = [{ value: "mass", label: "by weight" }, { value: "volume", label: "by volume" }, { value: "count", label: "by count" }];

/** "If a pound costs $7.10 → [7.60] from [today]": the form of a dealer's new price, for a pack or for one of a unit. */
export function NewPriceForm({ values, now, what, per, currency, ...form }: Form & { readonly values: Values; readonly now: string; readonly what: string; readonly per: "pack" | Unit; readonly currency: string | null }) {
  const { habits: own } = useKitchen();
  const habits = currency === null ? own : { ...own, currency };
  const field = { name: "price", label: `New price for ${what}`, figured: true } as const;
  const understand = (text: string): Checked<string> => {
    if (per !== "pack") {
      const read = parseRate(text, habits, { bare: per, kinds: [kindOf(per)] });
      return read.ok ? good(rateText(read.value, habits)) : read;
    }
    const read = parseMoney(text, habits);
    return read.ok ? good(printMoney(toDecimal(read.value.amount), habits)) : read;
  };
  return (
    <ChangeForm {...form} values={values} recordLabel="Record this price" deed="change items and prices" dated={false}>
      <div className="ask">
        <span>If {what} costs {now}{" → "}</span>
        <EchoField {...field} understand={understand} inputMode={per === "pack" ? "decimal" : "text"} />
        <span>from</span>
        <DateField name="from" label="From which day" />
      </div>
    </ChangeForm>
  );
}

function ItemFields(): ReactNode {
  return (
    <>
      <div className="fields">
        <TextField name="name" label="Name of the item" hint="As the kitchen says it" required />
        <TextField name="section" label="Shelf" hint="Beef, Produce, Dairy" />
        <TextField name="specification" label="Purchase specification" hint="Grade, weight range, trim, state" wide lines={2} />
      </div>
      <RadioField name="kind" label="It is costed" choices={KIND_CHOICES} />
    </>
  );
}

/** The three things that can be known of a label; the first is not the same as the second. */
export const LABEL_CHOICES: readonly Choice[] = [
  { value: "unknown", label: "Nobody has looked yet" },
  { value: "none", label: "Looked: none named on the label" },
  { value: "named", label: "Looked: the label names those ticked below" },
];
const OF_ALLERGEN: readonly Choice[] = [{ value: "", label: "not named" }, { value: "contains", label: "contains" }, { value: "may", label: "may contain" }];

/** What the label says of allergens: nobody has looked, none named, or each of the fourteen as it is named. */
function AllergenFields(): ReactNode {
  return (
    <fieldset id="allergens">
      <legend>Allergens on its label</legend>
      <p className="quiet">{CHECK_THE_LABEL}</p>
      <RadioField name="label" label="What is known" choices={LABEL_CHOICES} />
      <div className="allergen-ticks">
        {ALLERGENS.map((allergen) => <RadioField key={allergen} name={`allergen.${allergen.replace(" ", "-")}`} label={ALLERGEN_WORDS[allergen]} choices={OF_ALLERGEN} />)}
      </div>
      <div className="fields">
        <TextField name="allergens.source" label="Where it stands" hint="Label of the 5 lb tub, the dealer’s sheet of 3 May" wide />
      </div>
      <p className="quiet">Dated today. A new dealer or another pack is another label: look again.</p>
    </fieldset>
  );
}

/** What lets weight, volume and count of an item meet. */
function MeetFields(): ReactNode {
  return (
    <fieldset>
      <legend>Between weight, volume and count</legend>
      <p className="quiet">Only where recipes need it: a cup of something bought by weight, or a clove of something bought by the case.</p>
      <div className="fields">
        <NumberField name="density.gramsPerMl" label="Grams in a millilitre" hint="Water is 1" />
        <TextField name="density.source" label="Where the density comes from" hint="Own cup, weighed" />
      </div>
      <div className="fields">
        <QuantityField name="eachWeight.weight" label="What one weighs" kinds={["mass"]} bare="g" hint="8 oz, 225 g" />
        <TextField name="eachWeight.source" label="Where that weight comes from" hint="Average of a case, weighed" />
      </div>
    </fieldset>
  );
}

export function NewItemForm({ values, dealers, units, currencies, ...form }: Form & Omit<QuoteFieldsProps, "newDealer"> & { readonly values: Values }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Record this item">
      <ItemFields />
      <QuoteFields dealers={dealers} units={units} currencies={currencies} newDealer />
      <MeetFields />
      <AllergenFields />
    </ChangeForm>
  );
}

/** `bought`: false of a by-product of the house, which no dealer sells. */
export function EditItemForm({ values, dealers, bought, ...form }: Form & { readonly values: Values; readonly dealers: readonly Choice[]; readonly bought: boolean }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Record the change">
      <ItemFields />
      {bought && (
        <div className="fields">
          <SelectField name="dealerId" label="Bought from" choices={dealers} none="Whoever quoted last" hint="It is costed at this dealer’s price" />
        </div>
      )}
      <MeetFields />
      <AllergenFields />
    </ChangeForm>
  );
}

/** Which of the dealers that quote an item it is bought from, and so costed at. */
export function BoughtFromForm({ values, dealers, ...form }: Form & { readonly values: Values; readonly dealers: readonly Choice[] }) {
  return (
    <ChangeForm {...form} values={values} recordLabel="Record the dealer">
      <div className="fields">
        <SelectField name="dealerId" label="Buy it from" choices={dealers} none="Whoever quoted last" />
      </div>
    </ChangeForm>
  );
}

export function QuoteForm({ values, dealers, units, currencies, landed = [], newDealer = true, ...form }: Form & Pick<ChangeFormProps, "recordLabel" | "dated"> & Omit<QuoteFieldsProps, "newDealer"> & {
  readonly values: Values; readonly newDealer?: boolean;
}) {
  return (
    <ChangeForm {...form} values={values}>
      <QuoteFields dealers={dealers} units={units} currencies={currencies} landed={landed} newDealer={newDealer} />
    </ChangeForm>
  );
}
