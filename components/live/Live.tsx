/**
 * Keeps an open page true: when somebody else records a change, the page is made anew where it stands, a quiet bar says
 * who did what, and the figures that are not what they were are marked. Nothing moves under whoever is typing: fields
 * keep what is in them, the bar lies over the page, and focus stays where it is. A page in a hidden tab hears nothing
 * and catches up when it is looked at; a lost connection comes back by itself.
 */
"use client";
import { usePathname, useRouter } from "next/navigation";
import { useCallback, useEffect, useRef, useState, useTransition } from "react";
import { Button } from "@/components/form/Button";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { type Remembered, clearMarks, markNew, remember } from "./marks";
import type { LiveNews } from "./news";
import "./live.css";

/** How long the bar stays, and the marks, in milliseconds. */
const STAYS = 60_000;
/** What was sent from this page so short a time ago is this page's own change: it tells of it itself. */
const JUST_SENT = 20_000;
/** A listener that was refused asks again after so long at first, and at most so long. */
const FIRST_WAIT = 2_000;
const LONGEST_WAIT = 60_000;

/** `since`: the last change that the page knows of. */
export function Live({ since }: { readonly since: number }) {
  const router = useRouter();
  const path = usePathname();
  const { deeds } = useKitchen();
  const last = useRef(since);
  /** When something was last sent from this page, and from which. */
  const sent = useRef({ at: -JUST_SENT, from: "" });
  const before = useRef<Remembered | null>(null);
  const later = useRef<ReturnType<typeof setTimeout>>(undefined);
  const makeAnewAgain = useRef<() => Promise<void>>(() => Promise.resolve());
  const [news, setNews] = useState<LiveNews | null>(null);
  /** This page's own change, told here once its form has gone with its page. */
  const [mine, setMine] = useState<{ readonly changeNo: number; readonly from: string } | null>(null);
  const [marked, setMarked] = useState<readonly string[] | null>(null);
  const [pending, startAnew] = useTransition();

  const put = useCallback(() => {
    setNews(null);
    setMarked(null);
    const page = document.getElementById("page");
    if (page) clearMarks(page);
  }, []);

  /**
   * The page is made anew only when it surely can be: where the router gets no answer it opens the whole page again, and
   * what was typed would be lost with it.
   */
  const makeAnew = useCallback(async () => {
    clearTimeout(later.current);
    const answer = await fetch(`/live?since=${last.current}`, { headers: { accept: "application/json" } }).catch(() => null);
    if (answer?.ok === true) {
      const page = document.getElementById("page");
      before.current = page && remember(page);
      startAnew(() => router.refresh());
    } else if (answer === null || answer.status >= 500) {
      later.current = setTimeout(() => void makeAnewAgain.current(), FIRST_WAIT);
    }
  }, [router]);
  useEffect(() => {
    makeAnewAgain.current = makeAnew;
    return () => clearTimeout(later.current);
  }, [makeAnew]);

  const hear = useCallback((heard: LiveNews) => {
    last.current = Math.max(last.current, heard.changeNo);
    if (heard.own && performance.now() - sent.current.at < JUST_SENT) {
      put();
      setMine({ changeNo: heard.changeNo, from: sent.current.from });
      return;
    }
    setNews(heard);
    setMarked(null);
    void makeAnew();
  }, [makeAnew, put]);

  useEffect(() => {
    const note = (): void => { sent.current = { at: performance.now(), from: location.pathname }; };
    document.addEventListener("submit", note, true);
    return () => document.removeEventListener("submit", note, true);
  }, []);

  useEffect(() => {
    let source: EventSource | null = null;
    let again: ReturnType<typeof setTimeout> | undefined;
    let wait = FIRST_WAIT;
    const connect = (): void => {
      clearTimeout(again);
      if (document.hidden || source !== null) return;
      const mine = new EventSource(`/live?since=${last.current}`);
      source = mine;
      mine.addEventListener("listening", () => { wait = FIRST_WAIT; });
      mine.addEventListener("change", (event) => hear(JSON.parse(event.data as string) as LiveNews));
      mine.addEventListener("error", () => {
        // A lost connection is the browser's to take up again; one that was refused is asked for now and then.
        if (mine.readyState !== EventSource.CLOSED) return;
        source = null;
        again = setTimeout(connect, wait);
        wait = Math.min(wait * 2, LONGEST_WAIT);
      });
    };
    const leave = (): void => {
      clearTimeout(again);
      source?.close();
      source = null;
    };
    const look = (): void => { if (document.hidden) leave(); else connect(); };
    connect();
    document.addEventListener("visibilitychange", look);
    window.addEventListener("pagehide", leave);
    window.addEventListener("pageshow", look);
    window.addEventListener("online", connect);
    return () => {
      leave();
      document.removeEventListener("visibilitychange", look);
      window.removeEventListener("pagehide", leave);
      window.removeEventListener("pageshow", look);
      window.removeEventListener("online", connect);
    };
  }, [hear]);

  // The page stands anew: what on it is not what it was?
  useEffect(() => {
    const page = document.getElementById("page");
    if (pending || page === null || before.current === null) return;
    setMarked(markNew(page, before.current));
    before.current = null;
  }, [pending]);

  useEffect(() => {
    if (news === null) return;
    const end = setTimeout(put, STAYS);
    return () => clearTimeout(end);
  }, [news, put]);
  useEffect(() => {
    if (mine === null) return;
    const end = setTimeout(() => setMine(null), STAYS);
    return () => clearTimeout(end);
  }, [mine]);

  // Another page was never seen with other figures.
  useEffect(() => put, [path, put]);

  return (
    <div className="live" role="status" data-heard={news?.changeNo}>
      {news === null && mine !== null && mine.from !== path && path !== `/record/${mine.changeNo}` && deeds.includes("see money") && (
        <div>
          <p>Recorded as change {mine.changeNo}. <a href={`/record/${mine.changeNo}`}>See it in the record</a> or <a href={`/record/${mine.changeNo}#undo`}>undo it</a>.</p>
          <Close onClick={() => setMine(null)} />
        </div>
      )}
      {news !== null && (
        <div>
          <p><Words news={news} /> {marked !== null && <Marked marked={marked} />}</p>
          <Close onClick={put} />
        </div>
      )}
    </div>
  );
}

function Close({ onClick }: { readonly onClick: () => void }) {
  return <Button plain onClick={onClick}>Close<span className="visually-hidden"> this message</span></Button>;
}

function Words({ news }: { readonly news: LiveNews }) {
  const { deeds, writer } = useKitchen();
  const who = news.own && news.by === writer ? "You" : news.by;
  const no = `change ${news.changeNo}`;
  const others = news.changes - 1;
  return (
    <>
      <strong>{who} {news.what}</strong> {ago(news.at)} <span className="whole">({deeds.includes("see money") ? <a href={`/record/${news.changeNo}`}>{no}</a> : no}
      {others > 0 && <>, and {others === 1 ? "one change" : `${others} changes`} before it</>}).</span>
    </>
  );
}

function Marked({ marked }: { readonly marked: readonly string[] }) {
  if (marked.length === 0) return "No figure on this page moved.";
  return (
    <>
      {marked.length === 1 ? "One figure on this page is new, and marked." : `${marked.length} figures on this page are new, and marked.`}
      <span className="visually-hidden"> {marked.slice(0, 4).join("; ")}{marked.length > 4 ? "; and others." : "."}</span>
    </>
  );
}

/** How long ago a moment was, roughly. */
function ago(at: string): string {
  const minutes = Math.floor((Date.now() - Date.parse(at)) / 60_000);
  if (minutes < 2) return "a moment ago";
  if (minutes < 120) return `${minutes} minutes ago`;
  const hours = Math.floor(minutes / 60);
  return hours < 48 ? `${hours} hours ago` : `${Math.floor(hours / 24)} days ago`;
}
