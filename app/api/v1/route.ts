/** Which kitchen the key opens. */
import { FACT_KINDS, kitchenOf } from "@/lib/book";
import { answering } from "../answer";
import { ROUTES } from "../routes";

export const GET = answering(ROUTES.start, ({ live, program }) => {
  const { name, place, currency, measures, locale, timeZone } = kitchenOf(live.book);
  return {
    body: {
      kitchen: { name, place, currency, measures, locale, timeZone }, program: { name: program.name, may: program.may }, today: live.today, changeNo: live.changeNo,
      facts: Object.fromEntries(FACT_KINDS.map((kind) => [kind, live.book.shelves[kind].size])),
    },
  };
});
