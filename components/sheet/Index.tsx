/**
 * The index of the book: words along the edge of the sheet, along the bottom edge on a narrow screen, where the places
 * used less stand behind "More". Needs no script: "More" is a details element, and closes itself after a step where
 * there is one.
 */
"use client";
import Link, { useLinkStatus } from "next/link";
import { usePathname } from "next/navigation";
import { type MouseEvent, useEffect, useRef } from "react";
import { openFinder } from "@/components/find/open-finder";
import { PLACES, type Place } from "./places";

interface IndexProps {
  readonly kitchen: string;
  readonly writer: string;
  /** Places that are made of money are left out for whoever sees none. */
  readonly seesMoney: boolean;
  readonly ownsKitchen: boolean;
}

export function Index({ kitchen, writer, seesMoney, ownsKitchen }: IndexProps) {
  const path = usePathname();
  const more = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (more.current) more.current.open = false;
  }, [path]);
  const places = PLACES.filter((place) => (seesMoney || place.moneyless) && (ownsKitchen || place.forOwners !== true));
  const far = places.filter((place) => place.far);
  const here = (place: Place): boolean => [place.href, ...place.also].some((start) => path === start || path.startsWith(`${start}/`));
  const word = (place: Place) => <Link href={place.href} {...(place.href === "/find" && path !== "/find" ? { onClick: find } : {})} aria-current={here(place) ? (path === place.href ? "page" : "true") : undefined}>{place.name}<Coming /></Link>;
  const who = (
    <p className="who">
      Writing: <Link href="/account">{writer}</Link>
    </p>
  );
  return (
    <nav className="index" aria-label="The book">
      <Link className="name" href="/">{kitchen}</Link>
      <ul className="places">
        {places.map((place) => <li key={place.href} className={place.far ? "far" : undefined}>{word(place)}</li>)}
      </ul>
      <details className="more" ref={more} data-here={far.some(here) ? "" : undefined}
        onKeyDown={(event) => { if (event.key === "Escape" && more.current) more.current.open = false; }}>
        <summary>More</summary>
        <div>
          <Link className="name" href="/">{kitchen}</Link>
          <ul>{far.map((place) => <li key={place.href}>{word(place)}</li>)}</ul>
          {who}
        </div>
      </details>
      {who}
    </nav>
  );
}

/** The find box over this page instead of the page of that name; a click that asks for a tab of its own gets it. */
function find(event: MouseEvent<HTMLAnchorElement>): void {
  if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  event.currentTarget.closest("details")?.removeAttribute("open");
  openFinder();
}

/** A dot beside the word of a page that is on its way, where that takes longer than a blink. */
function Coming() {
  const { pending } = useLinkStatus();
  return pending ? <span className="coming" role="status" aria-label="Opening" /> : null;
}
