/**
 * The graph: which row rests on which, and in what order. One row per node; rows sorted by (level, number of lines), so
 * that every source stands below its users and a sweep's inner loops take equal turns; dishes after everything, their
 * food-cost ratios last. Lines and users in flat columns, no object per edge. It knows nothing of numbers: the columns
 * of coefficients run beside its lines (figures.ts).
 */
import { type NodeIndex, RATIO } from "./node-index";
import { type Sources, sortedBy } from "./order";

/** Room kept behind all lines for rows that grow: one line in 32, and no fewer than these. */
const LEAST_SPARE = 256;
/** A row that grew once will grow again. */
const ROOM_TO_GROW = 4;

export class Graph {
  readonly rows: number;
  readonly index: NodeIndex;
  /** Node → row, and back. */
  readonly rowOf: Int32Array;
  readonly nodeAt: Int32Array;
  /**
   * Row → its lines, source[lineStart[r]] up to source[lineEnd[r]]; they may grow up to lineLimit[r], and beyond it where
   * there is room behind all lines to move to.
   */
  readonly lineStart: Int32Array;
  readonly lineEnd: Int32Array;
  readonly lineLimit: Int32Array;
  /** Line → row of its source, always below the line's own row. */
  readonly source: Int32Array;
  /** Row → the rows that rest on it, users[userStart[r]] up to users[userEnd[r]], ascending. May name a row that no longer does. */
  readonly userStart: Int32Array;
  readonly userEnd: Int32Array;
  readonly users: Int32Array;
  /** Users that came after the graph was compiled. */
  readonly laterUsers = new Map<number, Set<number>>();
  /** Where the room behind all lines begins. */
  #spare: number;

  constructor(index: NodeIndex, lines: Sources, level: Int32Array) {
    const rows = lines.nodes;
    this.rows = rows;
    this.index = index;
    const counts = new Int32Array(rows);
    let deepest = 0;
    for (let node = 0; node < rows; node += 1) {
      counts[node] = (lines.start[node + 1] as number) - (lines.start[node] as number);
      if ((level[node] as number) > deepest) deepest = level[node] as number;
    }
    // Nothing rests on a dish but its ratio, and nothing on a ratio: they may stand last, so no row asks what kind it is.
    const place = Int32Array.from(level);
    for (let node = index.firstDish; node < rows; node += 1) place[node] = index.kinds[node] === RATIO ? deepest + 2 : deepest + 1;
    this.nodeAt = sortedBy(place, counts);
    this.rowOf = new Int32Array(rows);
    for (let row = 0; row < rows; row += 1) this.rowOf[this.nodeAt[row] as number] = row;

    this.lineStart = new Int32Array(rows);
    this.lineEnd = new Int32Array(rows);
    const written = lines.start[rows] as number;
    this.#spare = written;
    this.source = new Int32Array(written + Math.max(LEAST_SPARE, written >>> 5));
    this.userStart = new Int32Array(rows);
    this.userEnd = new Int32Array(rows);
    let at = 0;
    for (let row = 0; row < rows; row += 1) {
      const node = this.nodeAt[row] as number;
      const stop = lines.start[node + 1] as number;
      this.lineStart[row] = at;
      for (let k = lines.start[node] as number; k < stop; k += 1) {
        const from = this.rowOf[lines.source[k] as number] as number;
        this.source[at] = from;
        (this.userEnd[from] as number) += 1;
        at += 1;
      }
      this.lineEnd[row] = at;
    }
    this.lineLimit = this.lineEnd.slice();
    this.users = new Int32Array(at);
    this.#listUsers();
  }

  /** Turns lines around: for each row, the rows that rest on it, each once and ascending. */
  #listUsers(): void {
    const { rows, userStart, userEnd, users, source, lineStart, lineEnd } = this;
    let at = 0;
    for (let row = 0; row < rows; row += 1) {
      userStart[row] = at;
      at += userEnd[row] as number;
      userEnd[row] = userStart[row] as number;
    }
    for (let row = 0; row < rows; row += 1) {
      const stop = lineEnd[row] as number;
      for (let k = lineStart[row] as number; k < stop; k += 1) {
        const from = source[k] as number;
        const end = userEnd[from] as number;
        if (end > (userStart[from] as number) && users[end - 1] === row) continue;
        users[end] = row;
        userEnd[from] = end + 1;
      }
    }
  }

  /** How many places moving a row to have so many lines would take; 0 when they fit where it is. */
  placesFor(row: number, lines: number): number {
    return lines <= (this.lineLimit[row] as number) - (this.lineStart[row] as number) ? 0 : lines + ROOM_TO_GROW;
  }

  /** Places left behind all lines. */
  get spare(): number {
    return this.source.length - this.#spare;
  }

  /** Moves a row's lines to the room behind all lines, where so many fit; whoever calls then writes them anew. */
  move(row: number, lines: number): void {
    this.lineStart[row] = this.#spare;
    this.#spare += lines + ROOM_TO_GROW;
    this.lineLimit[row] = this.#spare;
  }

  /** Notes that a row has come to rest on another since the graph was compiled. */
  addUser(of: number, user: number): void {
    const stop = this.userEnd[of] as number;
    for (let k = this.userStart[of] as number; k < stop; k += 1) if (this.users[k] === user) return;
    const later = this.laterUsers.get(of);
    if (later === undefined) this.laterUsers.set(of, new Set([user]));
    else later.add(user);
  }

  /** The rows that rest on a row, and perhaps some that no longer do. */
  *usersOf(row: number): Generator<number> {
    const stop = this.userEnd[row] as number;
    for (let k = this.userStart[row] as number; k < stop; k += 1) yield this.users[k] as number;
    yield* this.laterUsers.get(row) ?? [];
  }
}
