/**
 * What is reckoned and not weighed, line by line: the house's own name for it, and a share on the cost of the lines, a
 * share of what the whole comes to, or money. The two shares differ: 5 % on 10.00 is 10.50, 5 % of the whole 10.53.
 */
"use client";
import { useState } from "react";
import { type Choice, LinesField, MoneyField, SelectField, ShareField, TextField, type Values } from "@/components/form";

/** `of`: what money is for, "a plate" or "a batch". */
export function AllowanceFields({ rows, of }: { readonly rows: readonly Values[]; readonly of: "a plate" | "a batch" }) {
  return (
    <LinesField name="allowances" legend="Allowances" noun="allowance" rows={rows} blankWhen={["name", "amount"]} hidden={["key"]} least={0} most={20}>
      {(prefix, index, values) => <AllowanceRow prefix={prefix} first={index === 0} start={values["by"]} of={of} />}
    </LinesField>
  );
}

function AllowanceRow({ prefix, first, start, of }: { readonly prefix: string; readonly first: boolean; readonly start: string | undefined; readonly of: string }) {
  const [by, setBy] = useState(start ?? "on-cost");
  const choices: readonly Choice[] = [{ value: "on-cost", label: "% on the cost" }, { value: "of-whole", label: "% of the whole" }, { value: "money", label: `money, ${of}` }];
  return (
    <>
      <TextField name={`${prefix}.name`} label="For" {...(first ? { hint: "Seasoning, cover, what is spilt" } : {})} />
      <SelectField name={`${prefix}.by`} label="Reckoned as" choices={choices} onChoice={setBy} {...(first ? { hint: "5 % on 10.00 is 10.50; of the whole, 10.53" } : {})} />
      {by === "money" ? <MoneyField name={`${prefix}.amount`} label="How much" {...(first ? { hint: "Such as 0.35" } : {})} /> : <ShareField name={`${prefix}.amount`} label="How much" {...(first ? { hint: "Such as 2" } : {})} />}
    </>
  );
}
