/**
 * The desk of a try-out: what is pretended, each figure to be typed over, and rows to try something new in; beside it what
 * all of it does to the menu, worked out anew with every key. Nothing of it touches the book; "Keep" keeps it under the
 * name of the try-out. Works without a script: then the figures come with the page.
 */
"use client";
import Link from "next/link";
import { useRouter } from "next/navigation";
import { type FormEvent, type ReactNode, useActionState, useEffect, useRef, useState, useTransition } from "react";
import { Button } from "@/components/form/Button";
import { FormFrame, fieldId } from "@/components/form/FormContext";
import { Told } from "@/components/sheet/Told";
import type { Problem } from "@/lib/measure";
import { FigureField } from "./FigureField";
import { NameField } from "./NameField";
import { NoFigures, TriedDishes, TriedFacts, TriedSentence } from "./TriedMenu";
import { AT_THE_DESK, type DeskAction, type DeskAnswer, type DeskState, type MoveView, type TriedMenuView } from "./state";

/** How long a typist pauses before the figures are asked for, in milliseconds: less than it takes to see them. */
const PAUSE = 60;
const NONE: readonly Problem[] = [];

export interface TryDeskProps {
  readonly id: string;
  readonly version: number;
  readonly moves: readonly MoveView[];
  /** What the kept moves do, as the page has it. */
  readonly menu: TriedMenuView;
  readonly order: "money" | "crossings";
  readonly action: DeskAction;
  /** Dropped or made real: it is only read. */
  readonly closed: boolean;
  /** What stands under the table: the rest of the list. */
  readonly children?: ReactNode;
}

export function TryDesk({ id, version, moves, menu, order, action, closed, children }: TryDeskProps) {
  const router = useRouter();
  const [posted, post] = useActionState(action, AT_THE_DESK);
  const [answered, setAnswered] = useState<DeskState | null>(null);
  const [busy, startWork] = useTransition();
  const [live, setLive] = useState<DeskAnswer | null>(null);
  const [silent, setSilent] = useState(false);
  /** Begun anew once something new has been kept: its rows are empty again. */
  const [round, setRound] = useState(0);
  const form = useRef<HTMLFormElement>(null);
  const told = useRef<HTMLDivElement>(null);
  const pause = useRef(0);
  const asked = useRef<AbortController | null>(null);
  const state = answered ?? posted;
  const problems = state.status === "refused" ? state.problems : NONE;
  const sent = "values" in state && state.status !== "kept" ? state.values : {};
  // Whoever was told of somebody else's version goes on from that one.
  const standing = state.status === "stale" || state.status === "kept" ? Math.max(state.version, version) : version;

  useEffect(() => {
    if (answered !== null) told.current?.focus();
  }, [answered]);
  useEffect(() => () => { window.clearTimeout(pause.current); asked.current?.abort(); }, []);

  const ask = (): void => {
    window.clearTimeout(pause.current);
    pause.current = window.setTimeout(() => {
      if (form.current === null) return;
      asked.current?.abort();
      const controller = new AbortController();
      asked.current = controller;
      const body = new FormData(form.current);
      // Fields that the framework adds for a page without a script are no business of the figures.
      for (const name of [...body.keys()]) if (name.startsWith("$")) body.delete(name);
      fetch(`/tries/${encodeURIComponent(id)}/figures`, { method: "POST", body, signal: controller.signal, headers: { accept: "application/json" } })
        .then(async (answer) => {
          if (!answer.ok) throw new Error(String(answer.status));
          setLive(await answer.json() as DeskAnswer);
          setSilent(false);
        })
        .catch(() => { if (!controller.signal.aborted) setSilent(true); });
    }, PAUSE);
  };

  // The page was made anew under what is being typed: the book has moved on, and so have the figures.
  const seenMenu = useRef(menu);
  useEffect(() => {
    if (seenMenu.current === menu) return;
    seenMenu.current = menu;
    if (live !== null) ask();
  });

  const onSubmit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault();
    if (busy) return;
    const { submitter } = event.nativeEvent as SubmitEvent;
    const formData = new FormData(event.currentTarget, submitter);
    const intent = String(formData.get("intent") ?? "keep");
    startWork(async () => {
      let next: DeskState;
      try {
        next = await action(state, formData);
      } catch {
        next = { status: "refused", problems: [{ path: "", code: "failed", sentence: "The kitchen’s book could not be reached. Nothing was saved; what you typed is still here. Try again in a moment." }], values: {} };
      }
      startWork(() => {
        setAnswered(next);
        if (next.status !== "kept") return;
        if (intent === "keep") { setRound((before) => before + 1); setLive(null); }
        router.refresh();
      });
    });
  };

  const shown = live?.menu ?? menu;
  const caption = shown.of === 0 ? "" : shown.of === 1 ? "The dish that moves, before and after"
    : `The ${shown.rows.length < shown.of ? `${shown.before + 1} to ${shown.before + shown.rows.length} of ${shown.of}` : shown.of} dishes that move, ${order === "money" ? "most money a week first" : "those that cross first"}`;
  return (
    <form className="desk" ref={form} action={post} onSubmit={onSubmit} noValidate aria-busy={busy}>
      <FormFrame id="try" values={sent} problems={problems}>
        {/* Enter in a field keeps; it never takes anything off. */}
        <button type="submit" name="intent" value="keep" className="visually-hidden" tabIndex={-1} aria-hidden="true">Keep</button>
        <input type="hidden" name="try" value={id} />
        <input type="hidden" name="version" value={standing} />
        <input type="hidden" name="order" value={order} />

        {state.status === "refused" && (
          <Told adverse ref={told}>
            <p><strong>{problems.length === 1 ? "One thing is not right yet." : `${problems.length} things are not right yet.`}</strong> Nothing was saved.</p>
            <ul>{problems.map((problem, at) => <li key={at}>{problem.path === "" ? problem.sentence : <a href={`#${fieldId("try", problem.path)}`}>{problem.sentence}</a>}</li>)}</ul>
          </Told>
        )}
        {state.status === "stale" && <Told adverse ref={told}><p>{state.sentence}</p></Told>}
        {state.status === "kept" && <Told ref={told}><p>{state.told}</p></Told>}

        <section className="tried-moves" aria-labelledby="tried-moves">
          <h2 id="tried-moves">What is tried</h2>
          {moves.length === 0 && <p>Nothing yet. {closed ? "" : "Fill in one row or several below: the figures follow as you type."}</p>}
          {moves.length > 0 && (
            <ol className="moves">
              {moves.map((move) => (
                <li key={`${move.key} ${move.figure?.value ?? ""}`}>
                  <div className="move">
                    <p>{move.href === null ? <strong>{move.what}</strong> : <Link href={move.href}>{move.what}</Link>} {move.says}{move.today !== null && <span className="quiet"> (today {move.today})</span>}</p>
                    {move.added !== null && <p className="quiet small">{move.added}</p>}
                    {move.problem !== null && <p className="wrong">{move.problem}</p>}
                  </div>
                  {!closed && (
                    <div className="move-do">
                      {move.figure !== null && <FigureField name={`figure.${move.key}`} label={<span className="visually-hidden">{move.figure.label}</span>} start={move.figure.value} onText={ask} />}
                      {move.overtaken.length > 0 && <Button type="submit" small name="intent" value={`seen:${move.key}`} aria-disabled={busy}>I have seen it<span className="visually-hidden">: {move.what}</span></Button>}
                      <Button type="submit" small name="intent" value={`remove:${move.key}`} aria-disabled={busy}>Take off<span className="visually-hidden">: {move.what} {move.says}</span></Button>
                    </div>
                  )}
                  {move.overtaken.length > 0 && (
                    <div className="overtaken">
                      <p><strong>Changed since this was added.</strong> It still applies, to what the book says now.</p>
                      <ul>{move.overtaken.map((one) => <li key={one.key}>{one.said}{one.lines.length > 0 && <>: {one.lines.join("; ")}</>}</li>)}</ul>
                    </div>
                  )}
                </li>
              ))}
            </ol>
          )}
          {!closed && <NewMoves key={round} onText={ask} />}
        </section>

        <section className="tried-summary" aria-labelledby="tried-menu">
          <h2 id="tried-menu">What it does to the menu</h2>
          <div aria-live="polite">
            {live !== null && live.drafts.length > 0 && <p>With <strong>{live.drafts.join("; ")}</strong>, not kept yet.</p>}
            {live !== null && live.problems.length > 0 && <ul className="wrong">{live.problems.map(({ sentence }, at) => <li key={at}>{sentence}</li>)}</ul>}
            {silent && <p className="wrong">The figures cannot be worked out just now: the server is out of reach. What you typed is still here.</p>}
            <NoFigures problems={shown.problems} />
            {shown.problems.length === 0 && <TriedSentence menu={shown} />}
          </div>
          <TriedFacts menu={shown} />
        </section>

        <div className="tried-dishes">
          {shown.rows.length > 0 && (
            <p className="orders">
              {order === "money" ? <><strong>By money a week</strong> · <Link href="?sort=crossings" scroll={false}>Those that cross first</Link></> : <><Link href="?" scroll={false}>By money a week</Link> · <strong>Those that cross first</strong></>}
            </p>
          )}
          <TriedDishes menu={shown} caption={caption} />
          {live === null && children}
        </div>

        {!closed && (
          <div className="foot">
            <p role="status">{busy ? "Keeping it…" : "The book stays as it is until a try-out is made real."}</p>
            <Button type="submit" name="intent" value="keep" aria-disabled={busy}>Keep what is tried</Button>
          </div>
        )}
      </FormFrame>
    </form>
  );
}

/** Rows for what people try most. Anything else is put in from its own edit form. */
function NewMoves({ onText }: { readonly onText: () => void }) {
  return (
    <fieldset className="new-moves">
      <legend>Try</legend>
      <div className="try-row">
        <NameField name="add.share.of" of="prices" label="Prices of" hint="An item, a dealer or a shelf" onText={onText} />
        <FigureField name="add.share.by" label="Dearer or cheaper by" hint="+8 %, −5 %" onText={onText} />
      </div>
      <div className="try-row">
        <NameField name="add.price.item" of="item" label="The price of" hint="An item" onText={onText} />
        <FigureField name="add.price.price" label="At" hint="As it is bought, or 7.10 / lb" onText={onText} />
      </div>
      <div className="try-row">
        <NameField name="add.size.spec" of="spec" label="A portion" hint="A portion spec" onText={onText} />
        <FigureField name="add.size.size" label="At a size of" hint="8 oz" onText={onText} />
      </div>
      <div className="try-row">
        <NameField name="add.gross.dish" of="dish" label="A dish" hint="As on the menu" onText={onText} />
        <FigureField name="add.gross.gross" label="At a menu price of" hint="As printed" onText={onText} />
      </div>
      <div className="try-row four">
        <NameField name="add.replace.item" of="item" label="In place of" hint="An item, wherever it is taken" onText={onText} />
        <NameField name="add.replace.by" of="item" label="Take" hint="Another item" onText={onText} />
        <FigureField name="add.replace.from" label="From" hint="Empty: from the start" date onText={onText} />
        <FigureField name="add.replace.until" label="Until" hint="Empty: for good" date onText={onText} />
      </div>
    </fieldset>
  );
}
