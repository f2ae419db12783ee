/** Which item a line is that nobody matched: one of the likeliest, or another by its name. */
"use client";
import { NameField } from "@/components/tryout/NameField";

export interface ItemChoiceProps {
  readonly row: number;
  readonly what: string;
  readonly offers: readonly { readonly value: string; readonly label: string }[];
  readonly chosen: string;
}

export function ItemChoice({ row, what, offers, chosen }: ItemChoiceProps) {
  return (
    <div className="item-choice">
      <select className="find" name={`item.${row}`} defaultValue={chosen} aria-label={`Which item is ${what}, row ${row}?`}>
        <option value="">{offers.length === 0 ? "not bought here" : "not bought here, or:"}</option>
        {offers.map(({ value, label }) => <option key={value} value={value}>{label}</option>)}
      </select>
      <NameField name={`name.${row}`} of="item" label={<><span className="quiet">or another, by name</span><span className="visually-hidden">, row {row}</span></>} onText={nothing} />
    </div>
  );
}

const nothing = (): void => undefined;
