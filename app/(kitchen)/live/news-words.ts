/** What was recorded, in words for the pages that are open: names of people and things, no figures. */
import type { News } from "@/lib/store";
import type { LiveNews } from "@/components/live/news";
import { KIND_WORD } from "../change-flow/fact-words";

/** `own`: whether the change, and every other not heard of, is the reader's own. */
export function liveNews(news: News, readerId: string): LiveNews {
  return {
    changeNo: news.changeNo, changes: news.changes, at: news.at, by: news.by, what: whatChanged(news),
    own: news.byPerson === readerId && !news.others,
  };
}

/** "changed Strip loin, cleaned (cut)", "added Leek soup (dish) and 2 more". */
function whatChanged({ facts, factCount }: News): string {
  const [first] = facts;
  if (first === undefined) return "changed the book";
  const verb = { new: "added", changed: "changed", "taken off": "took off" }[first.became];
  // A dish and its menu price go by one name: said once.
  const names = new Set(facts.map(({ name }) => name));
  const more = factCount - facts.filter(({ name }) => name === first.name).length;
  return `${verb} ${first.name} (${KIND_WORD[first.kind]})${names.size > 1 && more > 0 ? ` and ${more} more` : ""}`;
}
