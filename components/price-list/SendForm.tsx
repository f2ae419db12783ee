/**
 * A form that asks for something long: reading a file of thousands of lines, recording them. Where there is a script it
 * tells what is being done and can be stopped, which leaves nothing behind; without one it is a plain form that waits.
 */
"use client";
import { useRouter } from "next/navigation";
import { type FormEvent, type ReactNode, useEffect, useRef, useState } from "react";
import { Told } from "@/components/sheet/Told";
import { Button } from "@/components/form/Button";
import type { SendNews } from "./send-news";

export interface SendFormProps {
  /** The address that it is sent to. */
  readonly to: string;
  readonly submit: string;
  /** What is said first, before anything is heard. */
  readonly begins: string;
  /** It carries a file. */
  readonly file?: boolean;
  /** Said where it is stopped. */
  readonly stopped: string;
  /** Why the last one was refused, where the page was come back to without a script. */
  readonly refused?: readonly string[];
  readonly children?: ReactNode;
  /** What keeps it from being sent at all: a file that is too long, say. */
  readonly largest?: number;
}

export function SendForm({ to, submit, begins, file = false, stopped, refused = NONE, largest, children }: SendFormProps) {
  const router = useRouter();
  const [doing, setDoing] = useState<string | null>(null);
  const [wrong, setWrong] = useState<readonly string[]>(refused);
  const [told, setTold] = useState("");
  const asked = useRef<AbortController | null>(null);
  const trouble = useRef<HTMLDivElement>(null);
  useEffect(() => () => asked.current?.abort(), []);
  const busy = doing !== null;

  const onSubmit = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    if (busy) return;
    const body = new FormData(event.currentTarget, (event.nativeEvent as SubmitEvent).submitter);
    const chosen = [...body.values()].find((value) => value instanceof File);
    const unfit = !file ? null : !(chosen instanceof File) || chosen.size === 0 ? "Choose the file first." : largest !== undefined && chosen.size > largest ? `The file may be ${Math.round(largest / 1024 / 1024)} MB at most; this one is ${Math.ceil(chosen.size / 1024 / 1024)} MB.` : null;
    if (unfit !== null) { fail([unfit]); return; }
    const controller = new AbortController();
    asked.current = controller;
    setWrong(NONE);
    setTold("");
    setDoing(begins);
    const ending = await send(to, body, controller.signal, setDoing);
    asked.current = null;
    if (controller.signal.aborted) {
      setDoing(null);
      setTold(stopped);
      // At the very end it may have been carried out all the same: then the page says so.
      router.refresh();
    } else if ("href" in ending) {
      setDoing("Opening it");
      router.push(ending.href);
      router.refresh();
    } else fail(ending.problems);
  };

  const fail = (problems: readonly string[]): void => {
    setDoing(null);
    setWrong(problems);
    window.requestAnimationFrame(() => trouble.current?.focus());
  };

  return (
    <form className="form" action={to} method="post" encType={file ? "multipart/form-data" : undefined} onSubmit={(event) => { void onSubmit(event); }} noValidate aria-busy={busy}>
      {wrong.length > 0 && <Told adverse ref={trouble}><ul>{wrong.map((sentence) => <li key={sentence}>{sentence}</li>)}</ul></Told>}
      {children}
      <div className="send">
        <Button type="submit" aria-disabled={busy}>{submit}</Button>
        {busy && <Button plain onClick={() => asked.current?.abort()}>Stop</Button>}
        <p role="status">{doing === null ? told : `${doing}…`}{busy && <span className="waiting" />}</p>
      </div>
    </form>
  );
}

const NONE: readonly string[] = [];
const UNSENT = "The kitchen’s book could not be reached, and nothing was saved. What you chose is still here; try again in a moment.";

/** How it ended. */
async function send(to: string, body: FormData, signal: AbortSignal, tell: (doing: string) => void): Promise<Exclude<SendNews, { doing: string }>> {
  try {
    const answer = await fetch(to, { method: "POST", body, signal, headers: { Accept: "application/x-ndjson" } });
    if (!answer.ok || answer.body === null || !(answer.headers.get("content-type") ?? "").includes("ndjson")) return { problems: [(await answer.text()).trim().slice(0, 500) || UNSENT] };
    const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = "";
    for (;;) {
      const { value, done } = await reader.read();
      const lines = (rest + (value ?? "")).split("\n");
      rest = lines.pop() ?? "";
      for (const line of lines) {
        const news = JSON.parse(line) as SendNews;
        if ("doing" in news) tell(news.doing);
        else return news;
      }
      if (done) return { problems: [UNSENT] };
    }
  } catch {
    return { problems: [UNSENT] };
  }
}
