export { type BlockBody, type BlockEntry, MOST_ENTRIES, WHOLES, type Whole, partKeyFor, readBlockEntries } from "./entry";
export { type About, type BlockPart, type BlockReading, type BlockSheet, type Weighing, blockSheet, nextStop, stopsOf, weighingsOfSheet, weightOf } from "./sheet";
export { usualWeight } from "./usual-weight";
export { type TestFromBlock, likeliestFirst, testFromBlock, weighedSoFar } from "./as-test";
