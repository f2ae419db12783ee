/** What has to be told for a make-or-buy: the bought portion, the time, the hour, what is used of the trim. A form whose answer is an address. */
"use client";
import type { Problem } from "@/lib/measure";
import { Button, FormFrame, MoneyField, NumberField, PickField, PickList, RateField, ShareField, TickField, type Values } from "@/components/form";

export function MakeOrBuyForm({ action, items, values, problems, paper }: { readonly action: string; readonly items: readonly string[]; readonly values: Values; readonly problems: readonly Problem[]; readonly paper: string | null }) {
  return (
    <form className="form make-form" action={action} method="get">
      <FormFrame id="make" values={values} problems={problems}>
        {paper !== null && <input type="hidden" name="paper" value={paper} />}
        <PickList id="bought-items" labels={items} />
        <fieldset>
          <legend>Bought cut</legend>
          <div className="fields">
            <PickField name="item" label="The item, bought in portions" list="bought-items" hint="From the book, with its price" />
            <RateField name="price" label="Or a price" bare="portion" kinds={["mass", "volume", "count"]} hint="6.50, or 13.00 / lb" />
            <ShareField name="trimmed" label="Still trimmed off it" hint="None where it is left blank" />
          </div>
        </fieldset>
        <fieldset>
          <legend>Cut in the house</legend>
          <div className="fields">
            <NumberField name="minutes" label="Minutes a piece" hint="Timed, with cleaning up" />
            <MoneyField name="hourly" label="What an hour costs" hint="Wage and all that comes on top" />
            <MoneyField name="wrap" label="Wrap and disposal, a portion" />
            <ShareField name="used" label="By-products really used" hint="All where it is left blank" />
            <MoneyField name="fixed" label="A week of the machine" hint="If one is bought or rented for it" />
            <NumberField name="volume" label="Portions a week" />
          </div>
          <TickField name="hours" label="The hours can really be cut" start={values["hours"] === "yes"} />
          <TickField name="machine" label="The machine is not paid for yet, or would go" start={values["machine"] === "yes"} />
        </fieldset>
        <div className="send"><Button type="submit">Lay them side by side</Button></div>
      </FormFrame>
    </form>
  );
}
