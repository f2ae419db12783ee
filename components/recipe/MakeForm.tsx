/** Asks for a recipe at another size; a plain form that gets, so that it works without a script and the answer has an address. */
import { Button, FormFrame, TextField } from "@/components/form";
import type { AskedMake } from "./scaled";

export function MakeForm({ action, asked, carried = {} }: { readonly action: string; readonly asked: AskedMake; readonly carried?: Readonly<Record<string, string>> }) {
  return (
    <form className="form make" action={action} method="get" key={asked.text}>
      <FormFrame id="make" values={{ make: asked.text }} problems={asked.problems}>
        {Object.entries(carried).map(([name, value]) => <input key={name} type="hidden" name={name} value={value} />)}
        <div className="fields"><TextField name="make" label="Make" hint="10 qt, 100 portions, 75 portions of 5 oz, ×2" /></div>
        <div className="send"><Button type="submit" plain>Show it so</Button></div>
      </FormFrame>
    </form>
  );
}
