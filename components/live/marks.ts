/**
 * Which figures of a page are not what they were. What the page showed is remembered cell by cell before it is made anew,
 * and held against what it shows afterwards. The marks are attributes of the browser's own, so that making the page
 * anew leaves them be and nothing on it moves.
 */

/** What is held against itself: cells with figures, and figures that stand outside any. */
const FIGURES = "td.n, .figure:not(td.n .figure, .figure .figure), .say strong:not(.figure *), .top strong:not(.figure *)";
const MARK = "data-changed";

export interface Remembered {
  readonly byElement: ReadonlyMap<Element, string>;
  /** By row and column, for a row that has moved to another part of its table. */
  readonly byPlace: ReadonlyMap<string, string>;
}

export function remember(page: Element): Remembered {
  const byElement = new Map<Element, string>();
  const byPlace = new Map<string, string>();
  for (const element of page.querySelectorAll(FIGURES)) {
    const text = said(element);
    byElement.set(element, text);
    const place = placeOf(element);
    if (place !== null) byPlace.set(place, text);
  }
  return { byElement, byPlace };
}

/** Marks what is new on the page; returns what it says, each with the name of its row. */
export function markNew(page: Element, before: Remembered): readonly string[] {
  clearMarks(page);
  const told: string[] = [];
  for (const element of page.querySelectorAll(FIGURES)) {
    const text = said(element);
    const place = placeOf(element);
    const was = before.byElement.get(element) ?? (place === null ? undefined : before.byPlace.get(place));
    if (text === "" || was === text) continue;
    element.setAttribute(MARK, "");
    told.push(`${rowName(element)} ${text}`.trim());
  }
  return told;
}

export function clearMarks(page: Element): void {
  for (const element of page.querySelectorAll(`[${MARK}]`)) element.removeAttribute(MARK);
}

function said(element: Element): string {
  return (element.textContent ?? "").replace(/\s+/g, " ").trim();
}

function rowName(element: Element): string {
  const head = element.closest("tr")?.querySelector("th");
  return head === null || head === undefined ? "" : said(head.querySelector("a") ?? head);
}

function placeOf(element: Element): string | null {
  if (!(element instanceof HTMLTableCellElement)) return null;
  const row = rowName(element);
  return row === "" ? null : `${row}|${element.cellIndex}`;
}
