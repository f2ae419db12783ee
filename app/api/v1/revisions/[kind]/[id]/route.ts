/** Every recorded state of a fact. */
import { answering } from "../../../../answer";
import { ROUTES } from "../../../../routes";
import { notThere } from "../../../../tell";

export const GET = answering(ROUTES.revisions, async ({ store, program, params: { kind, id } }) => {
  const revisions = await store.revisionsOf(program.kitchenId, kind, id);
  if (revisions.length === 0) return notThere();
  return {
    body: {
      kind, id,
      revisions: revisions.map(({ revision, changeNo, name, validFrom, recordedAt, by, why, replaces, replacedBy, fact }) => ({ revision, changeNo, name, validFrom, recordedAt, by, why, replaces, replacedBy, fact })),
    },
  };
});
