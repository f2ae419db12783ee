/** The sentence for why a photo was not kept, by its code: a page that a form without a script comes back to knows the code alone. */
import { PHOTO_PROBLEMS } from "./photos";
import { PICTURE_PROBLEMS } from "./picture";

const SENTENCES: Readonly<Record<string, string>> = { ...PICTURE_PROBLEMS, ...PHOTO_PROBLEMS };

/** null for what is no such code. */
export function sayPhotoProblem(code: string): string | null {
  return Object.hasOwn(SENTENCES, code) ? SENTENCES[code] ?? null : null;
}
