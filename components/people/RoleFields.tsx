/** What somebody may do: a role, and for a cook whether they see money. */
"use client";
import { useState } from "react";
import { SelectField, TickField } from "@/components/form/SelectField";
import type { Role } from "@/lib/access";

export interface RoleChoice {
  readonly value: Role;
  readonly label: string;
  /** What it lets somebody do. */
  readonly words: string;
}

export function RoleFields({ roles, role, seesMoney }: { readonly roles: readonly RoleChoice[]; readonly role: Role; readonly seesMoney: boolean }) {
  const [chosen, setChosen] = useState<string>(role);
  return (
    <>
      <SelectField name="role" label="May do" choices={roles} start={role} onChoice={setChosen} hint={roles.find(({ value }) => value === chosen)?.words} />
      {chosen === "cook" && <TickField name="seesMoney" label="Sees prices and costs too" start={role === "cook" && seesMoney} />}
    </>
  );
}
