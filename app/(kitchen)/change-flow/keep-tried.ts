/** A change that was tried in an edit form, put in a try-out: the one that is chosen, or a new one named after it. Server only. */
import { type Change, type Move, MOST_MOVES, aboutOf, basisOf, movesOf, sayMove, withMove } from "@/lib/book";
import { newTryoutId } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import type { Values } from "@/components/form/FormContext";
import type { OpenKitchen } from "../open-kitchen";

/** So many open try-outs are offered. */
const OFFERED = 8;
/** Somebody may be keeping something in the same one at the same time: both belong in it. */
const ATTEMPTS = 4;
const LONGEST_NAME = 80;

/** The open try-outs, the one kept last first. */
export async function keepChoices({ store, kitchenId }: Pick<OpenKitchen, "store" | "kitchenId">): Promise<readonly { readonly id: string; readonly name: string }[]> {
  const all = await store.tryouts(kitchenId);
  return all.filter(({ dropped, madeChange }) => dropped === null && madeChange === null).slice(0, OFFERED).map(({ id, name }) => ({ id, name }));
}

export async function keepTried({ store, kitchenId, live: { book }, visitor }: OpenKitchen, changes: readonly Change[], wanted: FormDataEntryValue | null, values: Values): Promise<ChangeState> {
  const refused = (sentence: string): ChangeState => ({ status: "refused", problems: [{ path: "", code: "not-kept", sentence }], values });
  const moves = movesOf(book, changes).map((body): Move => ({ key: `move-${crypto.randomUUID()}`, about: aboutOf(body, book), body, basis: basisOf(book, body), added: null }));
  const first = moves[0];
  if (first === undefined) return refused("Nothing is different from what the book says already, so there is nothing to try.");
  const chosen = typeof wanted === "string" ? wanted : "";
  for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
    const there = chosen === "" ? null : await store.readTryout(kitchenId, chosen);
    if (chosen !== "" && (there === null || there.dropped !== null || there.madeChange !== null)) return refused("That try-out is not open any more: put it in another, or in a new one.");
    if (there !== null && there.moves.length + moves.length > MOST_MOVES) return refused(`“${there.name}” is full: put it in another try-out, or in a new one.`);
    const { what, says } = sayMove(first, book);
    const kept = await store.keepTryout(kitchenId, visitor, {
      id: there?.id ?? newTryoutId(), name: there?.name ?? `${what} ${says}`.slice(0, LONGEST_NAME), version: there?.version ?? null,
      moves: moves.reduce<readonly Move[]>((list, move) => withMove(list, move), there?.moves ?? []),
    });
    if (kept.ok) {
      const { id, name } = kept.tryout;
      return { status: "kept", sentence: `Put in “${name}”. The book is as it was.`, name: `“${name}”`, href: `/tries/${encodeURIComponent(id)}`, values };
    }
    if (kept.reason === "problems") return { status: "refused", problems: kept.problems, values };
  }
  return refused("Others are changing that try-out just now: press once more.");
}
