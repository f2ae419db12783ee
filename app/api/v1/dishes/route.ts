/** The menu: every dish with its figures. */
import { menuFigures } from "@/lib/menu";
import { answering } from "../../answer";
import { ROUTES } from "../../routes";
import { bookRead, tellDish } from "../../tell";

export const GET = answering(ROUTES.dishes, async ({ store, live, query }) => {
  const read = await bookRead(store, live, query);
  if (read instanceof Response) return read;
  return { body: { on: read.book.on, changeNo: read.changeNo, dishes: menuFigures(read.cascade()).map(tellDish) } };
});
