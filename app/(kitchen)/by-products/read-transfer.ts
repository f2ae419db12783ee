/** How a by-product is passed on, as a form of TransferFields sent it, for the schema of an item. Server only. */
import { type Book, type Transfer, findNamed, nearNamed } from "@/lib/book";
import { type Problem, quoted } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { ReadForm } from "../change-flow/read-form";
import { quantityInput, rateInput } from "../tests/sheet-props";

export interface ReadTransfer {
  /** What the item's schema reads. */
  readonly input: unknown;
  readonly problems: readonly Problem[];
}

/** `known`: as it stands; the day stays while the price does. Paths of problems are those of the fields. */
export function readTransfer(form: ReadForm, book: Book, today: string, known: Transfer | null): ReadTransfer {
  const { name, problems } = itemNamed(form.text("transfer.inPlaceOf"), book, form.text("transfer.kind") === "item");
  const kind = form.text("transfer.kind");
  const price = kind === "item" ? { kind, itemId: name, less: form.text("transfer.less") } : { kind: kind === "market" ? kind : "fixed", rate: form.text("transfer.rate"), source: form.text("transfer.source") };
  const [produced, used, over] = [form.text("transfer.use.produced"), form.text("transfer.use.used"), form.text("transfer.use.over")];
  const same = known !== null && unchanged(form, known, book);
  return {
    problems,
    input: { price, on: same ? known.on : today, destination: form.text("transfer.destination"), use: produced === "" && used === "" ? null : { produced, used, over } },
  };
}

/** Where the schema of an item finds something wrong with the transfer, as the field that stands for it. */
export function transferField(path: string): string {
  return path.replace(/^transfer\.price\.itemId/, "transfer.inPlaceOf").replace(/^transfer\.price\.(kind|less|rate|source)/, "transfer.$1").replace(/^transfer\.price$/, "transfer.kind");
}

function itemNamed(typed: string, book: Book, needed: boolean): { readonly name: string; readonly problems: readonly Problem[] } {
  if (typed === "" || !needed) return { name: "", problems: needed ? [{ path: "transfer.inPlaceOf", code: "missing", sentence: "Say which item it takes the place of, as the book has it." }] : [] };
  const found = findNamed(book, ["item"], typed);
  if (found !== null) return { name: found.id, problems: [] };
  const near = nearNamed(book, ["item"], typed, 3).map(({ label }) => `“${label}”`);
  const sentence = near.length === 0 ? `No item in the book is called ${quoted(typed)}: type a name as the book has it.` : `More than one may be meant by ${quoted(typed)}: ${near.join(" or ")}?`;
  return { name: "", problems: [{ path: "transfer.inPlaceOf", code: "not-found", sentence }] };
}

function unchanged(form: ReadForm, known: Transfer, book: Book): boolean {
  const was = transferValues(known, book);
  return ["kind", "inPlaceOf", "less", "rate", "source"].every((field) => form.text(`transfer.${field}`) === (was[`transfer.${field}`] ?? ""));
}

/** A transfer as the fields of its form. */
export function transferValues({ price, destination, use }: Transfer, book: Book): Values {
  return {
    "transfer.kind": price.kind, "transfer.destination": destination,
    ...(price.kind === "item"
      ? { "transfer.inPlaceOf": book.shelves.item.get(price.itemId)?.name ?? price.itemId, "transfer.less": price.less === null ? "" : rateInput(price.less) }
      : { "transfer.rate": rateInput(price.rate), "transfer.source": price.source }),
    ...(use === null ? {} : { "transfer.use.produced": quantityInput(use.produced), "transfer.use.used": quantityInput(use.used), "transfer.use.over": use.over }),
  };
}
