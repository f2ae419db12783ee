/**
 * The sheet of a yield test: what was billed, what each part weighed, what by-products are worth. The same sheet serves
 * every kind of test, with less to fill in for a trim test; the loss is never typed. It can be adopted for a cut in the
 * same step, so that the result of a new test and its ripple are seen before anything is saved.
 */
"use client";
import { type ReactNode, useState } from "react";
import type { TestKind } from "@/lib/book";
import { oneOf } from "@/lib/measure";
import { type ChangeFormProps, ChangeForm } from "@/components/change/ChangeForm";
import {
  type Choice, type ChoiceGroup, type Values, DateField, LinesField, NumberField, QuantityField, RateField, SelectField, TextField,
} from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { AdoptFields, type CutChoice } from "./AdoptFields";
import { TriedResult } from "./ResultLedger";
import { KINDS, ROLE_WORDS, usualParts } from "./kinds";
import { LeftToAccount } from "./LeftToAccount";

/** What a sheet of one origin starts with. */
export interface SheetStart {
  readonly dealerId: string;
  readonly price: string;
  readonly scaleStep: string;
  /** A cut: what it carries in, told in a sentence. */
  readonly carriesIn: string | null;
  /** The parts of its last test without their weights; null where there is none. */
  readonly rows: readonly Values[] | null;
  /** Whose parts those are: "Tue 13 Oct 2026". */
  readonly lastOn: string | null;
}

export interface TestSheetProps extends Pick<ChangeFormProps, "action" | "basedOn" | "recordLabel" | "more"> {
  readonly kind: TestKind;
  readonly values: Values;
  readonly hidden: Values;
  readonly rows: readonly Values[];
  readonly origins: readonly ChoiceGroup[];
  /** By origin, "item:…" or "cut:…"; what is put into fields that nobody has typed in yet. */
  readonly starts: Readonly<Record<string, SheetStart>>;
  readonly dealers: readonly Choice[];
  /** What a by-product can take the place of. */
  readonly worthOf: readonly ChoiceGroup[];
  /** Cuts that this test could stand behind; null where it is not adopted here. */
  readonly cuts: readonly CutChoice[] | null;
  /** A new test rather than a correction. */
  readonly isNew: boolean;
  /** Whether prices and what parts are worth are asked for at all. */
  readonly seesMoney: boolean;
}

const ROLES: readonly Choice[] = Object.entries(ROLE_WORDS).map(([value, label]) => ({ value, label }));

/** A field that a choice elsewhere fills: its text, and how often that happened (the field begins anew each time). */
interface Fill<T> {
  readonly with: T | undefined;
  readonly times: number;
}
interface Fills {
  readonly dealerId: Fill<string>;
  readonly price: Fill<string>;
  readonly scaleStep: Fill<string>;
  readonly rows: Fill<readonly Values[]>;
}
const UNFILLED = { with: undefined, times: 0 };

export function TestSheet({ kind, values, hidden, rows, origins, starts, dealers, worthOf, cuts, isNew, seesMoney, ...form }: TestSheetProps) {
  const { habits } = useKitchen();
  const words = KINDS[kind];
  const unit = habits.measures === "us" ? "lb" : "kg";
  const small = habits.measures === "us" ? "1/4 oz" : "5 g";
  const weightHint = habits.measures === "us" ? "18 lb 6 oz, 3 3/8 lb, 18.375 lb, 6.9 kg" : "6.9 kg, 850 g";
  const [origin, setOrigin] = useState(values["of"] ?? "");
  const [fills, setFills] = useState<Fills>({ dealerId: UNFILLED, price: UNFILLED, scaleStep: UNFILLED, rows: UNFILLED });
  const [typed, setTyped] = useState<ReadonlySet<keyof Fills>>(new Set());
  const start = starts[origin];
  const fromCut = origin.startsWith("cut:");

  const chooseOrigin = (chosen: string): void => {
    setOrigin(chosen);
    const next = starts[chosen];
    const fill = <T,>(name: keyof Fills, old: Fill<T>, text: T): Fill<T> => (typed.has(name) ? old : { with: text, times: old.times + 1 });
    if (Object.keys(starts).length === 0) return;
    setFills((old) => ({
      dealerId: fill("dealerId", old.dealerId, next?.dealerId ?? ""), price: fill("price", old.price, next?.price ?? ""),
      scaleStep: fill("scaleStep", old.scaleStep, next?.scaleStep ?? ""), rows: fill("rows", old.rows, next?.rows ?? usualParts(kind)),
    }));
  };
  const touch = (name: keyof Fills) => (): void => setTyped((old) => (old.has(name) ? old : new Set([...old, name])));

  return (
    <ChangeForm {...form} values={values} hidden={{ ...hidden, kind }} dated={isNew && cuts !== null} tried={(state) => state.result?.kind === "test" && <TriedResult view={state.result} />}>
      <fieldset>
        <legend>What was worked</legend>
        <div className="fields">
          <SelectField name="of" label="Made from" groups={origins} none="Choose…" required onChoice={chooseOrigin} hint="An item as purchased, or a cut of an earlier test" />
          {!fromCut && <SelectField key={`dealer ${fills.dealerId.times}`} name="dealerId" label="Dealer" choices={dealers} none="Not known" prefill={fills.dealerId.with} onChoice={touch("dealerId")} />}
          <DateField name="on" label="Day of the test" />
          <TextField name="cutter" label="Who cut and weighed" />
          <NumberField name="pieces" label="Pieces worked together" inputMode="decimal" />
          <QuantityField name="billed" label={words.billed} kinds={["mass", "volume", "count"]} bare={unit} required hint={fromCut ? "What went in, of the cut" : weightHint} />
          {!fromCut && seesMoney && <RateField key={`price ${fills.price.times}`} name="price" label={`Dealer’s price ${oneOf(unit)} that day`} bare={unit} prefill={fills.price.with} onText={touch("price")} />}
          <QuantityField key={`step ${fills.scaleStep.times}`} name="scaleStep" label="The scale reads to" kinds={["mass", "volume", "count"]} bare={unit} hint={`Its smallest step, such as ${small}`} prefill={fills.scaleStep.with} onText={touch("scaleStep")} />
        </div>
        {fromCut && start?.carriesIn && <p>{start.carriesIn}</p>}
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

      <div className="weighing">
        <LeftToAccount kind={kind} />
        {start?.lastOn && isNew && <p className="quiet">The parts are those of the last test, of {start.lastOn}.</p>}
        <LinesField key={`rows ${fills.rows.times}`} name="parts" legend={kind === "cooking" ? "At the board" : "The parts, as weighed"} noun="part" rows={fills.rows.with ?? rows} blankWhen={["weight"]} hidden={["key"]} least={1} most={60}>
          {(prefix, _index, row) => <PartFields prefix={prefix} row={row} unit={unit} worthOf={worthOf} seesMoney={seesMoney} onWeight={touch("rows")} />}
        </LinesField>
        <p className="quiet">{kind === "hydration" ? "What the cooked weight is over the dry weight is water taken up" : `What is left when everything is weighed is ${kind === "cooking" ? "lost in carving" : "the loss in cutting"}`}: it is worked out, never typed.</p>
      </div>

      <div className="fields"><TextField name="note" label="Note" wide lines={2} /></div>

      {cuts !== null && <AdoptFields key={origin} cuts={cuts.filter((cut) => cut.of === origin)} severalMains={null} />}
    </ChangeForm>
  );
}

function PartFields({ prefix, row, unit, worthOf, seesMoney, onWeight }: {
  readonly seesMoney: boolean;
  readonly prefix: string;
  readonly row: Values;
  readonly unit: "lb" | "kg";
  readonly worthOf: readonly ChoiceGroup[];
  readonly onWeight: () => void;
}): ReactNode {
  const [role, setRole] = useState(row["role"] ?? "discard");
  const [linked, setLinked] = useState(row["worthOf"] ?? "");
  const shared = [row["marketValue"], row["furtherCost"]].some((text) => text !== undefined && text !== "");
  return (
    <>
      <TextField name={`${prefix}.name`} label="Part" />
      <SelectField name={`${prefix}.role`} label="What it is" choices={ROLES} start="discard" onChoice={setRole} />
      <QuantityField name={`${prefix}.weight`} label="Weight" kinds={["mass", "volume", "count"]} bare={unit} onText={onWeight} />
      {role === "by-product" && seesMoney && (
        <>
          {linked === "" && <RateField name={`${prefix}.worth`} label="Worth to this house" bare={unit} />}
          <SelectField name={`${prefix}.worthOf`} label="Or takes the place of" groups={worthOf} none="Worth as typed" onChoice={setLinked} />
        </>
      )}
      {role === "main" && (
        <>
          <TextField name={`${prefix}.pieces`} label="Pieces, one by one" hint="8 lb 11 oz; 8 lb 9 oz" />
          {seesMoney && <details className="unfold" open={shared}>
            <summary>Where several parts are usable</summary>
            <div className="fields">
              <RateField name={`${prefix}.marketValue`} label="Bought ready trimmed" bare={unit} hint="What a dealer asks for this part alone" />
              <RateField name={`${prefix}.furtherCost`} label="Further work on it" bare={unit} hint="Cutting or curing still to come" />
            </div>
          </details>}
        </>
      )}
    </>
  );
}
