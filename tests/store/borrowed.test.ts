/** A borrowed yield in the record: kept with its cut, and told by the ripple and the history of every cost that rests on it. */
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Change } from "@/lib/book";
import { exact } from "@/lib/measure";
import { type Store, basedOn, makeStore } from "@/lib/store";
import { openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { cut, dish, item, quote } from "../menu/small-books";
import { CHEF, TODAY, from, openSmall, standingClock } from "./test-kitchen";

let place: TestDatabase;
let store: Store;
beforeAll(async () => {
  place = await migratedDatabase();
  store = makeStore(await openDatabase(place.choice), standingClock());
});
afterAll(async () => {
  await store.close();
  await place.remove();
});

const leeks = { kind: "item", id: "leeks" } as const;
const trimmed = (share: string | null): Change => cut("trimmed", leeks, [], { borrowed: share === null ? null : { share: exact(share), what: "Leeks, raw", source: "USDA, Release 28", on: TODAY } });

test("taken up and given back, it is told before and after, and in the history", async () => {
  const id = await openSmall(store);
  const record = async (changes: readonly Change[]): Promise<number> => {
    const live = await store.live(id);
    const committed = await store.commit(id, { entries: from(TODAY, changes), basedOn: basedOn(live, changes), who: CHEF, why: "" });
    if (!committed.ok) throw new Error(JSON.stringify(committed));
    const again = await store.recordEntry(id, committed.changeNo);
    expect(again?.ripple.dishes).toEqual(committed.report.dishes);
    expect(again?.ripple.stands).toEqual(committed.report.stands);
    return committed.changeNo;
  };
  await record([item("leeks"), quote("leeks", "1.10 a lb", { dealerId: [...(await store.live(id)).book.shelves.dealer.keys()][0] ?? "" }), trimmed(null), dish("soup", ["cut trimmed 1 lb"])]);
  await record([trimmed("100/189")]);
  await record([trimmed(null)]);
  expect((await store.costHistory(id, { kind: "dish", id: "soup" })).map(({ atLeast, borrowed }) => [atLeast, borrowed.map(({ name }) => name)])).toEqual([[true, []], [false, ["trimmed"]], [true, []]]);
  await record([trimmed("0.44")]);
  expect((await store.live(id)).book.shelves.cut.get("trimmed")?.borrowed).toEqual({ share: "0.44", what: "Leeks, raw", source: "USDA, Release 28", on: TODAY });
});
