/** What everything of a kind costs. */
import { costOf } from "@/lib/cascade";
import { answering } from "../../../answer";
import { ROUTES } from "../../../routes";
import { bookRead, pageOf, tellCost } from "../../../tell";

export const GET = answering(ROUTES.costs, async ({ store, live, params: { kind }, query }) => {
  const read = await bookRead(store, live, query);
  if (read instanceof Response) return read;
  const { book, changeNo } = read;
  const found = pageOf([...book.shelves[kind].values()], query);
  if (found instanceof Response) return found;
  const cascade = read.cascade();
  const costs = found.page.flatMap(({ id, name }) => {
    const cost = costOf(cascade, { kind, id });
    return cost === null ? [] : [{ id, name, cost: tellCost(cost) }];
  });
  return { body: { on: book.on, changeNo, kind, costs, next: found.next } };
});
