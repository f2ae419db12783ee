/** All facts of a kind. */
import { factKey } from "@/lib/book";
import { answering } from "../../../answer";
import { ROUTES } from "../../../routes";
import { bookRead, pageOf } from "../../../tell";

export const GET = answering(ROUTES.book, async ({ store, live, params: { kind }, query }) => {
  const read = await bookRead(store, live, query);
  if (read instanceof Response) return read;
  const { book, changeNo } = read;
  const found = pageOf([...book.shelves[kind].values()], query);
  if (found instanceof Response) return found;
  return { body: { on: book.on, changeNo, kind, facts: found.page.map((fact) => ({ id: fact.id, fact, provenance: book.provenance.get(factKey(kind, fact.id)) ?? null })), next: found.next } };
});
