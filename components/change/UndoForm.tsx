/** Undoes a recorded change: what that would do is shown first, and it is recorded as a change of its own. */
"use client";
import type { Deed } from "@/lib/access";
import { ChangeForm } from "./ChangeForm";
import type { BasedOn, ChangeAction } from "./state";

export function UndoForm({ action, changeNo, basedOn, deed }: { readonly action: ChangeAction; readonly changeNo: number; readonly basedOn: BasedOn; readonly deed: Deed | undefined }) {
  return (
    <ChangeForm action={action} basedOn={basedOn} hidden={{ change: String(changeNo), why: `Undoes change ${changeNo}` }} id="undo-form"
      tryLabel="Show what undoing would do" recordLabel="Undo this change" dated={false} askWhy={false} {...(deed === undefined ? {} : { deed })}>
      <p>Every fact above goes back to what it was before. It is recorded as a new change, which can be undone in its turn.</p>
    </ChangeForm>
  );
}
