/** How a dealer's list is laid out: which column holds what. Set right once, it is remembered for the dealer's next list. */
"use client";
import { type Choice, NumberField, PlainForm, SelectField, TickField } from "@/components/form";
import type { PlainAction } from "@/components/form/plain-state";

export interface LayoutFormProps {
  readonly action: PlainAction;
  readonly list: string;
  readonly version: number;
  /** The fields of the layout with what each is set to now. */
  readonly values: Readonly<Record<string, string>>;
  readonly columns: readonly Choice[];
  readonly sheets: readonly Choice[];
  readonly units: readonly Choice[];
  readonly currencies: readonly Choice[];
  /** Of a text file: what parts its columns, and how its letters are written; none of a workbook. */
  readonly delimiters: readonly Choice[];
  readonly encodings: readonly Choice[];
  readonly dealer: string;
}

const FIELDS: readonly { readonly name: string; readonly label: string; readonly hint?: string }[] = [
  { name: "code", label: "Order code", hint: "What the dealer calls it by" },
  { name: "gtin", label: "GTIN", hint: "The bar code’s figures" },
  { name: "name", label: "Name" },
  { name: "pack", label: "Pack", hint: "6/#10, 40 lb, 12 x 1 qt" },
  { name: "price", label: "Price" },
  { name: "per", label: "What the price is for", hint: "CS, lb, kg, each" },
  { name: "currency", label: "Currency" },
  { name: "from", label: "Valid from" },
];

export function LayoutForm({ action, list, version, values, columns, sheets, units, currencies, delimiters, encodings, dealer }: LayoutFormProps) {
  return (
    <PlainForm id="layout" action={action} submit="Read it this way" busy="Reading it anew…" plain values={values} hidden={{ list, version: String(version) }}>
      <div className="fields">
        {FIELDS.map(({ name, label, hint }) => <SelectField key={name} name={`column.${name}`} label={label} hint={hint} none="no column" choices={columns} />)}
      </div>
      <div className="fields">
        {sheets.length > 1 && <SelectField name="sheet" label="Sheet" choices={sheets} />}
        <NumberField name="headings" label="Row of the headings" hint="Empty where none stands above the lines" />
        <SelectField name="decimal" label="Decimals are written" choices={[{ value: ".", label: "7.10 (1,234.56)" }, { value: ",", label: "7,10 (1.234,56)" }]} />
        <SelectField name="days" label="Days are written" choices={[{ value: "day first", label: "day first: 3/4 is 3 April" }, { value: "month first", label: "month first: 3/4 is March 4" }]} />
        <SelectField name="per" label="Where nothing says it, a price is for" none="what it is for on file" choices={units} />
        {currencies.length > 1 && <SelectField name="money" label="Prices are in" choices={currencies} />}
        {delimiters.length > 0 && <SelectField name="delimiter" label="Columns are parted by" none="as it looks" choices={delimiters} />}
        {encodings.length > 0 && <SelectField name="encoding" label="Letters are written as" none="as it looks" choices={encodings} />}
      </div>
      <TickField name="remember" label={`Remember it for the next list of ${dealer}`} start />
    </PlainForm>
  );
}
