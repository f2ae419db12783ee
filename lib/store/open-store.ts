/**
 * The store: one for a process, over the app's own database (the embedded one in DATA_DIR, or the server that
 * DATABASE_URL names), with the live books in memory. Nothing is opened until somebody asks.
 */
import { checkChanges } from "@/lib/book";
import { belowNothing, tryOut } from "@/lib/cascade";
import { readRipple } from "@/lib/menu";
import { Prisma } from "@/prisma/generated/client";
import { putSheetAway, readSheet, sheetRecorded, sheetsUnderWay, startSheet, syncSheet } from "./block-sheets";
import { type Clock, latestToday, systemClock } from "./clock";
import { commit } from "./commit";
import type { Store } from "./contract";
import { type Database, closeDatabase, database } from "./database";
import { readCostHistory, readRevisionsOf } from "./history";
import { readLastMoves } from "./last-moves";
import { Listeners, readNews } from "./listening";
import { LiveBooks } from "./live-books";
import { openKitchen } from "./open-kitchen";
import { photosFolder } from "./photos/files";
import { dropOrderPlan, keepOrderPlan, orderPlans, readOrderPlanOf } from "./order-plans";
import { type PhotoShelf, addPhoto, photosOf, putBackPhoto, readPhoto, removePhoto } from "./photos/photos";
import { commitOnce } from "./program-calls";
import { changeKnown, readBook } from "./read-book";
import { readJson } from "./read-revisions";
import { readRecord, readRecordEntry } from "./record";
import { tryEntries } from "./try-entries";
import { addPriceList, dealerLayout, dropPriceList, keepPriceList, priceListFile, priceLists, readPriceList, recordPriceList } from "./price-lists";
import { dropTryout, keepTryout, makeTryoutReal, readTryout, tryouts } from "./tryouts";
import { openFromFile } from "./whole-kitchen-in";
import { kitchenFile } from "./whole-kitchen-out";

/** Where the process's own store is kept: the framework loads this module several times over, the process is one. */
const home = globalThis as { trimledgerStore?: Promise<Store> };

/** The process's own store. An opening that failed may be tried again. */
export function openStore(): Promise<Store> {
  home.trimledgerStore ??= database().then(
    (opened) => ({
      ...makeStore(opened),
      close: async () => {
        delete home.trimledgerStore;
        await closeDatabase();
      },
    }),
    (error: unknown) => {
      delete home.trimledgerStore;
      throw error;
    },
  );
  return home.trimledgerStore;
}

/** A store of its own over any database: for tests and commands. `photos` is the folder that photos lie in. */
export function makeStore(opened: Database, clock: Clock = systemClock, photos: string = photosFolder()): Store {
  const books = new LiveBooks(clock);
  const shelf: PhotoShelf = { database: opened, clock, folder: photos };
  const reader = opened.prisma;
  const listeners = new Listeners(reader);
  const store: Store = {
    kitchens: () => readKitchens(opened, clock),
    openKitchen: (kitchen, who, entries = [], why = "", within) => openKitchen(opened, clock, books, kitchen, who, entries, why, within),
    createKitchen: async (kitchen, who, entries, why) => {
      const checked = await store.openKitchen(kitchen, who, entries, why);
      if (checked.ok) return checked.value.id;
      throw new Error(`expected a kitchen that holds together: ${checked.problems.map(({ path, sentence }) => `${path} ${sentence}`).join("\n")}`);
    },
    openFromFile: (file, within) => openFromFile(opened, clock, file, within),
    kitchenFile: async function* (kitchenId) { yield* kitchenFile(opened, clock, await books.newest(reader, kitchenId)); },
    live: (kitchenId) => books.newest(reader, kitchenId),
    bookAsOf: async (kitchenId, asOf) => readBook(reader, kitchenId, asOf.on, await changeKnown(reader, kitchenId, asOf)),
    changeKnown: (kitchenId, asOf) => changeKnown(reader, kitchenId, asOf),
    tryOut: async (kitchenId, changes) => {
      const live = await books.newest(reader, kitchenId);
      const problems = checkChanges(live.book, changes);
      if (problems.length > 0) return { ok: false, problems };
      const tried = tryOut(live.cascade, changes);
      if (!tried.ok) return tried;
      const { after, ripple } = tried.value;
      const nonsense = belowNothing(ripple);
      if (nonsense.length > 0) return { ok: false, problems: nonsense };
      return { ok: true, value: { live, after, report: readRipple(live.cascade, after, ripple) } };
    },
    tryEntries: async (kitchenId, entries) => tryEntries(reader, await books.newest(reader, kitchenId), entries),
    commit: async (kitchenId, commission) => {
      const committed = await commit(opened, clock, books, kitchenId, commission);
      if (committed.ok) listeners.recorded(kitchenId, committed.changeNo);
      return committed;
    },
    commitOnce: async (kitchenId, commission, call) => {
      const committed = await commitOnce(opened, clock, books, kitchenId, commission, call);
      if (committed.ok && !("again" in committed)) listeners.recorded(kitchenId, committed.changeNo);
      return committed;
    },
    record: (kitchenId, page) => readRecord(reader, kitchenId, page),
    recordEntry: (kitchenId, changeNo, most) => readRecordEntry(reader, kitchenId, changeNo, most),
    costHistory: (kitchenId, ref) => readCostHistory(reader, kitchenId, ref),
    lastMoves: (kitchenId, kind, ids) => readLastMoves(reader, kitchenId, kind, ids),
    revisionsOf: (kitchenId, kind, id) => readRevisionsOf(reader, kitchenId, kind, id),
    startSheet: (kitchenId, sheetId, who, entries) => startSheet(opened, clock, kitchenId, sheetId, who, entries),
    syncSheet: (kitchenId, sheetId, who, sent) => syncSheet(opened, clock, kitchenId, sheetId, who, sent),
    readSheet: (kitchenId, sheetId) => readSheet(opened, kitchenId, sheetId, 0),
    sheetsUnderWay: (kitchenId) => sheetsUnderWay(opened, kitchenId),
    sheetRecorded: (kitchenId, sheetId, changeNo) => sheetRecorded(opened, kitchenId, sheetId, changeNo),
    putSheetAway: (kitchenId, sheetId, who, away) => putSheetAway(opened, clock, kitchenId, sheetId, who, away),
    photosOf: (kitchenId, testId) => photosOf(shelf, kitchenId, testId),
    addPhoto: (kitchenId, testId, who, photo) => addPhoto(shelf, kitchenId, testId, who, photo),
    readPhoto: (kitchenId, photoId) => readPhoto(shelf, kitchenId, photoId),
    removePhoto: (kitchenId, photoId, who) => removePhoto(shelf, kitchenId, photoId, who),
    putBackPhoto: (kitchenId, photoId) => putBackPhoto(shelf, kitchenId, photoId),
    tryouts: (kitchenId) => tryouts(opened, kitchenId),
    readTryout: (kitchenId, id) => readTryout(opened, kitchenId, id),
    keepTryout: (kitchenId, who, kept) => keepTryout(opened, clock, kitchenId, who, kept),
    dropTryout: (kitchenId, id, who, dropped) => dropTryout(opened, clock, kitchenId, id, who, dropped),
    makeTryoutReal: async (kitchenId, id, how) => {
      const made = await makeTryoutReal(opened, clock, books, kitchenId, id, how);
      if (made.ok) listeners.recorded(kitchenId, made.changeNo);
      return made;
    },
    orderPlans: (kitchenId) => orderPlans(opened, kitchenId),
    readOrderPlan: (kitchenId, id) => readOrderPlanOf(opened, kitchenId, id),
    keepOrderPlan: (kitchenId, who, kept) => keepOrderPlan(opened, clock, kitchenId, who, kept),
    dropOrderPlan: (kitchenId, id, who, dropped) => dropOrderPlan(opened, clock, kitchenId, id, who, dropped),
    priceLists: (kitchenId, dealerId) => priceLists(opened, kitchenId, dealerId),
    readPriceList: (kitchenId, id) => readPriceList(opened, kitchenId, id),
    priceListFile: (kitchenId, id) => priceListFile(opened, kitchenId, id),
    dealerLayout: (kitchenId, dealerId) => dealerLayout(opened, kitchenId, dealerId),
    addPriceList: (kitchenId, who, list) => addPriceList(opened, clock, kitchenId, who, list),
    keepPriceList: (kitchenId, who, kept) => keepPriceList(opened, clock, kitchenId, who, kept),
    dropPriceList: (kitchenId, id, who) => dropPriceList(opened, clock, kitchenId, id, who),
    recordPriceList: async (kitchenId, id, how) => {
      const made = await recordPriceList(opened, clock, books, kitchenId, id, how);
      if (made.ok) listeners.recorded(kitchenId, made.changeNo);
      return made;
    },
    listen: (kitchenId, since, hear) => listeners.listen(kitchenId, since, hear),
    news: (kitchenId, since) => readNews(reader, kitchenId, since),
    close: () => {
      listeners.close();
      return opened.close();
    },
  };
  return store;
}

/** The kitchens with their newest settings, in the order they were opened. */
async function readKitchens(opened: Database, clock: Clock): Promise<{ id: string; name: string; place: string }[]> {
  const rows = await readJson<[string, string, string]>(opened.prisma, Prisma.sql`
    SELECT json_agg(json_build_array(k.id, s.name, s.place) ORDER BY k.created_at, k.id)::text AS rows
    FROM kitchen k
    JOIN LATERAL (
      SELECT r.id FROM revision r
      WHERE r.kitchen_id = k.id AND r.kind = 'kitchen' AND r.valid_from <= ${latestToday(clock)}::date
        AND NOT EXISTS (SELECT FROM revision c WHERE c.kitchen_id = r.kitchen_id AND c.replaces = r.id)
      ORDER BY r.valid_from DESC, r.id DESC LIMIT 1
    ) r ON true
    JOIN kitchen_settings s ON s.kitchen_id = k.id AND s.revision = r.id`);
  return rows.map(([id, name, place]) => ({ id, name, place }));
}
