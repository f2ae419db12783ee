/**
 * The index of the book: words along the edge of the sheet, along the bottom edge on a narrow screen, where the places
 * used less stand behind "More". Needs no script: "More" is a details element, and closes itself after a step where
 * there is one.
 */
"use client";
import Link, { useLinkStatus } from "next/link";
import { usePathname } from "next/navigation";
import { useEffect, useRef } from "react";
import { PLACES, type Place } from "./places";

export function Index({ kitchen, writer }: { readonly kitchen: string; readonly writer: string | null }) {
  const path = usePathname();
  const more = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (more.current) more.current.open = false;
  }, [path]);
  const far = PLACES.filter((place) => place.far);
  const here = (place: Place): boolean => [place.href, ...place.also].some((start) => path === start || path.startsWith(`${start}/`));
  const word = (place: Place) => <Link href={place.href} aria-current={here(place) ? (path === place.href ? "page" : "true") : undefined}>{place.name}<Coming /></Link>;
  const who = (
    <p className="who">
      {writer === null ? <Link href="/who">Who is writing?</Link> : <>Writing: {writer} · <Link href="/who">change</Link></>}
    </p>
  );
  return (
    <nav className="index" aria-label="The book">
      <Link className="name" href="/dishes">{kitchen}</Link>
      <ul className="places">
        {PLACES.map((place) => <li key={place.href} className={place.far ? "far" : undefined}>{word(place)}</li>)}
      </ul>
      <details className="more" ref={more} data-here={far.some(here) ? "" : undefined}
        onKeyDown={(event) => { if (event.key === "Escape" && more.current) more.current.open = false; }}>
        <summary>More</summary>
        <div>
          <Link className="name" href="/dishes">{kitchen}</Link>
          <ul>{far.map((place) => <li key={place.href}>{word(place)}</li>)}</ul>
          {who}
        </div>
      </details>
      {who}
    </nav>
  );
}

/** A dot beside the word of a page that is on its way, where that takes longer than a blink. */
function Coming() {
  const { pending } = useLinkStatus();
  return pending ? <span className="coming" role="status" aria-label="Opening" /> : null;
}
