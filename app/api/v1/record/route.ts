/** The record, newest first. */
import { answering } from "../../answer";
import { ROUTES } from "../../routes";
import { tellEntry } from "../../tell";

export const GET = answering(ROUTES.record, async ({ store, program, query: { before, limit: asked = 50 } }) => {
  const limit = Math.max(1, asked);
  const changes = await store.record(program.kitchenId, { before, limit });
  const last = changes.at(-1)?.changeNo ?? 1;
  return { body: { changes: changes.map(tellEntry), next: changes.length === limit && last > 1 ? last : null } };
});
