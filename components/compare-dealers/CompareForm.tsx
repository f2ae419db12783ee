/** By which cut, portion and dish dealers are compared: a form whose answer is an address. */
"use client";
import "./compare-dealers.css";
import { Button, type Choice, FormFrame, SelectField, type Values } from "@/components/form";

export function CompareForm({ action, cuts, portions, dishes, values }: { readonly action: string; readonly cuts: readonly Choice[]; readonly portions: readonly Choice[]; readonly dishes: readonly Choice[]; readonly values: Values }) {
  const none = { value: "none", label: "none" };
  return (
    <form className="form compare-form" action={action} method="get" key={`${values["cut"] ?? ""} ${values["portion"] ?? ""} ${values["dish"] ?? ""}`}>
      <FormFrame id="compare" values={values} problems={NOTHING}>
        <div className="fields">
          <SelectField name="cut" label="As which cut" choices={cuts} />
          <SelectField name="portion" label="Portion" choices={[...portions, none]} />
          <SelectField name="dish" label="On which dish" choices={[...dishes, none]} />
        </div>
        <div className="send"><Button type="submit" plain>Compare by these</Button></div>
      </FormFrame>
    </form>
  );
}

const NOTHING: readonly never[] = [];
