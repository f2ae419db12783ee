/**
 * The tests that could stand behind a cut, each with a tick. A test that is not ticked asks why it is left out: one that
 * stood behind the cut may not go without a word, one that nobody has decided about may wait.
 */
"use client";
import { useState } from "react";
import { TextField } from "@/components/form";
import { useField } from "@/components/form/FormContext";

export interface PoolChoice {
  readonly testId: string;
  /** "Butcher test, Tue 13 Oct 2026". */
  readonly label: string;
  /** "67.1 % usable of 26 lb 4 oz, Tarrow, block cook". */
  readonly note: string;
  readonly behind: boolean;
  /** Why it was left out; "" where nobody said. */
  readonly reason: string;
}

export function PoolFields({ tests }: { readonly tests: readonly PoolChoice[] }) {
  return (
    <fieldset className="pool">
      <legend>Stands on these tests, pooled by weight</legend>
      <ul className="plain-list">
        {tests.map((test) => <PoolField key={test.testId} test={test} />)}
      </ul>
    </fieldset>
  );
}

function PoolField({ test }: { readonly test: PoolChoice }) {
  const field = useField(`keep.${test.testId}`, test.behind ? "yes" : "no");
  const [ticked, setTicked] = useState(field.start === "yes");
  return (
    <li>
      <div className="field choices">
        {/* Says that it was unticked, where nothing would be sent: so the tick comes back as it was left. */}
        <input type="hidden" name={`keep.${test.testId}`} value="no" />
        <label htmlFor={field.id}>
          <input id={field.id} type="checkbox" name={`keep.${test.testId}`} value="yes" checked={ticked} onChange={(event) => setTicked(event.target.checked)} aria-describedby={test.note === "" ? undefined : `${field.id}-note`} />
          {test.label}
        </label>
        {test.note !== "" && <span className="quiet small" id={`${field.id}-note`}>{test.note}</span>}
      </div>
      {field.problems.length > 0 && <p className="wrong">{field.problems.map((problem) => problem.sentence).join(" ")}</p>}
      {!ticked && <WhyNot test={test} />}
    </li>
  );
}

/** Asked for at once where the test stood behind the cut or is left out; at hand where nobody has decided about it. */
function WhyNot({ test }: { readonly test: PoolChoice }) {
  const name = `reason.${test.testId}`;
  const { start, problems } = useField(name, test.reason);
  const reason = <TextField name={name} label={<>Why it is left out<span className="visually-hidden">: {test.label}</span></>} start={test.reason} wide />;
  if (test.behind || start !== "" || problems.length > 0) return <div className="why-not">{reason}</div>;
  return (
    <details className="why-not unfold">
      <summary>Leave it out, and say why<span className="visually-hidden">: {test.label}</span></summary>
      {reason}
    </details>
  );
}
