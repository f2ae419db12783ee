/** Makes a try-out real: every change in it recorded as one, from a day on. What has been overtaken is looked at first. */
"use client";
import { ChangeForm } from "@/components/change/ChangeForm";
import type { BasedOn, ChangeAction } from "@/components/change/state";
import { TickField } from "@/components/form";
import type { Deed } from "@/lib/access";

export interface MakeRealFormProps {
  readonly action: ChangeAction;
  readonly basedOn: BasedOn;
  readonly tryoutId: string;
  readonly version: number;
  /** The revisions of the overtaken facts as the page shows them, as JSON. */
  readonly revisions: string;
  /** How many moves have been overtaken. */
  readonly overtaken: number;
  /** A deed that it takes and that its reader may not do. */
  readonly deed: Deed | undefined;
}

export function MakeRealForm({ action, basedOn, tryoutId, version, revisions, overtaken, deed }: MakeRealFormProps) {
  return (
    <ChangeForm action={action} basedOn={basedOn} hidden={{ try: tryoutId, version: String(version), revisions }} id="real"
      tryLabel="Show what it would do" recordLabel="Make it real" {...(deed === undefined ? {} : { deed })}>
      <p>All of it becomes one change in the record, which can be undone as a whole.</p>
      {overtaken > 0 && deed === undefined && <TickField name="seen" label={overtaken === 1 ? "I have seen what was changed under the move that is marked" : `I have seen what was changed under the ${overtaken} moves that are marked`} />}
    </ChangeForm>
  );
}
