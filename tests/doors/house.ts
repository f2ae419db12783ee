/**
 * A folder furnished for the walk: two kitchens in one installation. In the first, one person of each role, a cook who
 * is allowed money, somebody who was taken out again, and sessions that have ended. The second has the same facts under
 * other ids and names, and people of its own; whoever does not belong to it must never meet one of its names.
 */
import path from "node:path";
import sharp from "sharp";
import { type Access, type Caller, type Cookie, type Standing, type Visitor, makeAccess } from "@/lib/access";
import { type BlockBody, type Change, type MoveBody, aboutOf, basisOf, factKey, kitchenOf, readFact } from "@/lib/book";
import { EMPTY_PLAN, NO_CHOICES, guessLayout } from "@/lib/buying";
import { exact } from "@/lib/measure";
import { type Store, makeStore, systemClock } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { readDemo } from "@/seed/read";
import type { Ids } from "./doors";

/** Stands in every name of the second kitchen, and nowhere else. */
export const STRANGE = "Nightjar";
/** Every id of the second kitchen begins so. */
const FAR = "far-";
/** Prices of the first kitchen that stand nowhere else: a dealer's, and what a by-product is worth. */
export const SECRETS = ["11.1793", "6.4271"] as const;

export interface Person {
  readonly what: string;
  /** The kitchen they have open, null for somebody who belongs to none. */
  readonly kitchen: "first" | "second" | null;
  readonly standing: Standing | null;
  readonly signedIn: boolean;
  readonly mayOpenKitchens: boolean;
  /** A Cookie header. */
  readonly cookie: string;
}

export interface House {
  readonly people: readonly Person[];
  readonly first: Ids;
  readonly second: Ids;
  /** Links that are good: to come into the first kitchen, and to a new password. */
  readonly links: { readonly join: string; readonly newPassword: string };
}

/** What a kitchen of the demo's facts calls things. */
const idsIn = (prefix: string) => ({
  item: `${prefix}beef-striploin`, dealer: `${prefix}tarrow`, delivery: `${prefix}tarrow-31207`, quote: `${prefix}beef-striploin-tarrow`, test: `${prefix}striploin-walk`, testReliedOn: `${prefix}striploin-2026-10-13`, product: `${prefix}pork-back-ribs`, cut: `${prefix}striploin`,
  spec: `${prefix}strip-steak-10`, recipe: `${prefix}demi-glace`, dish: `${prefix}strip-steak`, sheet: `${prefix}sheet-at-the-block`, tryout: `${prefix}try-dearer`, order: `${prefix}order-for-ten`, list: `${prefix}list-of-tarrow`,
});

const PASSWORD = "nine pounds of lamb loin";
const from = (cookies: readonly Cookie[] = []): Caller => ({ address: "10.0.0.1", headers: new Headers({ cookie: headerOf(cookies), "user-agent": "A tablet" }) });
const headerOf = (cookies: readonly Cookie[]): string => cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join("; ");

export async function furnish(folder: string): Promise<House> {
  const database = await openDatabase({ folder });
  try {
    const store = makeStore(database, systemClock, path.join(folder, "photos"));
    return await new Furnisher(store, await makeAccess(database, store)).furnish();
  } finally {
    await database.close();
  }
}

class Furnisher {
  constructor(private readonly store: Store, private readonly access: Access) {}

  async furnish(): Promise<House> {
    const { access } = this;
    const demo = readDemo();
    const owner = await this.signedIn(await access.makeFirst({ name: "Ada", username: "ada", password: PASSWORD }, from()));
    const first = good(await access.openKitchen(owner.visitor, demo.kitchen, demo.entries));
    await this.add(first, owner.visitor, "");

    const people: Person[] = [{ what: "owner", kitchen: "first", standing: { role: "owner", seesMoney: true }, signedIn: true, mayOpenKitchens: true, cookie: owner.cookie }];
    const join = async (what: string, standing: Standing): Promise<Person & { readonly visitor: Visitor }> => {
      const { token } = good(await access.invite(owner.visitor, first, { name: what, ...standing }));
      const { visitor, cookie } = await this.signedIn(await access.join(token, { name: what, username: what.replaceAll(" ", "."), password: PASSWORD }, from()));
      return { what, kitchen: "first", standing, signedIn: true, mayOpenKitchens: standing.role === "owner", cookie, visitor };
    };
    const chef = await join("chef", { role: "chef", seesMoney: true });
    people.push(chef, await join("sous chef", { role: "sous chef", seesMoney: true }), await join("cook", { role: "cook", seesMoney: false }),
      await join("cook with money", { role: "cook", seesMoney: true }), await join("reader", { role: "reader", seesMoney: true }));

    // Whom the others' actions are about; they walk nowhere themselves.
    const somebody = await join("somebody", { role: "reader", seesMoney: true });
    const takenOut = await join("taken out", { role: "owner", seesMoney: true });
    good(await access.remove(owner.visitor, first, takenOut.visitor.personId));
    people.push({ ...takenOut, kitchen: null, standing: null, mayOpenKitchens: false });

    // Somebody of the second kitchen alone: came by a link, opened it, and was taken out of the first, whose record names them.
    const stranger = await join("owner elsewhere", { role: "owner", seesMoney: true });
    const second = good(await access.openKitchen(stranger.visitor, { ...demo.kitchen, name: `${STRANGE} house`, place: STRANGE }, demo.entries.map(({ change, validFrom }) => ({ change: renamed(change), validFrom }))));
    good(await access.remove(owner.visitor, first, stranger.visitor.personId));
    people.push({ ...stranger, kitchen: "second" });
    await this.add(second, stranger.visitor, FAR);
    const guest = good(await access.invite(stranger.visitor, second, { name: `${STRANGE} cook`, role: "cook", seesMoney: false }));
    const strangeCook = await this.signedIn(await access.join(guest.token, { name: `${STRANGE} cook`, username: "night.cook", password: PASSWORD }, from()));
    people.push({ what: `${STRANGE} cook`, kitchen: "second", standing: { role: "cook", seesMoney: false }, signedIn: true, mayOpenKitchens: false, cookie: strangeCook.cookie });
    await access.invite(stranger.visitor, second, { name: `${STRANGE} guest`, role: "cook", seesMoney: false });
    // The record of the second kitchen is longer than that of the first.
    const lastOfFirst = (await this.store.live(first)).changeNo;
    while ((await this.store.live(second)).changeNo <= lastOfFirst + 3) await this.note(second, stranger.visitor);

    // Ways of not being signed in.
    const over = await this.signedIn(await access.signIn({ username: "ada", password: PASSWORD }, from()));
    await access.endSession(owner.visitor, over.visitor.sessionId);
    const [name = "", value = ""] = owner.cookie.split("=");
    const nobody = { kitchen: null, standing: null, signedIn: false, mayOpenKitchens: false };
    people.push(
      { ...nobody, what: "nobody", cookie: "" },
      { ...nobody, what: "a session that was ended", cookie: over.cookie },
      { ...nobody, what: "an altered cookie", cookie: `${name}=${value.startsWith("A") ? "B" : "A"}${value.slice(1)}` },
      { ...nobody, what: "a cookie without its signature", cookie: `${name}=${decodeURIComponent(value).split(".")[0] ?? ""}` },
      { ...nobody, what: "the id of a session as its cookie", cookie: `${name}=${owner.visitor.sessionId}` },
    );

    const invitation = async (kitchen: string): Promise<string> => (await access.invitations(kitchen))[0]?.id ?? "";
    const join1 = good(await access.invite(owner.visitor, first, { name: "Guest", role: "owner", seesMoney: true }));
    const newPassword = good(await access.linkToNewPassword(owner.visitor, first, somebody.visitor.personId));
    return {
      people,
      first: { ...idsIn(""), ...await this.photograph(first, owner.visitor, ""), change: "1", kitchen: first, invitation: await invitation(first), program: await this.admit(first, owner.visitor), person: somebody.visitor.personId, session: chef.visitor.sessionId },
      second: { ...idsIn(FAR), ...await this.photograph(second, stranger.visitor, FAR), change: String(lastOfFirst + 3), kitchen: second, invitation: await invitation(second), program: await this.admit(second, stranger.visitor), person: strangeCook.visitor.personId, session: strangeCook.visitor.sessionId },
      links: { join: join1.token, newPassword: newPassword.token },
    };
  }

  /** A test that no cut stands on, with a by-product's worth, and a price of its own. */
  private async add(kitchenId: string, by: Visitor, prefix: string): Promise<void> {
    const { book, today } = await this.store.live(kitchenId);
    const ids = idsIn(prefix);
    const test = book.shelves.test.get(ids.testReliedOn);
    const quote = book.shelves.quote.get(ids.quote);
    if (test === undefined || quote === undefined) throw new Error("expected the demo's striploin with its test and its price");
    const typed = test.parts.map((part) => (part.role === "by-product" ? { ...part, value: { kind: "typed", rate: "6.4271 / lb" } } : part));
    const copy = readFact("test", { ...test, id: ids.test, parts: typed }, { locale: "en-US", measures: "us", currency: "USD" });
    const dearer = readFact("quote", { ...quote, price: "11.1793" }, { locale: "en-US", measures: "us", currency: "USD" });
    if (!copy.ok || !dearer.ok) throw new Error(`expected the facts to be read: ${JSON.stringify([copy, dearer])}`);
    await this.record(kitchenId, by, [{ kind: "test", id: ids.test, after: copy.value }, { kind: "quote", id: ids.quote, after: dearer.value }], today);
    await this.weigh(kitchenId, by, prefix, today);
    await this.pretend(kitchenId, by, prefix);
  }

  /** A try-out of one move, of a fact that no other way into the app changes: steak frites at another menu price. */
  private async pretend(kitchenId: string, by: Visitor, prefix: string): Promise<void> {
    const { book } = await this.store.live(kitchenId);
    const ids = idsIn(prefix);
    const body: MoveBody = { kind: "menu price", dishId: `${prefix}steak-frites`, gross: { amount: exact("31") } };
    const kept = await this.store.keepTryout(kitchenId, by, { id: ids.tryout, name: prefix === "" ? "Dearer" : `${STRANGE} dearer`, version: null, moves: [{ key: "first", about: aboutOf(body, book), body, basis: basisOf(book, body), added: null }] });
    if (!kept.ok) throw new Error(`expected the try-out to be kept: ${JSON.stringify(kept)}`);
    const plan = { ...EMPTY_PLAN, dishes: [{ key: "d1", dishId: ids.dish, covers: exact("10") }] };
    const order = await this.store.keepOrderPlan(kitchenId, by, { id: ids.order, name: prefix === "" ? "For ten" : `${STRANGE} for ten`, forDay: null, plan, version: null });
    if (!order.ok) throw new Error(`expected the order to be kept: ${JSON.stringify(order)}`);
    const bytes = Buffer.from(`Code;Description;Price\nX1;${prefix === "" ? "Striploin" : `${STRANGE} striploin`};10.50\n`);
    const list = await this.store.addPriceList(kitchenId, by, { id: ids.list, dealerId: ids.dealer, fileName: prefix === "" ? "november.csv" : `${STRANGE}.csv`, bytes, layout: guessLayout([{ name: "november.csv", rows: bytes.toString().split("\n").filter(Boolean).map((line) => line.split(";").map((text) => ({ text, number: null }))) }], kitchenOf(book)), choices: NO_CHOICES });
    if (!list.ok) throw new Error(`expected the price list to be kept: ${JSON.stringify(list)}`);
  }

  /** A sheet at the block, weighed and not recorded yet. */
  private async weigh(kitchenId: string, by: Visitor, prefix: string, on: string): Promise<void> {
    const ids = idsIn(prefix);
    const name = prefix === "" ? "Lean trim" : `${STRANGE} lean trim`;
    const reading = (key: string, amount: string): BlockBody => ({ kind: "reading", key, gross: { amount: exact(amount), unit: "lb" }, tare: null, piece: false });
    const bodies: readonly BlockBody[] = [
      { kind: "about", of: `item:${ids.item}`, test: "butcher", dealerId: ids.dealer, on, cutter: by.name, pieces: 1, scale: null, step: null },
      { kind: "part", key: "trimmed-striploin", name: "Striploin, trimmed", role: "main", place: 0 }, { kind: "part", key: "lean-trim", name, role: "by-product", place: 1 },
      reading("@billed", "13"), reading("trimmed-striploin", "9"), reading("lean-trim", "2"),
    ];
    await this.store.startSheet(kitchenId, ids.sheet, by, bodies.map((body, number) => ({ id: `entry-${number}-of-the-walk`, at: `2026-11-25T09:30:0${number}.000Z`, body })));
  }

  /** A key for a program. */
  private async admit(kitchenId: string, by: Visitor): Promise<string> {
    return good(await this.access.makeProgramKey(by, kitchenId, { name: "Till", may: "write" })).id;
  }

  private async photograph(kitchenId: string, by: Visitor, prefix: string): Promise<Pick<Ids, "photo" | "picture">> {
    const picture = await sharp({ create: { width: 60, height: 40, channels: 3, background: "#aa6655" } }).jpeg().toBuffer();
    return { photo: good(await this.store.addPhoto(kitchenId, idsIn(prefix).test, by, { sent: picture, caption: prefix === "" ? "" : STRANGE })).id, picture };
  }

  private async note(kitchenId: string, by: Visitor): Promise<void> {
    const { book, today, changeNo } = await this.store.live(kitchenId);
    const dealer = book.shelves.dealer.get(idsIn(FAR).dealer);
    if (dealer === undefined) throw new Error("expected the demo's dealer");
    await this.record(kitchenId, by, [{ kind: "dealer", id: dealer.id, after: { ...dealer, note: `${STRANGE} ${changeNo}` } }], today);
  }

  private async record(kitchenId: string, by: Visitor, changes: readonly Change[], validFrom: string): Promise<void> {
    const live = await this.store.live(kitchenId);
    const basedOn = Object.fromEntries(changes.map(({ kind, id }) => [factKey(kind, id), live.book.provenance.get(factKey(kind, id))?.revision ?? null]));
    const done = await this.store.commit(kitchenId, { entries: changes.map((change) => ({ change, validFrom })), basedOn, who: by, why: "" });
    if (!done.ok) throw new Error(`expected it to be recorded: ${JSON.stringify(done)}`);
  }

  private async signedIn(checked: Parameters<typeof good<readonly Cookie[]>>[0]): Promise<{ readonly visitor: Visitor; readonly cookie: string }> {
    const cookies = good(checked);
    const visitor = await this.access.visitor(from(cookies).headers);
    if (visitor === null) throw new Error("expected somebody signed in");
    return { visitor, cookie: headerOf(cookies) };
  }
}

function good<T>(checked: { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problems: readonly { readonly sentence: string }[] }): T {
  if (!checked.ok) throw new Error(checked.problems.map(({ sentence }) => sentence).join(" "));
  return checked.value;
}

const DEMO_IDS: ReadonlySet<string> = new Set(readDemo().entries.map(({ change }) => change.id).filter((id) => !/^\d/.test(id)));

/** A demo fact under another id and another name, and so for everything that it speaks of. */
function renamed(change: Change): Change {
  // A week's sales are called by their Monday, and keep that.
  const far = (value: unknown, key: string): unknown => {
    if (typeof value === "string") return /^name$|^note$/.test(key) && value !== "" ? `${STRANGE} ${value}` : /^(id|\w+Id|testIds)$/.test(key) && DEMO_IDS.has(value) ? FAR + value : value;
    if (Array.isArray(value)) return value.map((one) => far(one, key));
    if (typeof value === "object" && value !== null) return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, far(one, name)]));
    return value;
  };
  return far(change, "") as Change;
}

/** The rows of every table but those of sessions and of throttling, by table, and by kitchen where they have one: a count and a digest. */
export async function takeStock(folder: string): Promise<ReadonlyMap<string, string>> {
  const database = await openDatabase({ folder });
  try {
    return await stockOf(database);
  } finally {
    await database.close();
  }
}

const PASSING = new Set(["session", "sign_in_attempt", "verification", "_prisma_migrations"]);

async function stockOf({ prisma }: Database): Promise<ReadonlyMap<string, string>> {
  const tables = await prisma.$queryRawUnsafe<{ table: string; kitchen: boolean }[]>(`
    SELECT t.table_name AS "table", EXISTS (SELECT 1 FROM information_schema.columns c WHERE c.table_name = t.table_name AND c.table_schema = t.table_schema AND c.column_name = 'kitchen_id') AS kitchen
    FROM information_schema.tables t WHERE t.table_schema = 'public' AND t.table_type = 'BASE TABLE' ORDER BY 1`);
  const stock = new Map<string, string>();
  for (const { table, kitchen } of tables) {
    if (PASSING.has(table)) continue;
    const of = kitchen ? "kitchen_id" : table === "kitchen" ? "id" : "''";
    const rows = await prisma.$queryRawUnsafe<{ of: string; rows: number; digest: string }[]>(`
      SELECT ${of} AS of, count(*)::int AS rows, md5(string_agg(md5(r::text), '' ORDER BY md5(r::text))) AS digest FROM "${table}" r GROUP BY 1`);
    for (const { of, rows: count, digest } of rows) stock.set(`${table} ${of}`.trim(), `${count} rows, ${digest}`);
  }
  return stock;
}
