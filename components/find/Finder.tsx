/**
 * The find box: opened from any page with "/", Ctrl-K or the word Find in the index, it shows what answers while one
 * types. Arrow keys choose, Enter opens, Escape closes and gives the focus back. "?" shows the keys there are. Single
 * letters can be switched off on a device (they can be in the way of speech input); without a script the word leads to
 * the page of the same kind.
 */
"use client";
import { useRouter } from "next/navigation";
import { type KeyboardEvent as ReactKeyboardEvent, useCallback, useEffect, useId, useRef, useState } from "react";
import { Button } from "@/components/form/Button";
import type { AnswersView } from "./answers";
import { FIND_EVENT } from "./open-finder";
import "./finder.css";

/** Typing is let settle for so long before the kitchen's book is asked, in milliseconds. */
const SETTLE = 60;
const KEYS_OFF = "trimledger-keys-off";

const NOTHING: AnswersView = { answers: [], of: 0 };

export function Finder() {
  const router = useRouter();
  const id = useId();
  const box = useRef<HTMLDialogElement>(null);
  const field = useRef<HTMLInputElement>(null);
  const keys = useRef<HTMLDialogElement>(null);
  const [asked, setAsked] = useState("");
  const [told, setTold] = useState<{ readonly asked: string; readonly view: AnswersView | null }>({ asked: "", view: NOTHING });
  const [at, setAt] = useState(-1);
  const [keysOff, setKeysOff] = useState(false);

  const open = useCallback(() => {
    if (box.current?.open !== false) return;
    keys.current?.close();
    box.current.showModal();
    field.current?.select();
  }, []);

  useEffect(() => {
    const off = (): boolean => {
      try { return localStorage.getItem(KEYS_OFF) !== null; } catch { return false; }
    };
    const press = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing) return;
      if ((event.ctrlKey || event.metaKey) && !event.altKey && !event.shiftKey && event.key.toLowerCase() === "k") {
        event.preventDefault();
        open();
        return;
      }
      if (event.ctrlKey || event.metaKey || event.altKey || typing(event.target) || document.querySelector("dialog[open]") !== null || off()) return;
      if (event.key === "/") {
        event.preventDefault();
        open();
      } else if (event.key === "?") {
        event.preventDefault();
        setKeysOff(off());
        keys.current?.showModal();
      }
    };
    document.addEventListener("keydown", press);
    document.addEventListener(FIND_EVENT, open);
    return () => {
      document.removeEventListener("keydown", press);
      document.removeEventListener(FIND_EVENT, open);
    };
  }, [open]);

  useEffect(() => {
    const words = asked.trim();
    const leave = new AbortController();
    const ask = setTimeout(() => {
      if (words === "") { setTold({ asked: "", view: NOTHING }); return; }
      fetch(`/find/answers?q=${encodeURIComponent(words)}`, { headers: { accept: "application/json" }, signal: leave.signal })
        .then(async (answer) => {
          setTold({ asked: words, view: answer.ok ? (await answer.json()) as AnswersView : null });
          setAt(0);
        })
        .catch(() => { if (!leave.signal.aborted) setTold({ asked: words, view: null }); });
    }, words === "" ? 0 : SETTLE);
    return () => {
      clearTimeout(ask);
      leave.abort();
    };
  }, [asked]);

  const answers = told.view?.answers ?? [];
  const go = (href: string): void => {
    box.current?.close();
    router.push(href);
  };
  const onKeyDown = (event: ReactKeyboardEvent<HTMLInputElement>): void => {
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (step !== 0 && answers.length > 0) {
      event.preventDefault();
      const next = at + step;
      setAt(next >= answers.length ? 0 : next < 0 ? answers.length - 1 : next);
    } else if (event.key === "Enter") {
      event.preventDefault();
      // What was typed last may not have been answered yet: then the page of the same kind finds it.
      const chosen = told.asked === asked.trim() ? answers[at] : undefined;
      if (chosen !== undefined) go(chosen.href);
      else if (asked.trim() !== "") go(`/find?q=${encodeURIComponent(asked.trim())}`);
    }
  };
  const optionId = (index: number): string => `${id}-${index}`;
  const chosen = answers[at];

  useEffect(() => {
    if (at >= 0) document.getElementById(`${id}-${at}`)?.scrollIntoView({ block: "nearest" });
  }, [at, id]);

  return (
    <>
      <dialog className="finder" ref={box} aria-label="Find in the book" onClick={(event) => { if (event.target === box.current) box.current.close(); }}>
        <div className="looking">
          <label htmlFor={`${id}-field`}>Find</label>
          <input id={`${id}-field`} ref={field} className="find" type="text" role="combobox" aria-autocomplete="list" aria-expanded={answers.length > 0} aria-controls={`${id}-list`} aria-activedescendant={chosen === undefined ? undefined : optionId(at)}
            value={asked} onChange={(event) => setAsked(event.target.value)} onKeyDown={onKeyDown} autoComplete="off" spellCheck={false} maxLength={120} placeholder="Dish, recipe, cut, item, order code…" />
          <Button plain onClick={() => box.current?.close()}>Close</Button>
        </div>
        <ul id={`${id}-list`} role="listbox" aria-label="What answers">
          {answers.map((answer, index) => (
            <li key={answer.key} id={optionId(index)} role="option" aria-selected={index === at} onClick={() => go(answer.href)} onPointerMove={() => { if (at !== index) setAt(index); }}>
              <span>{answer.name}</span> <span className="quiet small">{answer.kind}{answer.note !== "" && `, ${answer.note}`}</span>
            </li>
          ))}
        </ul>
        <p role="status" className="quiet small">{words(told, asked)}</p>
      </dialog>
      <dialog className="finder keys" ref={keys} aria-label="Keys">
        <h2>Keys</h2>
        <dl>
          <div><dt><kbd>/</kbd> or <kbd>Ctrl</kbd> <kbd>K</kbd></dt><dd>find something in the book</dd></div>
          <div><dt><kbd>↑</kbd> <kbd>↓</kbd> <kbd>Enter</kbd></dt><dd>choose and open what was found</dd></div>
          <div><dt><kbd>Alt</kbd> <kbd>↑</kbd> <kbd>↓</kbd></dt><dd>move the line one stands in, in a list of lines</dd></div>
          <div><dt><kbd>Alt</kbd> <kbd>Enter</kbd></dt><dd>add a line below</dd></div>
          <div><dt><kbd>Enter</kbd> in a field</dt><dd>try what was typed; nothing is recorded by it</dd></div>
          <div><dt><kbd>Esc</kbd></dt><dd>close what lies over the page</dd></div>
          <div><dt><kbd>?</kbd></dt><dd>show these keys</dd></div>
        </dl>
        <p><label className="tick"><input type="checkbox" checked={keysOff} onChange={(event) => { setKeysOff(event.target.checked); keepKeysOff(event.target.checked); }} /> Switch “/” and “?” off on this device; <kbd>Ctrl</kbd> <kbd>K</kbd> stays.</label></p>
        <p><Button plain onClick={() => keys.current?.close()}>Close</Button>{" "}<Button plain onClick={() => { keys.current?.close(); open(); }}>Find something</Button></p>
      </dialog>
    </>
  );
}

function words(told: { readonly asked: string; readonly view: AnswersView | null }, asked: string): string {
  if (asked.trim() === "") return "Type the beginning of a word or two.";
  if (told.view === null) return "The kitchen’s book could not be reached. Try again in a moment.";
  if (told.asked === "") return "Looking…";
  const { answers, of } = told.view;
  if (of === 0) return `Nothing answers to “${told.asked}”.`;
  if (of > answers.length) return `The best ${answers.length} of ${of}. More words find fewer.`;
  return of === 1 ? "One answers." : `${of} answer.`;
}

/** Whether keys are for what has the focus. */
function typing(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && (target.isContentEditable || target.closest("input:not([type=checkbox], [type=radio], [type=button], [type=submit]), textarea, select") !== null);
}

function keepKeysOff(off: boolean): void {
  try {
    if (off) localStorage.setItem(KEYS_OFF, "yes");
    else localStorage.removeItem(KEYS_OFF);
  } catch {
    // A browser that keeps nothing asks again next time.
  }
}
