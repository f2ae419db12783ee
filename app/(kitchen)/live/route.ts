/**
 * What an open page listens to: every change of the kitchen, by whichever process it was recorded, as an event with its
 * number, who made it and what it changed, by name. It ends when the session does, or when the page's kitchen is the
 * reader's no more, or when the app is stopped (app/server/serve.mjs); a browser comes back by itself and says which
 * change it heard of last. Whoever asks for no stream of events is told once, as JSON.
 */
import { headers } from "next/headers";
import { type Visitor, may, openAccess, refusal } from "@/lib/access";
import type { Store } from "@/lib/store";
import { logProblem } from "@/app/log";
import { kitchenOfCaller } from "../open-kitchen";
import { liveNews } from "./news-words";

export const dynamic = "force-dynamic";

/** Often enough that nothing on the way takes the silence for an end, in milliseconds; then it is also asked whether the reader still may. */
const HEARTBEAT = 15_000;

export async function GET(request: Request): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "Sign in to hear of changes.");
  if (!open.may("read the book")) return say(403, refusal("read the book"));
  const { store, kitchenId, visitor, live } = open;
  const since = lastHeard(request) ?? live.changeNo;
  if (!/\btext\/event-stream\b/.test(request.headers.get("accept") ?? "")) {
    const news = await store.news(kitchenId, since);
    return Response.json({ changeNo: live.changeNo, news: news === null ? null : liveNews(news, visitor.personId) });
  }
  const stream = changesAsEvents({ store, kitchenId, visitor, since, sent: new Headers(await headers()) });
  // Not compressed on the way (no-transform): an event must not wait for others to fill a block.
  return new Response(stream, { headers: { "Content-Type": "text/event-stream; charset=utf-8", "Cache-Control": "no-store, no-transform", "X-Accel-Buffering": "no" } });
}

/** The last change that the page knows: what a browser says when it comes back, else what the page says. */
function lastHeard(request: Request): number | null {
  const said = request.headers.get("last-event-id") ?? new URL(request.url).searchParams.get("since");
  return said !== null && /^\d{1,9}$/.test(said) ? Number(said) : null;
}

interface Listening {
  readonly store: Store;
  readonly kitchenId: string;
  readonly visitor: Visitor;
  readonly since: number;
  /** The headers that the reader is known by. */
  readonly sent: Headers;
}

function changesAsEvents({ store, kitchenId, visitor, since, sent }: Listening): ReadableStream<Uint8Array> {
  const text = new TextEncoder();
  let end = (): void => undefined;
  return new ReadableStream({
    start(stream) {
      let told = since;
      let ended = false;
      let telling: Promise<void> = Promise.resolve();
      const write = (piece: string): void => stream.enqueue(text.encode(piece));
      /** One after the other, and never to somebody who is not in the kitchen any more. */
      const inTurn = (work: () => Promise<void>): void => {
        telling = telling.then(work).catch((error: unknown) => {
          logProblem("A page could not be told of a change", error, {});
          close();
        });
      };
      const stop = store.listen(kitchenId, since, () => inTurn(async () => {
        if (ended || !await stillIn(visitor, kitchenId, sent)) { close(); return; }
        const news = await store.news(kitchenId, told);
        if (news === null || ended) return;
        told = news.changeNo;
        write(`id: ${news.changeNo}\nevent: change\ndata: ${JSON.stringify(liveNews(news, visitor.personId))}\n\n`);
      }));
      const beat = setInterval(() => inTurn(async () => {
        if (ended) return;
        if (await stillIn(visitor, kitchenId, sent)) write(": still here\n\n");
        else close();
      }), HEARTBEAT);
      end = () => {
        ended = true;
        stop();
        clearInterval(beat);
      };
      const close = (): void => {
        if (ended) return;
        end();
        stream.close();
      };
      // The first bytes go out at once: the page then knows that it is connected.
      write("retry: 1000\nevent: listening\ndata: \n\n");
    },
    cancel() { end(); },
  });
}

/** Whether the session still stands and its person may still read this kitchen's book. */
async function stillIn({ sessionId }: Visitor, kitchenId: string, sent: Headers): Promise<boolean> {
  const access = await openAccess();
  const now = await access.visitor(sent);
  if (now === null || now.sessionId !== sessionId) return false;
  const standing = await access.membership(now.personId, kitchenId);
  return standing !== null && may(standing, "read the book");
}

function say(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}
