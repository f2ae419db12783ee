export type {
  Ahead, AsOf, ChangedFact, Commission, Committed, CostPoint, CrossingName, DatedChange, Fact, LastMove, LiveBook, NewPhoto, Photo, RecordEntry,
  RecordEntryWithRipple, Revision, SentEntry, SheetAtTheBlock, KeptOrder, KeptOrderPlan, OrderPlanToKeep, SheetsAnswer, Stale, Store, Tryout, TryoutToKeep, KeptTryout, MadeReal, MakeReal, Who,
  AddedPriceList, CommitStep, KeptPriceList, NewPriceList, PriceList, PriceListToKeep, RecordPriceList, RecordedPriceList, WatchCommit,
} from "./contract";
export { type Clock, systemClock } from "./clock";
export { basedOn } from "./based-on";
export type { News, WhatBecame } from "./listening";
export type { CommittedOnce, ProgramCall } from "./program-calls";
export type { KitchenFile } from "@/lib/exchange";
export type { OpenedFromFile } from "./whole-kitchen-in";
export { newId, newOrderId, newPriceListId, newTryoutId } from "./ids";
export { type Database, type Transaction, database as appDatabase } from "./database";
export { makeStore, openStore } from "./open-store";
export { databaseIsReady } from "./ready";
export type { Readiness } from "./ready";
export { MOST_PHOTOS } from "./photos/photos";
export { sayPhotoProblem } from "./photos/say";
