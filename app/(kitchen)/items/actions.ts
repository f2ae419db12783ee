/**
 * What can be done to items: put one in the book, reprice it, add, change, correct or drop a dealer's quote, choose whom it
 * is bought from, change it or take it off.
 */
"use server";
import { type Dealer, ALLERGENS, type Allergens, type Quote, priceQuestions, readFact } from "@/lib/book";
import { type Checked, type Habits, type Problem, at, bad, good, kindOf, moneyText, parseMoney, parseRate } from "@/lib/measure";
import { type DatedChange, newId } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { type ChangeInput, runChange } from "../change-flow/run-change";

const text = (formData: FormData, name: string): string => {
  const value = formData.get(name);
  return typeof value === "string" ? value : "";
};

/** A new price of a quote, everything else about it as it was; "15.65 / kg" also says for how much it is. */
export async function repriceItem(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: ({ form, live, habits, dated }) => {
      const quote = live.book.shelves.quote.get(form.text("quoteId"));
      if (quote === undefined) return bad("", "not-in-the-book", "That price is not in the book any more: open the item again.");
      const typed = form.text("price");
      const paid = quote.currency === null ? habits : { ...habits, currency: quote.currency };
      const rate = quote.per === "pack" || typed === "" ? null : parseRate(typed, paid, { bare: quote.per, kinds: [kindOf(quote.per)] });
      if (rate !== null && !rate.ok) return { ok: false, problems: at("price", rate.problems) };
      // A price written with its unit is kept as the figure, in the kitchen's own marks, and the unit beside it.
      const [price, wrong] = rate === null || parseMoney(typed, paid).ok ? moneyInput(typed, paid, habits, "price") : [moneyText(rate.value.amount, habits), []];
      if (wrong.length > 0) return { ok: false, problems: wrong };
      const read = readFact("quote", { ...quote, price, per: rate?.value.per ?? quote.per }, habits);
      return read.ok ? good([dated({ kind: "quote", id: read.value.id, after: read.value })]) : read;
    },
    questions: (input, entries) => askOfPrices(input, entries, "price"),
  });
}

export async function addItem(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: (input): Checked<readonly DatedChange[]> => {
      const { form, habits, dated } = input;
      const dealer = dealerOf(input);
      const dealerId = dealer.id;
      const label = labelOf(input);
      const item = readFact("item", { ...itemInput(input), allergens: label.input, dealerId }, habits);
      const priced = form.text("quote.price") !== "" || form.text("quote.pack") !== "";
      const quote = priced ? quoteOf(input, form.text("quoteId"), form.text("id"), dealerId) : null;
      const problems = [...dealer.problems, ...label.problems, ...(item.ok ? [] : item.problems), ...(quote === null || quote.ok ? [] : quote.problems)];
      if (problems.length > 0 || !item.ok) return { ok: false, problems };
      return good([
        ...(dealer.fact === null ? [] : [dated(dealer.fact)]),
        dated({ kind: "item", id: item.value.id, after: item.value }),
        ...(quote?.ok ? [dated({ kind: "quote", id: quote.value.id, after: quote.value })] : []),
      ]);
    },
    next: () => `/items/${encodeURIComponent(text(formData, "id"))}`,
  });
}

export async function editItem(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: (input) => {
      const label = labelOf(input);
      // How a by-product is passed on stands in a form of its own.
      const transfer = input.live.book.shelves.item.get(input.form.text("id"))?.transfer ?? null;
      const item = readFact("item", { ...itemInput(input), allergens: label.input, transfer, dealerId: input.form.text("dealerId") }, input.habits);
      const problems = [...label.problems, ...(item.ok ? [] : item.problems)];
      return problems.length > 0 || !item.ok ? { ok: false, problems } : good([input.dated({ kind: "item", id: item.value.id, after: item.value })]);
    },
    next: () => `/items/${encodeURIComponent(text(formData, "id"))}`,
  });
}

/** Which dealer an item is bought from, and so costed at; nothing else about it. */
export async function buyFrom(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: ({ form, live, habits, dated }) => {
      const item = live.book.shelves.item.get(form.text("id"));
      if (item === undefined) return bad("", "not-in-the-book", "That item is not in the book any more.");
      const read = readFact("item", { ...item, dealerId: form.text("dealerId") }, habits);
      return read.ok ? good([dated({ kind: "item", id: read.value.id, after: read.value })]) : read;
    },
  });
}

/** A dealer does not offer it any more. */
export async function withdrawQuote(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: ({ form, dated }) => good([dated({ kind: "quote", id: form.text("quoteId"), after: null })]),
    next: () => `/items/${encodeURIComponent(text(formData, "itemId"))}`,
  });
}

/** A dealer's quote: another one, a change of one, or a correction, where `replaces` names the revision that was wrong. */
export async function saveQuote(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: (input): Checked<readonly DatedChange[]> => {
      const { form, dated } = input;
      const dealer = dealerOf(input);
      const quote = quoteOf(input, form.text("quoteId"), form.text("itemId"), dealer.id);
      if (!quote.ok || dealer.problems.length > 0) return { ok: false, problems: [...dealer.problems, ...(quote.ok ? [] : quote.problems)] };
      const replaces = form.text("replaces") === "" ? undefined : Number(form.text("replaces"));
      const change = dated({ kind: "quote", id: quote.value.id, after: quote.value });
      return good([...(dealer.fact === null ? [] : [dated(dealer.fact)]), replaces === undefined ? change : { ...change, validFrom: form.text("validFrom"), replaces }]);
    },
    questions: (input, entries) => askOfPrices(input, entries, "quote.price"),
    next: () => `/items/${encodeURIComponent(text(formData, "itemId"))}`,
  });
}

export async function withdrawItem(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change items and prices",
    read: ({ form, live, dated }) => {
      const id = form.text("id");
      const quotes: readonly Quote[] = [...live.book.shelves.quote.values()].filter((quote) => quote.itemId === id);
      return good([...quotes.map((quote) => dated({ kind: "quote", id: quote.id, after: null })), dated({ kind: "item", id, after: null })]);
    },
    next: () => "/items",
  });
}

/** What a careful buyer asks of a price before the old one goes; a correction says that the old one was wrong, so it is not asked. */
function askOfPrices({ live, habits }: ChangeInput, entries: readonly DatedChange[], field: string): readonly Problem[] {
  return entries.flatMap(({ change, replaces }): readonly Problem[] => {
    if (change.kind !== "quote" || change.after === null || replaces !== undefined) return [];
    const { itemId, dealerId, id } = change.after;
    const before = live.book.shelves.quote.get(id) ?? [...live.book.shelves.quote.values()].find((quote) => quote.itemId === itemId && quote.dealerId === dealerId) ?? null;
    return priceQuestions(change.after, before, habits).map((problem) => ({ ...problem, path: field }));
  });
}

/** The item's own fields; a density or an each-weight is dated today unless it stands as it was. */
function itemInput({ form, live, today }: ChangeInput): Record<string, unknown> {
  const known = live.book.shelves.item.get(form.text("id"));
  const grams = form.text("density.gramsPerMl");
  const each = form.text("eachWeight.weight");
  const source = (name: string): string => form.text(`${name}.source`);
  return {
    ...form.input,
    kind: form.text("kind") === "" ? known?.kind ?? "mass" : form.text("kind"),
    density: grams === "" ? null : { gramsPerMl: grams, source: source("density"), on: known?.density?.gramsPerMl === grams && known.density.source === source("density") ? known.density.on : today },
    eachWeight: each === "" ? null : { weight: each, source: source("eachWeight"), on: known?.eachWeight?.source === source("eachWeight") && (known.eachWeight.weight.typed ?? `${known.eachWeight.weight.amount} ${known.eachWeight.weight.unit}`) === each ? known.eachWeight.on : today },
  };
}

/**
 * What the form says of the label. Nobody has looked yet is one thing, none named another, so a tick beside either of
 * them is asked about and not dropped. A form without these fields leaves what stands in the book.
 */
function labelOf({ form, live, today }: ChangeInput): { readonly input: unknown; readonly problems: readonly Problem[] } {
  const known = live.book.shelves.item.get(form.text("id"))?.allergens ?? null;
  const looked = form.text("label");
  if (looked === "") return { input: known, problems: [] };
  const ticked = (value: string) => ALLERGENS.filter((one) => form.text(`allergen.${one.replace(" ", "-")}`) === value);
  const said = { contains: ticked("contains"), mayContain: ticked("may"), source: form.text("allergens.source") };
  const named = [...said.contains, ...said.mayContain];
  const wrong = (sentence: string) => ({ input: null, problems: [{ path: "label", code: "label-unclear", sentence }] });
  if (looked !== "named" && named.length > 0) return wrong(`${named.join(", ")}: named below, yet it says here that ${looked === "none" ? "the label names none" : "nobody has looked yet"}. Choose what was found, or take the names back.`);
  if (looked === "unknown") return said.source === "" ? { input: null, problems: [] } : wrong("It says where the label stands, yet nobody has looked: choose what was found there.");
  if (looked === "named" && named.length === 0) return wrong("Say below which allergens the label names, or choose that it names none.");
  return { input: { ...said, on: known !== null && sameLabel(known, said) ? known.on : today }, problems: [] };
}

function sameLabel(known: Allergens, said: Omit<Allergens, "on">): boolean {
  return known.source === said.source && known.contains.join() === said.contains.join() && known.mayContain.join() === said.mayContain.join();
}

/** The dealer chosen, or a new one by name. */
function dealerOf({ form, live, habits }: ChangeInput): { readonly id: string; readonly fact: { readonly kind: "dealer"; readonly id: string; readonly after: Dealer } | null; readonly problems: readonly Problem[] } {
  const chosen = form.text("quote.dealerId");
  if (chosen !== "new" && !(chosen === "" && form.text("dealerName") !== "")) return { id: chosen, fact: null, problems: [] };
  const name = form.text("dealerName");
  const same = [...live.book.shelves.dealer.values()].find((dealer) => dealer.name.toLowerCase() === name.toLowerCase());
  if (same !== undefined) return { id: same.id, fact: null, problems: [] };
  const id = form.text("newDealerId") === "" ? newId("dealer") : form.text("newDealerId");
  const read = readFact("dealer", { id, name, note: "" }, habits);
  return read.ok ? { id, fact: { kind: "dealer", id, after: read.value }, problems: [] } : { id, fact: null, problems: read.problems.map((problem) => ({ ...problem, path: "dealerName" })) };
}

/** A quote as the form has it. What is asked in other money is read in that money, extras and rebates too. */
function quoteOf({ form, live, habits }: ChangeInput, id: string, itemId: string, dealerId: string): Checked<Quote> {
  const pack = form.text("quote.pack");
  const currency = form.text("quote.currency");
  const paid = currency === "" ? habits : { ...habits, currency };
  const known = live.book.shelves.quote.get(id);
  const [price, wrongPrice] = moneyInput(form.text("quote.price"), paid, habits, "quote.price");
  const rows = form.rows("quote.landed").map(({ key = "", name = "", way = "", amount = "", per = "" }, index) => {
    const [sum, wrong] = per === "share" ? [amount, []] as const : moneyInput(amount, paid, habits, `quote.landed.${index}.amount`);
    return { wrong, input: { ...(key === "" ? {} : { key }), name, way, of: per === "share" ? { kind: "share", share: amount } : { kind: "money", amount: sum, per } } };
  });
  const read = readFact("quote", {
    id, itemId, dealerId, pack: form.text("quote.catchWeight") === "yes" && !/catch/i.test(pack) ? `${pack}, catch weight` : pack,
    price, per: form.text("quote.per"), basis: form.text("quote.basis") === "" ? "quoted" : form.text("quote.basis"), code: form.text("quote.code"), currency, gtin: form.text("quote.gtin"),
    // The day of a contract is asked for where it is one; without scripts it always stands there.
    until: form.text("quote.basis") === "contract" ? form.text("quote.until") : null,
    landed: form.input["quote"] !== undefined && "landed" in Object(form.input["quote"]) ? rows.map(({ input }) => input) : known?.landed ?? [],
  }, habits);
  const wrong = [...wrongPrice, ...rows.flatMap((row) => row.wrong)];
  if (read.ok) return wrong.length > 0 ? { ok: false, problems: wrong } : read;
  const found = at("quote", read.problems).map((problem) => ({ ...problem, path: problem.path.replace(/^(quote\.landed\.\d+)\.of\.(?:amount|share|kind)$/, "$1.amount").replace(/^(quote\.landed\.\d+)\.of\.per$/, "$1.per") }));
  return { ok: false, problems: [...wrong, ...found.filter((problem) => !wrong.some(({ path }) => path === problem.path))] };
}

/** Money for readFact, and what is wrong with it: the kitchen's own is read there, other money here. */
function moneyInput(typed: string, paid: Habits, own: Habits, path: string): readonly [unknown, readonly Problem[]] {
  if (paid.currency === own.currency || typed === "") return [typed, []];
  const read = parseMoney(typed, paid);
  return read.ok ? [read.value, []] : [typed, at(path, read.problems)];
}
