/** One change of the record, with its ripple; of a very long one the first thousand facts, and how many there are. */
import { answering } from "../../../answer";
import { ROUTES } from "../../../routes";
import { notThere, tellEntry, tellRipple } from "../../../tell";

const MOST_FACTS = 1_000;

export const GET = answering(ROUTES.change, async ({ store, program, params: { changeNo } }) => {
  const entry = await store.recordEntry(program.kitchenId, changeNo, MOST_FACTS);
  if (entry === null) return notThere();
  return {
    body: {
      ...tellEntry(entry), ripple: tellRipple(entry.ripple),
      facts: entry.facts.map(({ kind, id, name, revision, validFrom, replaces, before, after }) => ({ kind, id, name, revision, validFrom, replaces, before, after })),
    },
  };
});
