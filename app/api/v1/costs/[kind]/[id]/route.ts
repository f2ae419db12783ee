/** What one thing costs. */
import { costOf } from "@/lib/cascade";
import { answering } from "../../../../answer";
import { ROUTES } from "../../../../routes";
import { bookRead, notThere, tellCost } from "../../../../tell";

export const GET = answering(ROUTES.cost, async ({ store, live, params: { kind, id }, query }) => {
  const read = await bookRead(store, live, query);
  if (read instanceof Response) return read;
  const { book, changeNo } = read;
  const cost = costOf(read.cascade(), { kind, id });
  if (cost === null) return notThere();
  return { body: { on: book.on, changeNo, kind, id, name: book.shelves[kind].get(id)?.name ?? "", cost: tellCost(cost) } };
});
