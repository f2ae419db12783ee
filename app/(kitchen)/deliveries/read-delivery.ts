/** What the form of a delivery sends, as a delivery; and what a careful clerk would ask of it. */
import { type Book, type Delivery, findLabel, namedSo, nearLabels, packContent, readFact } from "@/lib/book";
import { enteredBefore, judgeDelivered, takenOver, toCent } from "@/lib/buying";
import { type Checked, type Problem, moneyFigure, parseNumber, printDay, quantityText, quoted, ratio } from "@/lib/measure";
import { newId } from "@/lib/store";
import type { Values } from "@/components/form";
import type { ChangeInput } from "../change-flow/run-change";

/** Paths are the form's fields. */
export function readDelivery({ form, live, habits }: ChangeInput): Checked<Delivery> {
  const problems: Problem[] = [];
  const dealerId = form.text("dealerId");
  const lines = form.rows("lines").map((row, index) => {
    const item = itemOf(live.book, row["item"] ?? "");
    if (typeof item !== "string") problems.push({ ...item, path: `lines.${index}.item` });
    const itemId = typeof item === "string" ? item : "";
    return { ...row, itemId, billed: billedIn(row, live.book, dealerId, itemId, habits), useBy: row["useBy"] ?? "" };
  });
  const read = readFact("delivery", { id: form.text("id"), dealerId, number: form.text("number"), kind: form.text("kind") === "credit" ? "credit" : "invoice", on: form.text("on"), lines, note: form.text("note") }, habits);
  const others = read.ok ? [] : read.problems.map((problem) => ({ ...problem, path: problem.path.replace(/^(lines\.\d+)\.itemId$/, "$1.item") })).filter(({ path }) => !problems.some((problem) => problem.path === path));
  if (problems.length > 0 || !read.ok) return { ok: false, problems: [...problems, ...others] };
  return read;
}

/** The item that was picked or written by its whole name. */
function itemOf(book: Book, text: string): string | Problem {
  if (text.trim() === "") return { path: "", code: "missing", sentence: "Say which item was billed." };
  const named = [findLabel(book, text), ...namedSo(book, text)].flatMap((of) => (of?.kind === "item" ? [of.id] : []));
  const [one] = new Set(named);
  if (one !== undefined) return one;
  const near = nearLabels(book, text).filter((label) => findLabel(book, label)?.kind === "item");
  return { path: "", code: "not-in-the-book", sentence: `No item is called ${quoted(text)}.${near.length === 0 ? " Add it to the items first, or look how it is called there." : ` Did you mean ${near.join(" or ")}?`}` };
}

/** Left out, what was billed is what so many packs of the dealer's hold. */
function billedIn(row: Values, book: Book, dealerId: string, itemId: string, habits: ChangeInput["habits"]): unknown {
  const typed = row["billed"] ?? "";
  if (typed.trim() !== "") return typed;
  const packs = parseNumber(row["packs"] ?? "", habits);
  const quote = [...book.shelves.quote.values()].find((one) => one.itemId === itemId && one.dealerId === dealerId);
  if (!packs.ok || quote === undefined || quote.pack.catchWeight) return typed;
  const content = packContent(quote.pack);
  return { amount: ratio.toExact(ratio.mul(ratio.fromExact(content.amount), ratio.fromExact(packs.value))), unit: content.unit };
}

/** Entered before, a total that is none, a day still to come, prices that cannot be taken over. Whoever is sure goes on. */
export function askOfDelivery(delivery: Delivery, { live, habits, form }: ChangeInput): readonly Problem[] {
  const name = (itemId: string): string => live.book.shelves.item.get(itemId)?.name ?? itemId;
  const money = (amount: ReturnType<typeof ratio.fromExact>): string => moneyFigure(ratio.toDecimal(amount), habits);
  return [
    ...enteredBefore(delivery, live.book, habits),
    ...(delivery.on > live.today ? [{ path: "on", code: "still-to-come", sentence: `${printDay(delivery.on, habits)} is still to come: is that the day on the paper?` }] : []),
    ...delivery.lines.flatMap((line, index): Problem[] => {
      const { totalOff, value, more } = judgeDelivered(line, null, habits);
      const path = `lines.${index}`;
      return [
        ...(totalOff === null ? [] : [{ path: `${path}.amount`, code: "total-off", sentence: `${name(line.itemId)}: price times quantity is ${money(toCent(value, habits.currency))}, the paper says ${money(ratio.add(toCent(value, habits.currency), totalOff))}: a figure was misread, or the dealer reckoned wrong.` }]),
        ...(more === null ? [] : [{ path: `${path}.received`, code: "more-than-billed", sentence: `${name(line.itemId)}: ${quantityText(more, habits)} more came than was billed. Is it in the right line, and was the box weighed too?` }]),
      ];
    }),
    ...(form.text("takePrices") === "" ? [] : takenOver(delivery, live.book, habits.currency, () => "").left.map(({ line, sentence }) => ({ path: `lines.${line}.price`, code: "price-left", sentence: `${sentence} The other prices are taken over without it.` }))),
  ];
}

/** Ids of quotes that are new with it, told by the form's own id so that trying and recording name the same. */
export function pricesOf(delivery: Delivery, { live, habits }: ChangeInput): readonly { readonly id: string; readonly after: NonNullable<ReturnType<typeof takenOver>["prices"][number]>["quote"] }[] {
  return takenOver(delivery, live.book, habits.currency, () => newId("quote")).prices.map(({ quote }) => ({ id: quote.id, after: quote }));
}

