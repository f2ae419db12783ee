export type {
  Ahead, AsOf, ChangedFact, Commission, Committed, CostPoint, CrossingName, DatedChange, Fact, LastMove, LiveBook, RecordEntry,
  RecordEntryWithRipple, Revision, Stale, Store, Who,
} from "./contract";
export type { Clock } from "./clock";
export { basedOn } from "./based-on";
export { newId } from "./ids";
export { makeStore, openStore } from "./open-store";
