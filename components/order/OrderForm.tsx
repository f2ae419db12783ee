/**
 * What is to be ordered for: the event or the day, which dishes for how many, what else, what is in the house already, and
 * how sure it must be. What was typed stays whatever comes of it; it works without a script too.
 */
"use client";
import { useActionState, useEffect, useRef } from "react";
import { Button, DateField, FormFrame, LineField, LinesField, NumberField, PickField, PickList, RadioField, SelectField, TextField, type Values } from "@/components/form";
import { fieldId } from "@/components/form/FormContext";
import { KeptForm } from "@/components/form/KeptForm";
import { Told } from "@/components/sheet/Told";
import { NOTHING_ASKED, type OrderAction } from "./state";

export interface OrderFormProps {
  readonly action: OrderAction;
  readonly id: string;
  /** The version that stands; null for a new order. */
  readonly version: number | null;
  readonly dishNames: readonly string[];
  readonly values: Values;
  readonly dishes: readonly Values[];
  readonly lines: readonly Values[];
  readonly onHand: readonly Values[];
  readonly surenesses: readonly { readonly value: string; readonly label: string }[];
}

const FORM = "order";

export function OrderForm({ action, id, version, dishNames, values, dishes, lines, onHand, surenesses }: OrderFormProps) {
  const [state, send, busy] = useActionState(action, NOTHING_ASKED);
  const answer = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (state !== NOTHING_ASKED) answer.current?.focus();
  }, [state]);
  const problems = state.status === "refused" ? state.problems : [];
  const back = state.status === "new" ? {} : state.values;
  const standing = state.status === "stale" ? String(state.version) : version === null ? "" : String(version);
  return (
    <KeptForm action={send}>
      <FormFrame id={FORM} values={{ ...values, ...back }} problems={problems}>
        <input type="hidden" name="order" value={id} />
        <input type="hidden" name="version" value={standing} />
        {state.status === "refused" && (
          <Told adverse ref={answer}>
            <p><strong>{problems.length === 1 ? "One thing is not right yet." : `${problems.length} things are not right yet.`}</strong> Nothing was saved.</p>
            <ul>{problems.map((problem, at) => <li key={at}>{problem.path === "" ? problem.sentence : <a href={`#${fieldId(FORM, problem.path)}`}>{problem.sentence}</a>}</li>)}</ul>
          </Told>
        )}
        {state.status === "stale" && <Told adverse ref={answer}><p>{state.sentence}</p></Told>}
        <div className="fields">
          <TextField name="name" label="What it is for" hint="The event, or the day" required />
          <DateField name="forDay" label="The day it is for" />
        </div>
        <PickList id="order-dishes" labels={dishNames} />
        <LinesField name="dishes" legend="Dishes, and how many of each are served" noun="dish" rows={dishes} blankWhen={["dish", "covers"]} hidden={["key"]} least={1}>
          {(prefix, index) => (
            <>
              <PickField name={`${prefix}.dish`} label="Dish" list="order-dishes" {...(index === 0 ? { hint: "A few letters, then choose" } : {})} />
              <NumberField name={`${prefix}.covers`} label="Covers" {...(index === 0 ? { hint: "Plates of it" } : {})} />
            </>
          )}
        </LinesField>
        <LinesField name="lines" legend="What else is wanted" noun="line" rows={lines} blankWhen={["text"]} hidden={["key"]} least={1}>
          {(prefix, index, { says }) => <LineField name={`${prefix}.text`} label="How much of what" says={says} {...(index === 0 ? { hint: "2 gal chicken stock; an item, a cut, a portion or a recipe" } : {})} />}
        </LinesField>
        <LinesField name="onHand" legend="What is in the house already" noun="line" rows={onHand} blankWhen={["text"]} hidden={["key"]} least={1}>
          {(prefix, index, { says }) => <LineField name={`${prefix}.text`} label="How much of what" says={says} {...(index === 0 ? { hint: "As what it is: a case of cream, trimmed loin, portions cut, stock made" } : {})} />}
        </LinesField>
        <div className="fields">
          <SelectField name="sureness" label="How sure that what is cut suffices" choices={surenesses} hint="Taken from how the tests of a cut differ" />
        </div>
        <RadioField name="way" label="How it is served" choices={[{ value: "table", label: "Eaten here" }, { value: "away", label: "Taken away" }]} />
        <div className="fields"><TextField name="note" label="Note" wide lines={3} hint="It stands on every dealer’s sheet" /></div>
        <div className="send"><Button type="submit" aria-disabled={busy} disabled={busy}>{state.status === "stale" ? "Keep mine over theirs" : "Keep the order"}</Button><p role="status">{busy ? "Keeping…" : ""}</p></div>
      </FormFrame>
    </KeptForm>
  );
}
