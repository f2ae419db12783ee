/** A delivery as its paper bills it, and what the scale at the door read beside it. */
"use client";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type Choice, DateField, LinesField, MoneyField, NumberField, PickField, PickList, QuantityField, RadioField, SelectField, TextField, TickField, type Values } from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import "./delivery.css";

const ANY = ["mass", "volume", "count"] as const;
const KINDS: readonly Choice[] = [{ value: "invoice", label: "An invoice" }, { value: "credit", label: "A credit memo, which takes something back" }];

export interface DeliveryFormProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "hidden"> {
  readonly values: Values;
  readonly rows: readonly Values[];
  readonly dealers: readonly Choice[];
  readonly items: readonly string[];
  readonly pers: readonly Choice[];
}

export function DeliveryForm({ values, rows, dealers, items, pers, ...form }: DeliveryFormProps) {
  const { deeds } = useKitchen();
  return (
    <ChangeForm {...form} values={values} dated={false}>
      <RadioField name="kind" label="The paper is" choices={KINDS} />
      <div className="fields">
        <SelectField name="dealerId" label="Dealer" choices={dealers} none="Choose…" required />
        <TextField name="number" label="Its number" hint="As printed" />
        <DateField name="on" label="Day on the paper" />
      </div>
      <PickList id="delivery-items" labels={items} />
      <LinesField name="lines" legend="What was billed" rows={rows} blankWhen={["item", "billed", "price"]} hidden={["key"]} least={1} most={500}>
        {(prefix, index, row) => (
          <>
            <PickField name={`${prefix}.item`} label="Item" list="delivery-items" {...(index === 0 ? { hint: "A few letters, then choose" } : {})} />
            <NumberField name={`${prefix}.packs`} label="Packs" {...(index === 0 ? { hint: "If they were counted" } : {})} />
            <QuantityField name={`${prefix}.billed`} label="Billed, in all" kinds={ANY} {...(index === 0 ? { hint: "Left out, it is what the packs hold" } : {})} />
            <QuantityField name={`${prefix}.received`} label="Received" kinds={ANY} {...(index === 0 ? { hint: "What your scale read" } : {})} />
            <MoneyField name={`${prefix}.price`} label="Price" />
            <SelectField name={`${prefix}.per`} label="for" choices={pers} />
            <MoneyField name={`${prefix}.amount`} label="Total of the line" {...(index === 0 ? { hint: "As printed" } : {})} />
            <details className="wide delivered" open={["lot", "useBy", "note"].some((field) => (row[field] ?? "") !== "")}>
              <summary>Lot, use by, note</summary>
              <div className="fields">
                <TextField name={`${prefix}.lot`} label="Lot" />
                <DateField name={`${prefix}.useBy`} label="Use by" start="" />
                <TextField name={`${prefix}.note`} label="Note" />
              </div>
            </details>
          </>
        )}
      </LinesField>
      {deeds.includes("change items and prices") && <TickField name="takePrices" label="Take these prices over as the dealer’s prices from the day on the paper" />}
      <div className="fields"><TextField name="note" label="Note on the delivery" wide lines={2} /></div>
    </ChangeForm>
  );
}
