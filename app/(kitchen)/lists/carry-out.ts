/**
 * Carrying out something long that was asked for by a form. A script hears of every step (a line of JSON each, the last
 * one says how it ended) and stops it by hanging up; a plain form waits, and is sent on to a page. Between two steps the
 * process gets to other people's requests, and looks whether anybody is still waiting for this one. Server only.
 */
import { cookies } from "next/headers";
import { logProblem } from "@/app/log";
import { requestId } from "@/app/request-id";
import type { SendNews } from "@/components/price-list/send-news";

/** How it ended: go on to a page, or what is wrong. `page` is where a plain form is sent to with it. */
export type Ending = { readonly href: string } | { readonly problems: readonly string[]; readonly page: string };

/** Whoever asked has hung up. */
export class HungUp extends Error {}

export type Step = (doing: string) => Promise<void>;

export const SIGNED_OUT = "You are not signed in any more. Nothing was saved. Sign in in another tab, then send this again.";
const FAILED = "This could not be carried out, and nothing was saved. Try again in a moment.";

export async function carryOut(request: Request, work: (step: Step) => Promise<Ending>): Promise<Response> {
  const byScript = (request.headers.get("accept") ?? "").includes("application/x-ndjson");
  const number = await requestId();
  const guarded = async (step: Step): Promise<Ending> => {
    try {
      return await work(step);
    } catch (error) {
      if (error instanceof HungUp) throw error;
      logProblem("A price list could not be worked on", error, { request: number });
      return { problems: [FAILED], page: "/lists" };
    }
  };
  return byScript ? streamed(request.signal, guarded) : plain(request.signal, guarded);
}

async function plain(signal: AbortSignal, work: (step: Step) => Promise<Ending>): Promise<Response> {
  try {
    const ending = await work(() => between(() => signal.aborted));
    // A path alone: behind a proxy only the browser knows the address that people open.
    if ("href" in ending) return new Response(null, { status: 303, headers: { Location: ending.href } });
    return new Response(null, { status: 303, headers: { Location: `${ending.page}${ending.page.includes("?") ? "&" : "?"}told=yes`, "Set-Cookie": toldCookie(ending.problems) } });
  } catch (error) {
    if (!(error instanceof HungUp)) throw error;
    // Nobody reads it.
    return new Response(null, { status: 408 });
  }
}

function streamed(signal: AbortSignal, work: (step: Step) => Promise<Ending>): Response {
  const text = new TextEncoder();
  let gone = false;
  const stream = new ReadableStream<Uint8Array>({
    async start(out) {
      const tell = (news: SendNews): void => { if (!gone) out.enqueue(text.encode(`${JSON.stringify(news)}\n`)); };
      try {
        const ending = await work(async (doing) => {
          tell({ doing });
          await between(() => gone || signal.aborted);
        });
        tell("href" in ending ? { href: ending.href } : { problems: ending.problems });
        if (!gone) out.close();
      } catch (error) {
        if (!(error instanceof HungUp)) throw error;
        if (!gone) out.close();
      }
    },
    cancel() { gone = true; },
  });
  return new Response(stream, { headers: { "Content-Type": "application/x-ndjson; charset=utf-8", "Cache-Control": "no-store, no-transform", "X-Accel-Buffering": "no" } });
}

/** Turned away at the door. */
export function say(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}

/** What the next page says: in a cookie, because an address could be made by anybody. It is read within the minute or never. */
function toldCookie(problems: readonly string[]): string {
  return `${TOLD_COOKIE}=${encodeURIComponent(problems.slice(0, 5).join("\n").slice(0, 900))}; Path=/lists; Max-Age=60; HttpOnly; SameSite=Lax`;
}

/** What the last form that came without a script was refused for, on the page that it was sent back to. */
export async function toldLast(asked: string | readonly string[] | undefined): Promise<readonly string[]> {
  const text = asked === "yes" ? (await cookies()).get(TOLD_COOKIE)?.value ?? "" : "";
  return text === "" ? [] : text.split("\n");
}

const TOLD_COOKIE = "told";

/** Lets others in, and throws where nobody waits any more. */
async function between(gone: () => boolean): Promise<void> {
  await new Promise((resolve) => { setImmediate(resolve); });
  if (gone()) throw new HungUp("whoever asked has hung up");
}
