/**
 * The sheet of a yield test: what was billed, what each part weighed, what by-products are worth. The same sheet serves
 * every kind of test, with less to fill in for a trim test; the loss is never typed. It can be adopted for a cut in the
 * same step, so that the ripple of a new test is seen before anything is saved.
 */
"use client";
import { type ReactNode, useState } from "react";
import type { TestKind } from "@/lib/book";
import { oneOf } from "@/lib/measure";
import { type ChangeFormProps, ChangeForm } from "@/components/change/ChangeForm";
import {
  type Choice, type ChoiceGroup, type Values, DateField, LinesField, NumberField, QuantityField, RadioField, RateField, SelectField, TextField, TickField,
} from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { KINDS, ROLE_WORDS } from "./kinds";
import { LeftToAccount } from "./LeftToAccount";

export interface TestSheetProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "more"> {
  readonly kind: TestKind;
  readonly values: Values;
  readonly hidden: Values;
  readonly rows: readonly Values[];
  readonly origins: readonly ChoiceGroup[];
  readonly dealers: readonly Choice[];
  /** What a by-product can take the place of. */
  readonly worthOf: readonly ChoiceGroup[];
  /** Cuts that this test could stand behind; null where it is not adopted here. */
  readonly cuts: readonly Choice[] | null;
}

const ROLES: readonly Choice[] = Object.entries(ROLE_WORDS).map(([value, label]) => ({ value, label }));

export function TestSheet({ kind, values, hidden, rows, origins, dealers, worthOf, cuts, ...form }: TestSheetProps) {
  const { habits } = useKitchen();
  const words = KINDS[kind];
  const unit = habits.measures === "us" ? "lb" : "kg";
  const small = habits.measures === "us" ? "1/4 oz" : "5 g";
  const weightHint = habits.measures === "us" ? "18 lb 6 oz, 3 3/8 lb, 18.375 lb, 6.9 kg" : "6.9 kg, 850 g";
  const [origin, setOrigin] = useState(values["of"] ?? "");
  const fromCut = origin.startsWith("cut:");
  return (
    <ChangeForm {...form} values={values} hidden={{ ...hidden, kind }} dated={cuts !== null}>
      <fieldset>
        <legend>What was worked</legend>
        <div className="fields">
          <SelectField name="of" label="Made from" groups={origins} none="Choose…" required onChoice={setOrigin} hint="An item as purchased, or a cut of an earlier test" />
          {!fromCut && <SelectField name="dealerId" label="Dealer" choices={dealers} none="Not known" />}
          <DateField name="on" label="Day of the test" />
          <TextField name="cutter" label="Who cut and weighed" />
          <NumberField name="pieces" label="Pieces worked together" inputMode="decimal" />
          <QuantityField name="billed" label={words.billed} kinds={["mass", "volume", "count"]} bare={unit} required hint={fromCut ? "What went in, of the cut" : weightHint} />
          {!fromCut && <RateField name="price" label={`Dealer’s price ${oneOf(unit)} that day`} bare={unit} />}
          <QuantityField name="scaleStep" label="The scale reads to" kinds={["mass", "volume", "count"]} bare={unit} hint={`Its smallest step, such as ${small}`} />
        </div>
      </fieldset>

      {kind === "cooking" && (
        <fieldset>
          <legend>At the heat</legend>
          <div className="fields">
            <QuantityField name="cooking.trimmed" label="Trimmed weight, as it went in" kinds={["mass", "volume"]} bare={unit} required />
            <QuantityField name="cooking.cooked" label="Cooked weight, as it came out" kinds={["mass", "volume"]} bare={unit} required />
            <TextField name="cooking.method" label="Method" hint="Roasted, braised, grilled" />
            <TextField name="cooking.temperature" label="Oven or heat" />
            <TextField name="cooking.endPoint" label="Cooked to" hint="Temperature inside, or doneness" />
            <TextField name="cooking.time" label="Time" />
          </div>
        </fieldset>
      )}

      <LinesField name="parts" legend={kind === "cooking" ? "At the board" : "The parts, as weighed"} noun="part" rows={rows} blankWhen={["weight"]} hidden={["key"]} least={1} most={60}>
        {(prefix, _index, row) => <PartFields prefix={prefix} row={row} unit={unit} worthOf={worthOf} />}
      </LinesField>

      <LeftToAccount whole={kind === "cooking" ? "cooking.cooked" : "billed"} of={kind === "cooking" ? "cooked weight" : words.billed.toLowerCase()}
        loss={kind === "cooking" ? "lost in carving" : kind === "hydration" ? "water taken up" : "the loss in cutting"} />

      <div className="fields"><TextField name="note" label="Note" wide lines={2} /></div>

      {cuts !== null && <AdoptFields cuts={cuts} />}
    </ChangeForm>
  );
}

function PartFields({ prefix, row, unit, worthOf }: { readonly prefix: string; readonly row: Values; readonly unit: "lb" | "kg"; readonly worthOf: readonly ChoiceGroup[] }): ReactNode {
  const [role, setRole] = useState(row["role"] ?? "discard");
  const [linked, setLinked] = useState(row["worthOf"] ?? "");
  return (
    <>
      <TextField name={`${prefix}.name`} label="Part" />
      <SelectField name={`${prefix}.role`} label="What it is" choices={ROLES} start="discard" onChoice={setRole} />
      <QuantityField name={`${prefix}.weight`} label="Weight" kinds={["mass", "volume", "count"]} bare={unit} />
      {role === "by-product" && (
        <>
          {linked === "" && <RateField name={`${prefix}.worth`} label="Worth to this house" bare={unit} />}
          <SelectField name={`${prefix}.worthOf`} label="Or takes the place of" groups={worthOf} none="Worth as typed" onChoice={setLinked} />
        </>
      )}
      {role === "main" && (
        <>
          <TextField name={`${prefix}.pieces`} label="Pieces, one by one" hint="8 lb 11 oz; 8 lb 9 oz" />
          <RateField name={`${prefix}.marketValue`} label="Bought ready trimmed" bare={unit} hint="Only where several parts are usable" />
        </>
      )}
    </>
  );
}

/** Which cut the test stands behind from now on, if any. */
export function AdoptFields({ cuts }: { readonly cuts: readonly Choice[] }) {
  const [adopt, setAdopt] = useState("");
  return (
    <fieldset>
      <legend>Which cut does it stand behind?</legend>
      <div className="fields">
        <SelectField name="adopt" label="Adopt for" choices={[{ value: "new", label: "A new cut" }, ...cuts]} none="Not yet" onChoice={setAdopt}
          hint="From then on the cut’s cost follows from this test" />
        {adopt === "new" && <TextField name="adoptName" label="Name of the cut" required />}
        {adopt !== "" && adopt !== "new" && <TickField name="adoptPooled" label="Together with the tests it stands on already" />}
      </div>
    </fieldset>
  );
}

/** Adopts a recorded test: which part of it, for which cut. */
export function AdoptForm({ cuts, parts, ...form }: Pick<ChangeFormProps, "action" | "basedOn" | "hidden" | "id"> & { readonly cuts: readonly Choice[]; readonly parts: readonly Choice[] }) {
  return (
    <ChangeForm {...form} recordLabel="Adopt this test" tryLabel="See what moves">
      {parts.length > 1 && <RadioField name="partKey" label="Which part is the cut?" choices={parts} />}
      {parts.length === 1 && <input type="hidden" name="partKey" value={parts[0]?.value ?? ""} />}
      <AdoptFields cuts={cuts} />
    </ChangeForm>
  );
}
