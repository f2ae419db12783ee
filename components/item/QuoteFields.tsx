/**
 * A dealer's price as it is agreed: from whom, how packed, in what money, what it rests on, and what comes on top of it or
 * is paid back before the goods stand in the house.
 */
"use client";
import { type ReactNode, useState } from "react";
import { gtin14 } from "@/lib/book";
import { type Checked, type Habits, type Unit, bad, good, oneOf, parseMoney, parseShare, printMoney, shareText, toDecimal } from "@/lib/measure";
import { type Choice, DateField, EchoField, LinesField, SelectField, TextField, TickField, type Values } from "@/components/form";
import { useField } from "@/components/form/FormContext";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { PackField } from "./PackField";

export interface QuoteFieldsProps {
  readonly dealers: readonly Choice[];
  /** The units in which its dealers may tell a price, the customary one first. */
  readonly units: readonly Unit[];
  /** The money it may be asked in, the kitchen's own first, as "". */
  readonly currencies: readonly Choice[];
  readonly newDealer: boolean;
  /** The extras and rebates that stand, row by row. */
  readonly landed?: readonly Values[];
}

const BASIS: readonly Choice[] = [{ value: "quoted", label: "quoted" }, { value: "contract", label: "a contract" }, { value: "market", label: "moving with the market" }, { value: "invoice", label: "from an invoice" }];
const WAYS: readonly Choice[] = [{ value: "adds", label: "comes on top" }, { value: "takes-off", label: "is paid back" }];

const unitChoice = (unit: Unit): Choice => ({ value: unit, label: unit === "each" ? "each" : oneOf(unit) });

export function QuoteFields({ dealers, units, currencies, newDealer, landed = [] }: QuoteFieldsProps): ReactNode {
  const { habits } = useKitchen();
  const [dealer, setDealer] = useState("");
  const currency = useField("quote.currency");
  const [money, setMoney] = useState(currency.start);
  const basis = useField("quote.basis", "quoted");
  const [rests, setRests] = useState(basis.start);
  const fresh = dealer === "new" || (newDealer && dealers.length === 0);
  const paid = money === "" ? habits : { ...habits, currency: money };
  return (
    <>
      <fieldset>
        <legend>From whom, how packed, at what price</legend>
        <div className="fields">
          {(dealers.length > 0 || !newDealer) && <SelectField name="quote.dealerId" label="Dealer" hint="Whose price it is" choices={[...dealers, ...(newDealer ? [{ value: "new", label: "A new dealer" }] : [])]} none="Choose…" onChoice={setDealer} />}
          {fresh && <TextField name="dealerName" label="Name of the new dealer" required />}
          {!fresh && newDealer && <noscript><TextField name="dealerName" label="Name, if it is a new dealer" /></noscript>}
          <PackField name="quote.pack" />
          <TickField name="quote.catchWeight" label="Catch weight: billed by what it weighs" />
          <EchoField name="quote.price" label="Price" understand={(text) => moneyIn(text, paid)} inputMode="decimal" required />
          <SelectField name="quote.per" label="The price is for" choices={[{ value: "pack", label: "the pack" }, ...units.map(unitChoice)]} />
          <SelectField name="quote.currency" label="Asked in" choices={currencies} onChoice={setMoney} hint="Other money is reckoned at the rate in the house rules" />
        </div>
      </fieldset>
      <fieldset>
        <legend>What it rests on</legend>
        <div className="fields">
          <SelectField name="quote.basis" label="It is" choices={BASIS} onChoice={setRests} />
          {rests === "contract" ? <DateField name="quote.until" label="Last day of the contract" start="" hint="Empty: it has none" /> : <noscript><DateField name="quote.until" label="Last day of the contract" start="" /></noscript>}
          <TextField name="quote.code" label="Dealer’s order code" />
          <EchoField name="quote.gtin" label="GTIN on the carton" hint="8, 12, 13 or 14 digits below the bars" understand={gtinOf} />
        </div>
      </fieldset>
      <LinesField name="quote.landed" legend="Freight, surcharges and rebates" noun="extra or rebate" rows={landed} blankWhen={["name", "amount"]} hidden={["key"]} least={0} most={12}>
        {(prefix) => <LandedFields prefix={prefix} units={units} habits={paid} />}
      </LinesField>
    </>
  );
}

/** One extra or rebate: what it is for, whether it adds, and so much of money or so much of the price. */
function LandedFields({ prefix, units, habits }: { readonly prefix: string; readonly units: readonly Unit[]; readonly habits: Habits }) {
  const per = useField(`${prefix}.per`, "pack");
  const [of, setOf] = useState(per.start);
  return (
    <>
      <TextField name={`${prefix}.name`} label="What for" />
      <SelectField name={`${prefix}.way`} label="It" choices={WAYS} />
      <EchoField name={`${prefix}.amount`} label="How much" inputMode="decimal" understand={(text) => of === "share" ? shareOf(text, habits) : moneyIn(text, habits)} />
      <SelectField name={`${prefix}.per`} label="For" choices={[{ value: "pack", label: "the pack" }, ...units.map(unitChoice), { value: "share", label: "% of the price" }]} onChoice={setOf} />
    </>
  );
}

function moneyIn(text: string, habits: Habits): Checked<string> {
  const read = parseMoney(text, habits);
  return read.ok ? good(printMoney(toDecimal(read.value.amount), habits)) : read;
}

function shareOf(text: string, habits: Habits): Checked<string> {
  const read = parseShare(text, habits);
  return read.ok ? good(shareText(read.value, habits)) : read;
}

function gtinOf(text: string): Checked<string> {
  const digits = gtin14(text);
  return digits !== null ? good(digits) : bad("", "not-a-gtin", "That is not a GTIN: it has 8, 12, 13 or 14 digits, and the last one checks the others. Read it off the carton once more.");
}
