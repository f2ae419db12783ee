/**
 * What the rest of the house may ask of the store. A kitchen's facts are recorded as revisions and never edited: a
 * commit adds revisions with the ripple they cause, in one transaction or not at all. The live book is the kitchen's
 * book as it applies today, compiled and kept in memory; any other day, as known at any moment, is read from the
 * revisions. Every time in here is a moment in UTC ("2026-11-25T09:30:00.000Z") or a calendar day ("2026-11-25").
 */
import type { BlockEntry, Book, Change, DoneFact, FactKind, FactOf, Kitchen, Move, Overtaken } from "@/lib/book";
import type { OrderPlan } from "@/lib/buying";
import type { BorrowedCut, Cascade, Missing, NodeCost, NodeRef } from "@/lib/cascade";
import type { KitchenFile } from "@/lib/exchange";
import type { Checked, Decimal, Problem } from "@/lib/measure";
import type { Crossing, RippleReport } from "@/lib/menu";
import type { Transaction } from "./database";
import type { News } from "./listening";
import type { CommittedOnce, ProgramCall } from "./program-calls";
import type { OpenedFromFile } from "./whole-kitchen-in";

/** Who does something: the name that the record tells, and the person behind it; a command or a seed has none. */
export interface Who {
  readonly name: string;
  readonly personId?: string | undefined;
}

export type Fact = FactOf[FactKind];

/** A kitchen's book as it applies today, compiled. A value: a later commit makes another one and leaves this as it is. */
export interface LiveBook {
  readonly kitchenId: string;
  /** How many changes have been recorded in this kitchen; this book knows them all. */
  readonly changeNo: number;
  /** The kitchen's own calendar day, by its time zone. */
  readonly today: string;
  readonly book: Book;
  readonly cascade: Cascade;
  /** Facts recorded ahead of their day, soonest first: they apply by themselves when it comes. */
  readonly ahead: readonly Ahead[];
}

/** A revision recorded ahead: `after` applies from `validFrom`, which has not come yet; null takes the fact off. */
export type Ahead = Change & { readonly name: string; readonly validFrom: string; readonly revision: number };

/** A change with the day it applies from. */
export interface DatedChange {
  readonly change: Change;
  /** Calendar day: today, a past day (it has applied since then) or a day to come (it will apply by itself). */
  readonly validFrom: string;
  /** The revision that this one corrects: that one counts no more. Absent: this is news, the earlier revisions stay. */
  readonly replaces?: number | undefined;
}

export interface Commission {
  readonly entries: readonly DatedChange[];
  /**
   * For every changed fact (factKey), the revision its editor had before them, null for a fact that did not exist:
   * `basedOn(live, changes)` tells it. A fact that somebody else has changed since is stale, and nothing is saved.
   */
  readonly basedOn: Readonly<Record<string, number | null>>;
  readonly who: Who;
  /** Why, in the editor's words; may be "". */
  readonly why: string;
}

/** A fact that somebody else changed while it was being edited. */
export interface Stale {
  readonly kind: FactKind;
  readonly id: string;
  readonly name: string;
  readonly by: string;
  readonly at: string;
  /** The revision that stands now; what to base on when one's own version is to be saved all the same. */
  readonly revision: number;
  readonly mine: Fact | null;
  readonly theirs: Fact | null;
}

export type Committed =
  | {
    readonly ok: true;
    readonly changeNo: number;
    /** What the change does to the costs of today; what applies later is in `later`. */
    readonly report: RippleReport;
    readonly live: LiveBook;
    /** What this change recorded ahead of its day, soonest first. */
    readonly later: readonly Ahead[];
  }
  | { readonly ok: false; readonly reason: "problems"; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly reason: "stale"; readonly stale: readonly Stale[] };

/** One fact in a change of the record: what it was (as known then, on the day the change applies from) and became. Its name is that of when it was recorded. */
export interface ChangedFact extends DoneFact {
  readonly after: Fact | null;
}

export interface CrossingName {
  readonly dishId: string;
  readonly name: string;
  readonly direction: Crossing["direction"];
}

/** One change in the record. */
export interface RecordEntry {
  readonly changeNo: number;
  readonly at: string;
  readonly by: string;
  readonly why: string;
  /** The facts changed: in a list of changes the first few of each, in a single entry up to 50,000. */
  readonly facts: readonly ChangedFact[];
  readonly factCount: number;
  /** How many costs moved, by kind of node, when it was recorded. */
  readonly moved: Readonly<Record<NodeRef["kind"], number>>;
  readonly crossings: readonly CrossingName[];
}

/** A change with the ripple that was recorded with it, to the digit as it was shown before saving. */
export interface RecordEntryWithRipple extends RecordEntry {
  readonly ripple: RippleReport;
}

/** A cost after a change that moved it. */
export interface CostPoint {
  readonly at: string;
  readonly changeNo: number;
  /** Money per g, mL, each, portion, batch or plate, as `per` says; null: the thing was taken off the book. */
  readonly amount: Decimal | null;
  readonly per: NodeCost["per"];
  /** True when something was missing, so that the amount is a lower bound. */
  readonly atLeast: boolean;
  readonly missing: readonly Missing[];
  /** The cuts on borrowed yields that it rested on. */
  readonly borrowed: readonly BorrowedCut[];
}

/** What last moved a cost. */
export interface LastMove {
  readonly changeNo: number;
  readonly at: string;
  readonly by: string;
  /** Which way the cost went; null when it was new, or a bound that does not compare. */
  readonly direction: "up" | "down" | null;
  /** The first fact of the change, and how many facts it had. */
  readonly cause: { readonly kind: FactKind; readonly id: string; readonly name: string };
  readonly factCount: number;
}

/** One recorded state of a fact. */
export interface Revision {
  readonly revision: number;
  readonly kind: FactKind;
  readonly id: string;
  readonly name: string;
  readonly validFrom: string;
  readonly recordedAt: string;
  readonly by: string;
  readonly why: string;
  readonly changeNo: number;
  readonly replaces: number | null;
  /** The revision that corrects this one, so that it counts no more; null while it counts. */
  readonly replacedBy: number | null;
  /** null: from its day on the fact is off the book. */
  readonly fact: Fact | null;
}

/** A book of a day: as it applies `on` that day, with what is known now or was known at a moment or after a change. */
export interface AsOf {
  readonly on: string;
  readonly knownAt?: string | undefined;
  readonly afterChange?: number | undefined;
}

/** An entry of a sheet at the block as the kitchen's book has it. */
export interface SentEntry extends BlockEntry {
  readonly no: number;
  readonly by: string;
}

/** What a device is told that asks for what is new on a sheet. */
export interface SheetsAnswer {
  readonly entries: readonly SentEntry[];
  /** Ask for what comes after this number next time. */
  readonly last: number;
  /** The change that recorded the sheet as a test; null while it is under way. */
  readonly recordedChange: number | null;
  readonly putAway: boolean;
}

/** A sheet under way. */
export interface SheetAtTheBlock {
  readonly id: string;
  readonly startedBy: string;
  readonly startedAt: string;
  readonly lastAt: string;
  readonly entries: readonly BlockEntry[];
}

/** A photo of the trim of a test, or of a sheet at the block: both have the same id. */
export interface Photo {
  readonly id: string;
  readonly testId: string;
  /** What it shows, in the words of whoever took it; may be "". */
  readonly caption: string;
  /** In points, upright. */
  readonly width: number;
  readonly height: number;
  readonly by: string;
  readonly at: string;
  /** Who removed it when; null while it is shown. */
  readonly removed: { readonly by: string; readonly at: string } | null;
}

/** A photo as it was sent: the file whole, and what it shows. */
export interface NewPhoto {
  readonly sent: Uint8Array;
  readonly caption: string;
}

/** A try-out: moves that somebody pretends, kept by name. Keeping one changes nothing of the book. */
export interface Tryout {
  readonly id: string;
  readonly name: string;
  readonly createdBy: string;
  readonly createdAt: string;
  readonly changedBy: string;
  readonly changedAt: string;
  /** Counts up with every saving. */
  readonly version: number;
  readonly moves: readonly Move[];
  /** Moves that were kept once and cannot be read any more. */
  readonly lost: number;
  /** The change of the record that made it real; null while it is only tried. */
  readonly madeChange: number | null;
  readonly dropped: { readonly by: string; readonly at: string } | null;
}

/** What is to be kept of a try-out. `version`: the one that its editor had before them, null for a new one. */
export interface TryoutToKeep {
  readonly id: string;
  readonly name: string;
  readonly moves: readonly Move[];
  readonly version: number | null;
}

export type KeptTryout =
  | { readonly ok: true; readonly tryout: Tryout }
  | { readonly ok: false; readonly reason: "problems"; readonly problems: readonly Problem[] }
  /** Somebody else has kept, dropped or recorded it since; nothing was saved. */
  | { readonly ok: false; readonly reason: "stale"; readonly theirs: Tryout }
  | { readonly ok: false; readonly reason: "not-there" };

export interface MakeReal {
  readonly version: number;
  /** The day that it applies from. */
  readonly from: string;
  /** The revision of every overtaken fact that was seen, by factKey. */
  readonly seen: Readonly<Record<string, number | null>>;
  /** What else its maker had before them; the book of the moment otherwise. */
  readonly basedOn?: Commission["basedOn"] | undefined;
  readonly who: Who;
  readonly why: string;
}

export type MadeReal =
  | Committed
  /** Facts have been overtaken that its maker has not said they have seen. Nothing was recorded. */
  | { readonly ok: false; readonly reason: "overtaken"; readonly overtaken: ReadonlyMap<string, readonly Overtaken[]> }
  | { readonly ok: false; readonly reason: "moved-on"; readonly theirs: Tryout }
  | { readonly ok: false; readonly reason: "not-there" };

/** What a commit is about to do. */
export type CommitStep = "reading" | "checking" | "writing the facts" | "writing what moved" | "closing";

/** Told before each step of a commit, which waits for it; where it throws, nothing is recorded. */
export type WatchCommit = (step: CommitStep) => Promise<void> | void;

/** A dealer's price list that was read from a file. Keeping one changes nothing of the book. */
export interface PriceList {
  readonly id: string;
  readonly dealerId: string;
  readonly fileName: string;
  readonly readAt: string;
  readonly readBy: string;
  /** As lib/buying reads them: `readLayout`, `readChoices`. */
  readonly layout: unknown;
  readonly choices: unknown;
  /** Counts up with every saving. */
  readonly version: number;
  readonly changedAt: string;
  readonly changedBy: string;
  /** The change of the record that recorded it; null while it waits. */
  readonly madeChange: number | null;
  readonly dropped: { readonly by: string; readonly at: string } | null;
}

export interface NewPriceList {
  readonly id: string;
  readonly dealerId: string;
  readonly fileName: string;
  readonly bytes: Uint8Array;
  readonly layout: unknown;
  readonly choices: unknown;
}

export type AddedPriceList =
  | { readonly ok: true; readonly list: PriceList }
  /** The same file of the same dealer is here already: waiting, or recorded and not undone since. Nothing was kept. */
  | { readonly ok: false; readonly reason: "known"; readonly list: PriceList }
  | { readonly ok: false; readonly reason: "problems"; readonly problems: readonly Problem[] };

/** What is to be kept of a price list. `version`: the one that its editor had before them. `remember`: the layout is the dealer's from now on. */
export interface PriceListToKeep {
  readonly id: string;
  readonly version: number;
  readonly layout: unknown;
  readonly choices: unknown;
  readonly remember: boolean;
}

export type KeptPriceList =
  | { readonly ok: true; readonly list: PriceList }
  | { readonly ok: false; readonly reason: "problems"; readonly problems: readonly Problem[] }
  /** Somebody else has kept, dropped or recorded it since; nothing was saved. */
  | { readonly ok: false; readonly reason: "stale"; readonly theirs: PriceList }
  | { readonly ok: false; readonly reason: "not-there" };

export interface RecordPriceList extends Commission {
  readonly version: number;
  /** What stays written with it: what was answered, and how its lines were counted. */
  readonly choices: unknown;
  readonly watch?: WatchCommit | undefined;
}

export type RecordedPriceList =
  | Committed
  | { readonly ok: false; readonly reason: "moved-on"; readonly theirs: PriceList }
  | { readonly ok: false; readonly reason: "not-there" };

/** An order that somebody plans, kept by name. What has to be bought follows from the book of the day it is looked at. */
export interface KeptOrderPlan {
  readonly id: string;
  readonly name: string;
  /** The day it is for; null: not said. */
  readonly forDay: string | null;
  readonly plan: OrderPlan;
  /** Rows that were kept once and cannot be read any more. */
  readonly lost: number;
  readonly createdBy: string;
  readonly createdAt: string;
  readonly changedBy: string;
  readonly changedAt: string;
  /** Counts up with every saving. */
  readonly version: number;
  readonly dropped: { readonly by: string; readonly at: string } | null;
}

/** What is to be kept of an order. `version`: the one that its editor had before them, null for a new one. */
export interface OrderPlanToKeep {
  readonly id: string;
  readonly name: string;
  readonly forDay: string | null;
  readonly plan: OrderPlan;
  readonly version: number | null;
}

export type KeptOrder =
  | { readonly ok: true; readonly order: KeptOrderPlan }
  | { readonly ok: false; readonly reason: "problems"; readonly problems: readonly Problem[] }
  /** Somebody else has kept or dropped it since; nothing was saved. */
  | { readonly ok: false; readonly reason: "stale"; readonly theirs: KeptOrderPlan }
  | { readonly ok: false; readonly reason: "not-there" };

/** Writes what belongs to a new kitchen from its first moment: its owner. */
export type WithinOpening = (tx: Transaction, kitchenId: string) => Promise<void>;

export interface Store {
  kitchens(): Promise<readonly { readonly id: string; readonly name: string; readonly place: string }[]>;
  /**
   * Opens a kitchen, with everything in `entries` as its first change, and with whatever `within` writes into the same
   * transaction. Fails with what is wrong with the entries; then there is no kitchen either.
   */
  openKitchen(kitchen: Kitchen, who: Who, entries?: readonly DatedChange[], why?: string, within?: WithinOpening): Promise<Checked<{ readonly id: string; readonly live: LiveBook }>>;
  /** As `openKitchen`, for entries known to be good: the kitchen's id. Throws with the problems otherwise. */
  createKitchen(kitchen: Kitchen, who: Who, entries?: readonly DatedChange[], why?: string): Promise<string>;
  /** Opens a kitchen from a file, with its whole record as it was, and with whatever `within` writes into the same transaction. Problems name the place in the file; then there is no kitchen. */
  openFromFile(file: KitchenFile, within?: WithinOpening): Promise<Checked<OpenedFromFile>>;
  /** The whole kitchen as a file, piece by piece: a JSON document (lib/exchange). Throws for an unknown kitchen. */
  kitchenFile(kitchenId: string): AsyncGenerator<string>;
  /** The newest live book of a kitchen: everything recorded by any process until the moment of asking. Throws for an unknown kitchen. */
  live(kitchenId: string): Promise<LiveBook>;
  bookAsOf(kitchenId: string, asOf: AsOf): Promise<Book>;
  /** The number of the last change that was known then; 0 where none was. */
  changeKnown(kitchenId: string, asOf: AsOf): Promise<number>;
  /** Lays pretended changes over today's book; nothing is recorded. */
  tryOut(kitchenId: string, changes: readonly Change[]): Promise<Checked<{ readonly live: LiveBook; readonly after: Cascade; readonly report: RippleReport }>>;
  /** What dated changes would do to the costs of today, to the digit as a commit would tell it; a day to come is told as if it were today. Nothing is recorded. */
  tryEntries(kitchenId: string, entries: readonly DatedChange[]): Promise<Checked<{ readonly live: LiveBook; readonly after: Cascade; readonly report: RippleReport }>>;
  commit(kitchenId: string, commission: Commission): Promise<Committed>;
  /** As `commit`, for a program that may send the same change twice: it is recorded once. */
  commitOnce(kitchenId: string, commission: Commission, call: ProgramCall): Promise<CommittedOnce>;
  /** Changes, newest first; `before`: only those with a lower number. */
  record(kitchenId: string, page: { readonly before?: number | undefined; readonly limit: number }): Promise<readonly RecordEntry[]>;
  /** null when the kitchen has no such change. `most`: so many of its facts, where not all are wanted. */
  recordEntry(kitchenId: string, changeNo: number, most?: number): Promise<RecordEntryWithRipple | null>;
  /** How a cost has moved, oldest first: a point for every change that moved it. */
  costHistory(kitchenId: string, ref: NodeRef): Promise<readonly CostPoint[]>;
  /** What last moved each of these costs, by id. */
  lastMoves(kitchenId: string, kind: NodeRef["kind"], ids: readonly string[]): Promise<ReadonlyMap<string, LastMove>>;
  /** Every recorded state of a fact, newest first. */
  revisionsOf(kitchenId: string, kind: FactKind, id: string): Promise<readonly Revision[]>;
  /** Opens a sheet at the block. Opening it twice is opening it once. */
  startSheet(kitchenId: string, sheetId: string, who: Who, entries: readonly BlockEntry[]): Promise<void>;
  /** Keeps what a device sends and tells it what is new. null: no such sheet here. Problems: closed, too-many; then nothing is kept. */
  syncSheet(kitchenId: string, sheetId: string, who: Who, sent: { readonly entries: readonly BlockEntry[]; readonly since: number }): Promise<Checked<SheetsAnswer> | null>;
  readSheet(kitchenId: string, sheetId: string): Promise<SheetsAnswer | null>;
  /** The newest fifty sheets under way. */
  sheetsUnderWay(kitchenId: string): Promise<readonly SheetAtTheBlock[]>;
  /** Marks a sheet as recorded by a change. */
  sheetRecorded(kitchenId: string, sheetId: string, changeNo: number): Promise<void>;
  /** Puts a sheet away that will not become a test, or takes it out again; false when it was recorded already or is not there. */
  putSheetAway(kitchenId: string, sheetId: string, who: Who, away: boolean): Promise<boolean>;
  /** The photos of a test or a sheet, oldest first, and the removed ones that can still be put back. */
  photosOf(kitchenId: string, testId: string): Promise<readonly Photo[]>;
  /** Keeps a photo of a test or a sheet that this kitchen has. Problems: no picture that we take, too many; then nothing is kept. */
  addPhoto(kitchenId: string, testId: string, who: Who, photo: NewPhoto): Promise<Checked<Photo>>;
  /** The picture, a JPEG; null where this kitchen has no such photo or has removed it. */
  readPhoto(kitchenId: string, photoId: string): Promise<Uint8Array<ArrayBuffer> | null>;
  /** null: this kitchen has no such photo. */
  removePhoto(kitchenId: string, photoId: string, who: Who): Promise<Photo | null>;
  /** Puts a removed photo back. null: this kitchen has no such photo. Problems: gone, too-many. */
  putBackPhoto(kitchenId: string, photoId: string): Promise<Checked<Photo> | null>;
  /** The try-outs of a kitchen, the one kept last first; dropped and recorded ones too, at most 200. */
  tryouts(kitchenId: string): Promise<readonly Tryout[]>;
  /** null: this kitchen has no such try-out. */
  readTryout(kitchenId: string, id: string): Promise<Tryout | null>;
  keepTryout(kitchenId: string, who: Who, kept: TryoutToKeep): Promise<KeptTryout>;
  /** Drops a try-out, or takes it up again. */
  dropTryout(kitchenId: string, id: string, who: Who, dropped: boolean): Promise<KeptTryout>;
  /** Records all changes of a try-out in one commit, and marks it with the change; or nothing. */
  makeTryoutReal(kitchenId: string, id: string, how: MakeReal): Promise<MadeReal>;
  /** The price lists of a kitchen, or of one dealer, the newest first; recorded and dropped ones too, at most 200. */
  priceLists(kitchenId: string, dealerId?: string): Promise<readonly PriceList[]>;
  /** null: this kitchen has no such list. */
  readPriceList(kitchenId: string, id: string): Promise<PriceList | null>;
  /** The file of a list; null once it was recorded or dropped. */
  priceListFile(kitchenId: string, id: string): Promise<Uint8Array<ArrayBuffer> | null>;
  /** How a dealer lays out price lists, as lib/buying reads it; null: nobody has said. */
  dealerLayout(kitchenId: string, dealerId: string): Promise<unknown>;
  addPriceList(kitchenId: string, who: Who, list: NewPriceList): Promise<AddedPriceList>;
  keepPriceList(kitchenId: string, who: Who, kept: PriceListToKeep): Promise<KeptPriceList>;
  /** Drops a list that was not recorded, with its file. */
  dropPriceList(kitchenId: string, id: string, who: Who): Promise<KeptPriceList>;
  /** Records the changes of a list in one commit, marks it with the change and lets its file go; or nothing. */
  recordPriceList(kitchenId: string, id: string, how: RecordPriceList): Promise<RecordedPriceList>;
  /** Order plans, the one kept last first; dropped ones too, at most 200. */
  orderPlans(kitchenId: string): Promise<readonly KeptOrderPlan[]>;
  /** null: this kitchen has no such order. */
  readOrderPlan(kitchenId: string, id: string): Promise<KeptOrderPlan | null>;
  keepOrderPlan(kitchenId: string, who: Who, kept: OrderPlanToKeep): Promise<KeptOrder>;
  /** Drops an order, or takes it up again. */
  dropOrderPlan(kitchenId: string, id: string, who: Who, dropped: boolean): Promise<KeptOrder>;
  /** Calls `hear` with the number of the kitchen's last change, whichever process recorded it, whenever there is one after `since`; until the function it returns is called. */
  listen(kitchenId: string, since: number, hear: (changeNo: number) => void): () => void;
  /** What was recorded after a change, told by names alone; null when nothing was. */
  news(kitchenId: string, since: number): Promise<News | null>;
  /** Lets go of the database. */
  close(): Promise<void>;
}
