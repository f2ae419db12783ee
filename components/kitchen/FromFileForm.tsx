/**
 * Choosing a kitchen’s file and opening it. A plain form that sends itself; where there is a script it is sent in place, and
 * what is wrong with the file is told here.
 */
"use client";
import { type FormEvent, useId, useRef, useState } from "react";
import { Button } from "@/components/form";
import "@/components/out/out.css";
import { Told } from "@/components/sheet/Told";

interface Wrong {
  readonly path: string;
  readonly sentence: string;
}

const UNSENT: readonly Wrong[] = [{ path: "", sentence: "The file could not be sent: there is no connection. It is still chosen here; send it again." }];

export function FromFileForm({ largest }: { readonly largest: number }) {
  const id = useId();
  const [state, setState] = useState<{ readonly sending: boolean; readonly wrong: readonly Wrong[] }>({ sending: false, wrong: [] });
  const told = useRef<HTMLDivElement>(null);

  const send = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    if (state.sending) return;
    const data = new FormData(event.currentTarget);
    const chosen = data.get("file");
    const wrong = !(chosen instanceof File) || chosen.size === 0 ? "Choose the file of a kitchen: the one that “The whole kitchen” gave." : chosen.size > largest ? `A kitchen’s file may be ${Math.floor(largest / 1024 / 1024)} MiB at most.` : null;
    setState({ sending: wrong === null, wrong: wrong === null ? [] : [{ path: "", sentence: wrong }] });
    if (wrong === null) {
      const failed = await post(data);
      if (failed === null) {
        window.location.assign("/dishes");
        return;
      }
      setState({ sending: false, wrong: failed });
    }
    requestAnimationFrame(() => told.current?.focus());
  };

  return (
    <form className="form file-form" action="/kitchens/file" method="post" encType="multipart/form-data" onSubmit={(event) => { void send(event); }}>
      {state.wrong.length > 0 && (
        <Told adverse ref={told}>
          <p>The kitchen was not opened, and nothing was saved.</p>
          <ul>{state.wrong.map(({ path, sentence }, at) => <li key={at}>{sentence}{path !== "" && <> <span className="quiet small">at {path}</span></>}</li>)}</ul>
        </Told>
      )}
      <div className={state.wrong.length > 0 ? "field bad" : "field"}>
        <label htmlFor={`${id}-file`}>The kitchen’s file</label>
        <input id={`${id}-file`} type="file" name="file" accept=".json,application/json" aria-describedby={`${id}-hint`} />
        <p className="hint" id={`${id}-hint`}>The JSON document that “The whole kitchen” on Files gave, here or in another installation.</p>
      </div>
      <div className="send"><Button type="submit" plain aria-disabled={state.sending}>Open the kitchen of this file</Button><p role="status">{state.sending ? "Going through its record, change by change…" : ""}</p></div>
    </form>
  );
}

/** What is wrong; null when it was opened. */
async function post(data: FormData): Promise<readonly Wrong[] | null> {
  try {
    const answer = await fetch("/kitchens/file", { method: "POST", body: data, headers: { Accept: "application/json" } });
    if (answer.ok) return null;
    if (!(answer.headers.get("content-type") ?? "").includes("json")) return [{ path: "", sentence: (await answer.text()).trim() }];
    const { problems } = await answer.json() as { readonly problems: readonly Wrong[] };
    return problems;
  } catch {
    return UNSENT;
  }
}
