/** One fact, with where it comes from. */
import { factKey } from "@/lib/book";
import { answering } from "../../../../answer";
import { ROUTES } from "../../../../routes";
import { bookRead, notThere } from "../../../../tell";

export const GET = answering(ROUTES.fact, async ({ store, live, params: { kind, id }, query }) => {
  const read = await bookRead(store, live, query);
  if (read instanceof Response) return read;
  const { book, changeNo } = read;
  const fact = book.shelves[kind].get(id);
  if (fact === undefined) return notThere();
  return { body: { on: book.on, changeNo, kind, id, fact, provenance: book.provenance.get(factKey(kind, id)) ?? null } };
});
