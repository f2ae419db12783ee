/** How a cost has moved. */
import { answering } from "../../../../../answer";
import { ROUTES } from "../../../../../routes";
import { notThere } from "../../../../../tell";

export const GET = answering(ROUTES.history, async ({ store, program, params: { kind, id } }) => {
  const points = await store.costHistory(program.kitchenId, { kind, id });
  if (points.length === 0) return notThere();
  return {
    body: {
      kind, id,
      points: points.map(({ changeNo, at, amount, per, atLeast, missing, borrowed }) => ({
        changeNo, at, amount: amount?.toFixed() ?? null, per, atLeast, missing: missing.map(({ what, of, name }) => ({ what, of, name })), borrowed: borrowed.map((cut) => ({ id: cut.id, name: cut.name })),
      })),
    },
  };
});
