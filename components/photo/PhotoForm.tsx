/**
 * Taking a photo of the trim, or choosing one. A plain form that sends itself; where there is a script it is sent in
 * place, so that a refusal loses neither the photo nor what was written beside it.
 */
"use client";
import { useRouter } from "next/navigation";
import { type FormEvent, useId, useRef, useState } from "react";
import { Button } from "@/components/form";

export interface PhotoFormProps {
  readonly testId: string;
  readonly from: "test" | "block";
  /** Why the last photo was not kept, where the page was come back to without a script. */
  readonly refused: string | null;
}

/** As the store has it: said here already, before minutes are spent on sending. */
const LARGEST = 12 * 1024 * 1024;

export function PhotoForm({ testId, from, refused }: PhotoFormProps) {
  const id = useId();
  const router = useRouter();
  const file = useRef<HTMLInputElement>(null);
  const [state, setState] = useState<{ readonly sending: boolean; readonly wrong: string | null; readonly told: string }>({ sending: false, wrong: refused, told: "" });

  const send = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    if (state.sending) return;
    const form = event.currentTarget;
    const data = new FormData(form);
    const chosen = data.get("photo");
    const wrong = !(chosen instanceof File) || chosen.size === 0 ? "Choose a photo, or take one." : chosen.size > LARGEST ? "A photo may be 12 MiB at most. Take it at a smaller setting, or send a smaller copy." : null;
    if (wrong === null) setState({ sending: true, wrong: null, told: "Sending the photo" });
    const failed = wrong ?? await post(data);
    setState({ sending: false, wrong: failed, told: failed === null ? "The photo is kept." : "" });
    if (failed !== null) {
      file.current?.focus();
      return;
    }
    form.reset();
    router.refresh();
  };

  return (
    <form className="form photo-form" action="/photos" method="post" encType="multipart/form-data" onSubmit={(event) => { void send(event); }}>
      <input type="hidden" name="test" value={testId} />
      <input type="hidden" name="from" value={from} />
      <div className={state.wrong === null ? "field" : "field bad"}>
        <label htmlFor={`${id}-photo`}>Photo of what was cut away</label>
        <input ref={file} id={`${id}-photo`} type="file" name="photo" accept="image/*" capture="environment" aria-describedby={`${id}-hint${state.wrong === null ? "" : ` ${id}-wrong`}`} aria-invalid={state.wrong === null ? undefined : true} />
        <p className="hint" id={`${id}-hint`}>Kept without the place and time that a camera writes into it. Mind who else is in the picture.</p>
        {state.wrong !== null && <p className="wrong" id={`${id}-wrong`} role="alert">{state.wrong}</p>}
      </div>
      <div className="field">
        <label htmlFor={`${id}-caption`}>What it shows</label>
        <input id={`${id}-caption`} type="text" name="caption" maxLength={200} autoComplete="off" />
      </div>
      <Button type="submit" plain aria-disabled={state.sending}>{state.sending ? "Sending…" : "Keep this photo"}</Button>
      <p className="visually-hidden" role="status">{state.told}</p>
    </form>
  );
}

/** Why it was not kept; null when it was. */
async function post(data: FormData): Promise<string | null> {
  try {
    const answer = await fetch("/photos", { method: "POST", body: data, headers: { Accept: "application/json" } });
    if (answer.ok) return null;
    if (!(answer.headers.get("content-type") ?? "").includes("json")) return (await answer.text()).trim() || UNSENT;
    const told = await answer.json() as { readonly sentence?: string };
    return told.sentence ?? UNSENT;
  } catch {
    return UNSENT;
  }
}

const UNSENT = "The photo could not be sent: there is no connection to the kitchen’s book. It is still chosen here; send it again.";
