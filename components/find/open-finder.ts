/** Asks for the find box (Finder) from anywhere on the page. */
export const FIND_EVENT = "trimledger-find";

export function openFinder(): void {
  document.dispatchEvent(new Event(FIND_EVENT));
}
