/** Recording what was weighed: what by-products are worth where nobody has said yet, and the cut it is adopted for. */
"use client";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { RateField } from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { AdoptFields, type CutChoice } from "@/components/yield-test/AdoptFields";
import { TriedResult } from "@/components/yield-test/ResultLedger";

export interface RecordSheetProps extends Pick<ChangeFormProps, "action" | "basedOn" | "hidden"> {
  /** By-products whose worth nobody has said, for whoever may say it. */
  readonly unsaid: readonly { readonly key: string; readonly name: string }[];
  /** The same by their names, for whoever sees no money. */
  readonly discards: readonly string[];
  /** Cuts that it could be adopted for; null where that is for others. */
  readonly cuts: readonly CutChoice[] | null;
}

export function RecordSheet({ unsaid, discards, cuts, ...form }: RecordSheetProps) {
  const { habits } = useKitchen();
  const bare = habits.measures === "us" ? "lb" : "kg";
  return (
    <ChangeForm {...form} recordLabel="Record this test" tryLabel="See what moves" deed="record a test" dated={cuts !== null} tried={(state) => state.result?.kind === "test" && <TriedResult view={state.result} />}>
      {discards.length > 0 && <p className="quiet">{discards.join(", ")}: weighed, and recorded as a discard until the chef says what it is worth.</p>}
      {unsaid.length > 0 && (
        <fieldset>
          <legend>What is it worth to this house?</legend>
          <p className="quiet">Left empty, it is recorded as a discard: it explains the yield and is worth nothing.</p>
          <div className="fields">{unsaid.map((part) => <RateField key={part.key} name={`worth.${part.key}`} label={part.name} bare={bare} />)}</div>
        </fieldset>
      )}
      {cuts !== null && <AdoptFields cuts={cuts} severalMains={null} />}
    </ChangeForm>
  );
}
