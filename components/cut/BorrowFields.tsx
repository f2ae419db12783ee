/**
 * Which yield to borrow: one of those that the tables publish, each with how surely it is known, or one typed by hand with its
 * source. Chosen by radio buttons, so that it works without a script; the fields for typing stand below and count only
 * when that is chosen.
 */
"use client";
import { useState } from "react";
import { parseYield, printShare, good, toDecimal } from "@/lib/measure";
import { EchoField, TextField } from "@/components/form";
import { useField } from "@/components/form/FormContext";
import { useKitchen } from "@/components/kitchen/KitchenContext";

export interface BorrowChoice {
  readonly key: string;
  /** "89.0 %, Carrots, raw; without crown, tops and scrapings". */
  readonly label: string;
  /** Stage, document, how surely. */
  readonly note: string;
}

const BY_HAND = "by hand";

/** `none`: the words for borrowing nothing, where that is a choice. */
export function BorrowFields({ choices, none }: { readonly choices: readonly BorrowChoice[]; readonly none: string | null }) {
  const field = useField("borrow", none === null ? choices[0]?.key ?? BY_HAND : "");
  const [chosen, setChosen] = useState(field.start);
  const { habits } = useKitchen();
  const bad = field.problems.length > 0;
  const radios = [...(none === null ? [] : [{ key: "", label: none, note: "" }]), ...choices, { key: BY_HAND, label: "Another yield, typed by hand", note: "" }];
  return (
    <fieldset className={bad ? "borrow field bad" : "borrow field"} aria-describedby={bad ? `${field.id}-echo` : undefined}>
      <legend>The yield to borrow</legend>
      <ul className="plain-list">
        {radios.map(({ key, label, note }, index) => (
          <li key={key} className="choices">
            <label>
              <input type="radio" name="borrow" id={index === 0 ? field.id : undefined} value={key} checked={chosen === key} onChange={() => setChosen(key)} aria-describedby={note === "" ? undefined : `${field.id}-${index}-note`} />
              <span>{label}{note !== "" && <span className="from" id={`${field.id}-${index}-note`}>{note}</span>}</span>
            </label>
          </li>
        ))}
      </ul>
      {bad && <p className="wrong" id={`${field.id}-echo`}>{field.problems.map((problem) => problem.sentence).join(" ")}</p>}
      <div className="fields by-hand">
        <EchoField name="borrowed.share" label="Usable of what is bought" unit="%" inputMode="decimal" hint="76, or 291 % of what takes up water" onText={(text) => { if (text !== "") setChosen(BY_HAND); }}
          understand={(text) => { const read = parseYield(text, habits); return read.ok ? good(`${printShare(toDecimal(read.value), habits)} %`) : read; }} />
        <TextField name="borrowed.what" label="What it is of" hint="As its source calls it" />
        <TextField name="borrowed.source" label="Where it is from" hint="A document and its year, or who told it" />
      </div>
    </fieldset>
  );
}
