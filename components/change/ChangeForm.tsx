/**
 * The form of every edit. Its fields are the children; it adds from which day the change applies and why. "Try it" shows the ripple and saves nothing; "Record" saves it with its ripple. What
 * was typed stays on the screen whatever comes back: a problem, somebody else's faster change (theirs beside mine), a
 * lost connection. It works without a script too: the form posts to the same action.
 *
 *   <ChangeForm action={changePrice} basedOn={basedOn} values={{ price: "7.10" }} recordLabel="Record this price">
 *     <RateField name="price" label="Price a pound" bare="lb" figured />
 *   </ChangeForm>
 *
 * The action is `(state, formData) => runChange(formData, { read, … })` (app/(kitchen)/change-flow/run-change.ts).
 */
"use client";
import { useRouter } from "next/navigation";
import { type FormEvent, type ReactNode, useActionState, useEffect, useRef, useState, useTransition } from "react";
import { LoopWays } from "@/components/byproduct/LoopWays";
import { Told } from "@/components/sheet/Told";
import { Button } from "@/components/form/Button";
import { DateField } from "@/components/form/DateField";
import { FormFrame, type Values, fieldId } from "@/components/form/FormContext";
import { SelectField } from "@/components/form/SelectField";
import { TextField } from "@/components/form/TextField";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import type { Deed } from "@/lib/access";
import type { Problem } from "@/lib/measure";
import { Ripple } from "./Ripple";
import { StaleNote } from "./StaleNote";
import { type BasedOn, type ChangeAction, type ChangeState, EDITING, type TriedState } from "./state";

export interface ChangeFormProps {
  readonly action: ChangeAction;
  /** `basedOn(live, facts)` of lib/store, taken when the page was made. */
  readonly basedOn: BasedOn;
  /** What the fields start with, by name. */
  readonly values?: Values;
  /** What is sent along unseen: the id of the thing edited. */
  readonly hidden?: Values;
  readonly recordLabel: string;
  readonly tryLabel?: string;
  /** What recording it is called in the table of lib/access: whoever may not can still try. Left out where the whole page is for those who may. */
  readonly deed?: Deed;
  /** The change applies from a day that can be chosen (default); false: from today, without a word. */
  readonly dated?: boolean;
  /** Asks why, for the record (default). */
  readonly askWhy?: boolean;
  /** Further buttons of the foot, such as one that takes the thing off the book (name="intent" value="record", name it in `hidden`). */
  readonly more?: ReactNode;
  /** What stands before the ripple of a try: the result of a test that was just typed. */
  readonly tried?: (state: TriedState) => ReactNode;
  /** Prefix of the fields' ids, where two forms stand on a page. */
  readonly id?: string;
  readonly children: ReactNode;
}

/** What the form was made on: the revisions, and the ids sent along unseen. */
interface Made {
  readonly basedOn: BasedOn;
  readonly hidden: Values;
}

/** Somebody has begun here: `made` is what the form stays on; null once that is recorded, until the page has come anew and is touched again. */
interface Begun {
  readonly key: string;
  readonly made: Made | null;
  readonly recorded: string;
}

/**
 * The page around the form is made anew whenever somebody records a change (components/live). As long as nobody has begun
 * here, the form is made anew with it; from the first touch on it stays as it was made, and so does what it is based on.
 */
export function ChangeForm(props: ChangeFormProps) {
  const { action, basedOn, hidden = {} } = props;
  // Without a script the form posts and the page comes back with the state; with one, the same action is called here,
  // so that a lost connection is a sentence and not an error page.
  const [posted, postAction] = useActionState(action, EDITING);
  const [begun, setBegun] = useState<Begun | null>(null);
  const now = JSON.stringify([basedOn, hidden]);
  const key = begun?.key ?? JSON.stringify(basedOn);
  return (
    <BegunForm key={key} {...props} posted={posted} postAction={postAction} made={begun?.made ?? { basedOn, hidden }}
      onBegin={() => { if (begun === null || (begun.made === null && begun.recorded !== now)) setBegun({ key, made: { basedOn, hidden }, recorded: "" }); }}
      onRecorded={() => setBegun({ key, made: null, recorded: now })} />
  );
}

interface BegunFormProps extends ChangeFormProps {
  readonly posted: ChangeState;
  readonly postAction: (formData: FormData) => void;
  readonly made: Made;
  readonly onBegin: () => void;
  readonly onRecorded: () => void;
}

function BegunForm({ action, posted, postAction, basedOn: latest, made, onBegin, onRecorded, values = {}, recordLabel, tryLabel = "Try it", deed, dated = true, askWhy = true, more, tried, id = "change", children }: BegunFormProps) {
  const router = useRouter();
  const { deeds } = useKitchen();
  const mayRecord = deed === undefined || deeds.includes(deed);
  const [answered, setAnswered] = useState<ChangeState | null>(null);
  const [busy, startWork] = useTransition();
  const [asked, setAsked] = useState("try");
  const state = answered ?? posted;
  const [starting] = useState<Values>(() => ("values" in posted ? { ...values, ...posted.values } : values));
  const sent = "values" in state ? { ...starting, ...state.values } : starting;
  const problems = state.status === "refused" ? state.problems : NONE;
  // The revisions that were seen and recorded from here, fact by fact: the last is mine, whatever the page has become since.
  const [own, setOwn] = useState<Readonly<Record<string, readonly (number | null)[]>>>({});
  const basedOn: BasedOn = Object.fromEntries(Object.entries(made.basedOn).map(([fact, revision]) => [fact, own[fact]?.at(-1) ?? revision]));
  const overtaken = !busy && state.status !== "stale" && Object.entries(latest).some(([fact, revision]) => fact in basedOn && basedOn[fact] !== revision && own[fact]?.includes(revision) !== true);
  const answer = useRef<HTMLDivElement>(null);
  const trouble = useRef<HTMLDivElement>(null);

  useEffect(() => {
    if (answered === null) return;
    if (answered.status === "tried" || answered.status === "recorded" || answered.status === "kept") {
      answer.current?.focus({ preventScroll: true });
      answer.current?.scrollIntoView({ block: "start", behavior: "auto" });
    }
    if (answered.status === "refused" || answered.status === "stale" || answered.status === "failed") {
      trouble.current?.focus({ preventScroll: true });
      trouble.current?.scrollIntoView({ block: "center", behavior: "auto" });
    }
  }, [answered]);

  const onSubmit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault();
    if (busy) return;
    onBegin();
    const submitter = (event.nativeEvent as SubmitEvent).submitter;
    const formData = new FormData(event.currentTarget, submitter);
    if (!formData.has("intent")) formData.set("intent", "try");
    setAsked(String(formData.get("intent")));
    startWork(async () => {
      let next: ChangeState;
      try {
        next = await action(state, formData);
      } catch {
        next = { status: "failed", sentence: "The kitchen’s book could not be reached. Nothing was saved; what you typed is still here. Try again in a moment.", values: {} };
      }
      startWork(() => setAnswered(next));
      if (next.status === "recorded") {
        const made = next.basedOn;
        setOwn((before) => ({ ...before, ...Object.fromEntries(Object.entries(made).map(([fact, revision]) => [fact, [...(before[fact] ?? []), basedOn[fact] ?? null, revision]])) }));
        onRecorded();
        if (next.next !== null) router.push(next.next);
        else router.refresh();
      }
    });
  };

  return (
    <form className="form" action={postAction} onSubmit={onSubmit} onFocus={onBegin} onInput={onBegin} noValidate aria-busy={busy}>
      <FormFrame id={id} values={sent} problems={problems}>
        {/* Enter in a field tries, and never records or writes over anybody: the first submit button of a form is its default. */}
        <button type="submit" name="intent" value="try" className="visually-hidden" tabIndex={-1} aria-hidden="true">{tryLabel}</button>
        <input type="hidden" name="basedOn" value={JSON.stringify(basedOn)} />
        {state.status === "stale" && <input type="hidden" name="basedOnTheirs" value={JSON.stringify(state.basedOn)} />}
        {Object.entries(made.hidden).map(([name, value]) => <input key={name} type="hidden" name={name} value={value} />)}

        {state.status === "refused" && <ProblemList problems={problems} asked={state.asked === true} busy={busy} formId={id} ref={trouble} />}
        {state.status === "failed" && <Told adverse ref={trouble}><p>{state.sentence}</p></Told>}
        {state.status === "stale" && <StaleNote stale={state.stale} ref={trouble} busy={busy} />}

        {overtaken && <Told><p><strong>Somebody changed this while you are at it.</strong> What you typed stays. When you record, you will be shown what they changed, and asked.</p></Told>}

        {children}

        {"loop" in state && state.loop ? <LoopWays loop={state.loop} busy={busy} />
          : state.status !== "recorded" && Object.entries(sent).filter(([name]) => name.startsWith("loop.")).map(([name, value]) => <input key={name} type="hidden" name={name} value={value} />)}

        {mayRecord && (dated || askWhy) && (
          <div className="fields">
            {dated && <DateField name="from" label="Applies from" />}
            {askWhy && <TextField name="why" label="Why" hint="One line for the record, if you like" wide={!dated} />}
          </div>
        )}

        {(state.status === "tried" || state.status === "recorded") && (
          <div className="ripple" ref={answer} tabIndex={-1} role="region" aria-label={state.status === "tried" ? "What this change would do" : "What this change did"}>
            {state.status === "recorded"
              ? <Told><p>{state.sentence}{state.href !== null && <> <a href={state.href}>See it in the record</a> or <a href={`${state.href}#undo`}>undo it</a></>}</p></Told>
              : <>{tried?.(state)}<h2>What this would do</h2></>}
            <Ripple ripple={state.ripple} />
          </div>
        )}

        {state.status === "kept" && <Told ref={answer}><p>{state.sentence} <a href={state.href}>Open {state.name}</a></p></Told>}
        {state.status === "tried" && state.keep !== null && <KeepTried tryouts={state.keep} busy={busy} />}

        <div className="foot">
          <p role="status">{busy ? (asked === "try" ? "Working it out…" : asked === "keep" ? "Putting it in the try-out…" : "Recording…") : mayRecord ? footWords(state) : "Try what you like: nothing is saved. Recording it is for others in this kitchen."}{busy && <span className="waiting" style={{ display: "block", margin: 0 }} />}</p>
          {more}
          <Button type="submit" name="intent" value="try" plain aria-disabled={busy}>{tryLabel}</Button>
          {mayRecord && <Button type="submit" name="intent" value="record" aria-disabled={busy}>{recordLabel}</Button>}
        </div>
      </FormFrame>
    </form>
  );
}

/** The way into a try-out: an open one, or a new one. */
function KeepTried({ tryouts, busy }: { readonly tryouts: readonly { readonly id: string; readonly name: string }[]; readonly busy: boolean }) {
  const choices = [...tryouts.map(({ id, name }) => ({ value: id, label: name })), { value: "", label: "a new try-out" }];
  return (
    <div className="keep-tried">
      <SelectField name="tryout" label="Put it in a try-out" choices={choices} hint="Kept beside others and compared; the book stays as it is" />
      <Button type="submit" name="intent" value="keep" plain aria-disabled={busy}>Put it in</Button>
    </div>
  );
}

const NONE: readonly Problem[] = [];

function footWords(state: ChangeState): string {
  switch (state.status) {
    case "recorded": return `Recorded as change ${state.changeNo}.`;
    case "tried": return "Nothing is saved yet.";
    case "refused": return state.asked === true ? "Nothing is saved yet: there is a question above." : "Nothing is saved: see what is wrong above.";
    case "stale": return "Nothing is saved yet: somebody else was faster.";
    case "kept": return "Kept in a try-out. The book is as it was.";
    case "failed": return "Nothing is saved.";
    case "editing": return "Nothing is saved yet.";
  }
}

interface ProblemListProps {
  readonly problems: readonly Problem[];
  /** They are questions: whoever is sure may record it all the same. */
  readonly asked: boolean;
  readonly busy: boolean;
  readonly formId: string;
  readonly ref: React.Ref<HTMLDivElement>;
}

/** All problems at the top, each leading to its field. */
function ProblemList({ problems, asked, busy, formId, ref }: ProblemListProps) {
  const many = problems.length > 1;
  return (
    <Told adverse={!asked} ref={ref}>
      <p><strong>{asked ? (many ? "Some things to be sure of first." : "One thing to be sure of first.") : many ? `${problems.length} things are not right yet.` : "One thing is not right yet."}</strong> Nothing was saved.</p>
      <ul>
        {problems.map((problem, index) => (
          <li key={index}>{problem.path === "" ? problem.sentence : <a href={`#${fieldId(formId, problem.path)}`}>{problem.sentence}</a>}</li>
        ))}
      </ul>
      {asked && <p><Button type="submit" name="intent" value="sure" plain aria-disabled={busy}>It is right: record it</Button></p>}
    </Told>
  );
}
