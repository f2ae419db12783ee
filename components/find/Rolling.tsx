/**
 * A long list that comes as one scrolls. The server makes a window of its rows, a few hundred at most; above and below
 * stands the room that the others take, so that the scroll bar tells where in the whole one is. Near the window's edge, or
 * beyond it, the next window is asked for: rows that stay are the same rows, and where one reads nothing moves. The
 * address follows, so that it can be handed on at any place. Without a script the stretches lead on (Stretches).
 */
"use client";
import { useRouter } from "next/navigation";
import { type ReactNode, useEffect, useRef, useState, useTransition } from "react";
import { type ListAddress, listHref } from "./address";

export interface RollingProps {
  readonly list: ListAddress;
  /** How many rows come before the ones shown, how many are shown, and of how many. */
  readonly before: number;
  readonly shown: number;
  readonly of: number;
  /** Rows come in so many at a time. */
  readonly most: number;
  readonly children: ReactNode;
}

/** More are asked for when fewer than so many rows are left on a side, as a share of a stretch. */
const LEFT = 1;

export function Rolling({ list, before, shown, of, most, children }: RollingProps) {
  const router = useRouter();
  const frame = useRef<HTMLDivElement>(null);
  const [pending, startRolling] = useTransition();
  /** What came before the first window is behind a link, not above: who begins at 201 sees 201 at once. */
  const key = listHref(list);
  const [begun, setBegun] = useState({ key, origin: before });
  if (begun.key !== key) setBegun({ key, origin: before });
  const origin = Math.min(begun.origin, before);
  /** The height of a row, in pixels; 0 until it is known. */
  const [row, setRow] = useState(0);

  useEffect(() => {
    const height = frame.current?.offsetHeight ?? 0;
    if (shown > 0 && height > 0 && of > shown) setRow((known) => known === 0 ? height / shown : known);
  }, [shown, of]);

  useEffect(() => {
    if (of <= shown) return;
    let asked = 0;
    const look = (): void => {
      asked = 0;
      const here = frame.current?.getBoundingClientRect();
      if (here === undefined || here.height === 0 || pending) return;
      const each = here.height / shown;
      const first = before + (0 - here.top) / each;
      const last = before + (innerHeight - here.top) / each;
      const need = { from: Math.max(origin, first - most * LEFT), to: Math.min(of, last + most * LEFT) };
      if (need.from >= before && need.to <= before + shown) return;
      const from = Math.min(Math.max(origin, Math.floor(need.from / most) * most), Math.floor((of - 1) / most) * most);
      const to = Math.min(of, Math.max(from + most, Math.ceil(need.to / most) * most));
      if (from === before && to === before + shown) return;
      startRolling(() => router.replace(listHref(list, { from: from + 1, rows: to - from > most ? to - from : undefined }), { scroll: false }));
    };
    const soon = (): void => { asked ||= requestAnimationFrame(look); };
    soon();
    addEventListener("scroll", soon, { passive: true });
    addEventListener("resize", soon, { passive: true });
    return () => {
      cancelAnimationFrame(asked);
      removeEventListener("scroll", soon);
      removeEventListener("resize", soon);
    };
  }, [router, list, before, shown, of, most, origin, pending]);

  return (
    <>
      <div aria-hidden="true" style={{ height: (before - origin) * row }} />
      <div ref={frame} aria-busy={pending}>{children}</div>
      <div aria-hidden="true" style={{ height: (of - before - shown) * row }} />
    </>
  );
}
