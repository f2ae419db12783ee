/** Try-outs: what somebody pretends of a book, as moves that outlive its changes. */
export * from "./move";
export { type LaidMoves, type EntryOfMoves, changesOf, entriesOf } from "./changes-of";
export { type Overtaken, allSeen, basisOf, factsOf, overtaken, revisionsSeen } from "./basis";
export { parseMove, readMoveBody, readMoves } from "./schema";
export { movesOf } from "./moves-of";
export { withMove } from "./with-move";
export { type SaidMove, aboutOf, sayMove } from "./say-move";
export { type NamedKind, type NamedThing, findNamed, labelNamed, nearNamed } from "./find-name";
