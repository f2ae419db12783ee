/** A try-out put into words and printed figures for the screen (components/tryout). Nothing is costed here. */
import { type FactOf, type Move, type Overtaken, changesOf, factKey, factName, overtaken, sayMove } from "@/lib/book";
import { type Decimal, type Habits, printMoney, printShare } from "@/lib/measure";
import { type DishMove, type RippleReport, type TriedMoves, type WeightedFoodCost, leftAWeek } from "@/lib/menu";
import type { LiveBook, Store, Tryout } from "@/lib/store";
import type { MenuFact, MoveView, OvertakenView, TriedMenuView } from "@/components/tryout/state";
import { changedLines, factHref } from "../change-flow/fact-words";
import { crossingSentence, currencySign, dishMove, restSentence } from "../change-flow/ripple-view";
import { printMoment } from "../moment";
import { figureInput } from "./read-desk";

type Kitchen = FactOf["kitchen"];

/** The most dishes that one page shows. */
export const MOST_DISHES = 100;
export type DishOrder = "money" | "crossings";

export function orderOf(asked: unknown): DishOrder {
  return asked === "crossings" ? "crossings" : "money";
}

export function triedMenuView({ report, menu, problems }: TriedMoves, kitchen: Kitchen, { order, before }: { readonly order: DishOrder; readonly before: number }): TriedMenuView {
  if (report === null) {
    return { crossing: null, adverse: true, rest: "", facts: [], rows: [], of: 0, before: 0, currency: currencySign(kitchen), problems: problems.map(({ sentence }) => sentence) };
  }
  const dishes = order === "money" ? byMoney(report.dishes) : report.dishes;
  const from = before < dishes.length ? before : 0;
  return {
    crossing: crossingSentence(report),
    adverse: report.crossings.some(({ direction }) => direction === "over"),
    rest: restSentence(report, kitchen),
    facts: menuFacts(report, menu, kitchen),
    rows: dishes.slice(from, from + MOST_DISHES).map((move) => {
      const left = leftAWeek(move);
      return { dish: dishMove(move, kitchen), aWeek: left === null ? null : signedMoney(left, kitchen) };
    }),
    of: dishes.length,
    before: from,
    currency: currencySign(kitchen),
    problems: [],
  };
}

/** The most money first, whichever way; those of which it is not known last, in the order in which a ripple tells them. */
function byMoney(dishes: readonly DishMove[]): readonly DishMove[] {
  const placed = dishes.map((move, at) => ({ move, at, about: leftAWeek(move)?.abs().toNumber() ?? -1 }));
  placed.sort((a, b) => b.about - a.about || a.at - b.at);
  return placed.map(({ move }) => move);
}

export function menuFacts(report: RippleReport, menu: TriedMoves["menu"], kitchen: Kitchen): readonly MenuFact[] {
  const over = report.crossings.filter(({ direction }) => direction === "over").length;
  const back = report.crossings.length - over;
  const { moneyAWeek: food, takingsAWeek: takings } = report;
  const weeks = report.usualWeek.weeks;
  const said = weeks === 1 ? "at last week’s sales" : `at the sales of the last ${weeks} weeks`;
  return [
    { key: "crossings", label: "Cross their target", before: null, after: over + back === 0 ? "none" : [over > 0 ? `${over} over` : "", back > 0 ? `${back} back under` : ""].filter(Boolean).join(", "), unit: "", words: `of ${report.dishes.length} that move` },
    ...(food === null || takings === null ? [] : [
      { key: "food", label: "Food, a week", before: null, after: signedMoney(food, kitchen), unit: "", words: said },
      { key: "takings", label: "Takings, a week", before: null, after: signedMoney(takings, kitchen), unit: "", words: "if guests order as before" },
      { key: "left", label: "Left over, a week", before: null, after: signedMoney(takings.minus(food), kitchen), unit: "", words: "takings less food" },
    ]),
    ...(menu.before.ratio === null ? [] : [{
      key: "menu", label: "Food cost of the menu", ...apart(menu.before, menu.after, kitchen), unit: "%",
      words: menu.before.target === null ? "" : `targets allow ${printShare(menu.after?.target ?? menu.before.target, kitchen)} %`,
    }]),
  ];
}

/** Both printed alike, with as many places as it takes to tell them apart, at most four. */
function apart(was: WeightedFoodCost, is: WeightedFoodCost | null, kitchen: Kitchen): { readonly before: string; readonly after: string } {
  const print = (menu: WeightedFoodCost, places?: number): string => (menu.ratio === null ? "—" : `${menu.atLeast ? "at least " : ""}${printShare(menu.ratio, kitchen, places === undefined ? {} : { places })}`);
  if (is === null || is.ratio === null || was.ratio === null || is.ratio.eq(was.ratio)) return { before: print(was), after: is === null ? "—" : print(is) };
  for (const places of [1, 2, 3, 4]) if (print(was, places) !== print(is, places)) return { before: print(was, places), after: print(is, places) };
  return { before: print(was), after: print(is) };
}

/** "+$61", "−$4.20", "$0": what it comes to more or less. */
export function signedMoney(amount: Decimal, kitchen: Habits): string {
  const size = amount.abs();
  const text = size.isZero() ? printMoney(size, kitchen, { places: 0 }) : size.lt(10) ? printMoney(size, kitchen) : printMoney(size, kitchen, { places: 0 });
  return size.isZero() ? text : `${amount.gt(0) ? "+" : "−"}${text}`;
}

/** The moves for the screen; `store` tells what overtaken facts were before. */
export async function moveViews(store: Store, { kitchenId, book }: LiveBook, tryout: Pick<Tryout, "moves">, kitchen: Kitchen): Promise<readonly MoveView[]> {
  const { problems } = changesOf(book, tryout.moves);
  const found = overtaken(book, tryout.moves);
  return Promise.all(tryout.moves.map(async (move): Promise<MoveView> => {
    const { what, says, today, at } = sayMove(move, book);
    const value = figureInput(move.body, kitchen);
    return {
      key: move.key, what, says, today, href: at === null ? null : factHref(at.kind, at.id),
      added: move.added === null ? null : `${move.added.by}, ${printMoment(move.added.at, kitchen)}`,
      figure: value === null ? null : { label: `${what}: ${FIGURE_WORD[move.body.kind] ?? "figure"}`, value },
      problem: problems.get(move.key)?.map(({ sentence }) => sentence).join(" ") ?? null,
      overtaken: await overtakenViews(store, kitchenId, book, found.get(move.key) ?? [], kitchen),
    };
  }));
}

const FIGURE_WORD: Readonly<Partial<Record<Move["body"]["kind"], string>>> = { share: "dearer or cheaper by", price: "price", size: "size", "menu price": "menu price", target: "target", line: "quantity" };

/** So many overtaken facts of one move are told; a move of a whole shelf may have hundreds. */
const TOLD = 6;

async function overtakenViews(store: Store, kitchenId: string, book: LiveBook["book"], facts: readonly Overtaken[], kitchen: Kitchen): Promise<readonly OvertakenView[]> {
  const told = await Promise.all(facts.slice(0, TOLD).map(async ({ kind, id, was, now }): Promise<OvertakenView> => {
    const revisions = await store.revisionsOf(kitchenId, kind, id);
    const before = revisions.find(({ revision }) => revision === was)?.fact ?? null;
    const after = book.shelves[kind].get(id) ?? null;
    // What left the book was taken off by the newest revision that says so.
    const by = now ?? (revisions[0] === undefined ? null : { by: revisions[0].by, at: revisions[0].recordedAt });
    const name = after === null ? revisions[0]?.name ?? id : factName(book, kind, id);
    const did = after === null ? "took" : before === null ? "put" : "changed";
    return {
      key: factKey(kind, id),
      said: `${by?.by ?? "Somebody"} ${did} ${name}${after === null ? " off the book" : before === null ? " in the book" : ""}${by === null ? "" : `, ${printMoment(by.at, kitchen)}`}`,
      lines: before === null || after === null ? [] : changedLines(kind, before, after, book).slice(0, 4).map((line) => `${line.what}: ${line.before ?? "nothing"} → ${line.after ?? "nothing"}`),
    };
  }));
  return facts.length > TOLD ? [...told, { key: "more", said: `and ${facts.length - TOLD} more were changed since`, lines: [] }] : told;
}

/** Where a try-out stands, in words. */
export function standing(tryout: Tryout, kitchen: Kitchen): string {
  if (tryout.madeChange !== null) return `made real as change ${tryout.madeChange}`;
  if (tryout.dropped !== null) return `dropped by ${tryout.dropped.by}, ${printMoment(tryout.dropped.at, kitchen)}`;
  return "open";
}

export function movesWord(count: number): string {
  return count === 1 ? "1 move" : `${count} moves`;
}

