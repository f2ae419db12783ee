/** Chooses up to three try-outs to lay side by side. It asks a page, so it works without a script. */
import { Button, type Choice, FormFrame, SelectField, type Values } from "@/components/form";

/** `chosen`: ids by place, "a" to "c". */
export function CompareForm({ chosen, choices }: { readonly chosen: Values; readonly choices: readonly Choice[] }) {
  return (
    <form action="/tries/compare" method="get" className="form">
      <FormFrame id="compare" values={chosen} problems={[]}>
        <div className="fields">
          <SelectField name="a" label="First" choices={choices} />
          <SelectField name="b" label="Second" choices={choices} />
          <SelectField name="c" label="Third" choices={choices} />
        </div>
        <Button type="submit" plain>Compare</Button>
      </FormFrame>
    </form>
  );
}
