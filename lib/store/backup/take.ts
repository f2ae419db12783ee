/**
 * Taking a backup: the lines of format.ts, in pieces of about a megabyte, from a source that keeps them all of one
 * moment (sources.ts). No more than a page is in memory at a time, and, embedded, the few tables whose rows may change.
 *
 * A page is a run of a table's blocks on the disk. Rows of tables that only grow never move, so a page can be read at
 * any time; on a server the transaction sees to it.
 */
import { createHash } from "node:crypto";
import { filesIn } from "../photos/files";
import { type Ask, quoted } from "./ask";
import { type Applied, OF_THE_MOMENT, type Table, readApplied, readTables } from "./catalogue";
import { type Closing, FORMAT, type Header, type PhotoLine, type TableLine, VERSION } from "./format";
import { BackupRefused } from "./refused";
import type { Source } from "./sources";

export interface About {
  /** The app's version. */
  readonly app: string;
  /** The moment, ISO 8601 in UTC. */
  readonly at: string;
}

/** A piece of the backup with the number of its rows. */
interface Piece {
  readonly text: string;
  readonly rows: number;
}

/**
 * The whole backup, uncompressed; `photos`: the folder they lie in. A picture's file is there before its row is and
 * longer, so those read after the rows are all that the rows name. Throws BackupRefused when the database was never migrated.
 */
export async function* takeBackup(source: Source, about: About, photos: string): AsyncGenerator<string> {
  const sum = createHash("sha256");
  let rows = 0;
  let tables = 0;
  for await (const piece of source.kind === "server" ? fromServer(source, about) : fromEmbedded(source, about)) {
    sum.update(piece.text);
    rows += piece.rows;
    if (piece.text.startsWith('{"table":')) tables += 1;
    yield piece.text;
  }
  let pictures = 0;
  for await (const { kitchenId, photoId, jpeg } of filesIn(photos)) {
    const line = `${JSON.stringify({ photo: `${kitchenId}/${photoId}`, jpeg: Buffer.from(jpeg).toString("base64") } satisfies PhotoLine)}\n`;
    sum.update(line);
    pictures += 1;
    yield line;
  }
  yield `${JSON.stringify({ tables, rows, photos: pictures, sha256: sum.digest("hex") } satisfies Closing)}\n`;
}

async function* fromServer(source: Source & { kind: "server" }, about: About): AsyncGenerator<Piece> {
  const { ask, end } = await source.begin();
  try {
    yield headerPiece(source.kind, about, await readApplied(ask));
    for (const table of await readTables(ask)) {
      yield tablePiece(table);
      if (!OF_THE_MOMENT.has(table.name)) yield* pages(ask, table, await blocksOf(ask, table));
    }
  } finally {
    await end();
  }
}

async function* fromEmbedded(source: Source & { kind: "embedded" }, about: About): AsyncGenerator<Piece> {
  const moment = await source.together(async (ask) => {
    const header = headerPiece(source.kind, about, await readApplied(ask));
    // The first number that no transaction had taken yet: embedded they come one after another, so whatever is written
    // from now on is written under this number or a later one.
    const since = await ask("SELECT (pg_snapshot_xmax(pg_current_snapshot())::text::numeric % 4294967296)::text AS text");
    const tables: { table: Table; blocks: number; rewritable: readonly Piece[] | null }[] = [];
    for (const table of await readTables(ask)) {
      const blocks = await blocksOf(ask, table);
      if (table.appendOnly || OF_THE_MOMENT.has(table.name)) tables.push({ table, blocks, rewritable: null });
      else {
        const rewritable: Piece[] = [];
        for await (const piece of pages(ask, table, blocks)) rewritable.push(piece);
        tables.push({ table, blocks, rewritable });
      }
    }
    return { header, since, tables };
  });
  yield moment.header;
  // How many numbers ago a row was written, against how many ago the moment was. Counted so, it holds even after the
  // numbers have begun again.
  const known = `NOT (age(xmin) BETWEEN 0 AND age('${moment.since}'::xid))`;
  for (const { table, blocks, rewritable } of moment.tables) {
    yield tablePiece(table);
    if (rewritable !== null) yield* rewritable;
    else if (!OF_THE_MOMENT.has(table.name)) yield* pages(source.ask, table, blocks, known);
  }
}

function headerPiece(from: Header["from"], about: About, applied: readonly Applied[] | null): Piece {
  if (applied === null || applied.length === 0) {
    throw new BackupRefused("The database holds none of Trimledger's tables, so there is nothing to back up. If the data is elsewhere, name the place as when the app is started (DATA_DIR or DATABASE_URL).");
  }
  const header: Header = { format: FORMAT, version: VERSION, ...about, from, migrations: [...applied] };
  return { text: `${JSON.stringify(header)}\n`, rows: 0 };
}

function tablePiece({ name, columns }: Table): Piece {
  return { text: `${JSON.stringify({ table: name, columns } satisfies TableLine)}\n`, rows: 0 };
}

/** How long a table is on the disk, in blocks of PostgreSQL's. */
async function blocksOf(ask: Ask, table: Table): Promise<number> {
  return Number(await ask(`SELECT (pg_relation_size('${quoted(table.name).replaceAll("'", "''")}'::regclass) / current_setting('block_size')::int)::text AS text`));
}

/** A page is read in some hundredths of a second: neither so long that the app waits, nor so short that asking is all. */
const MOST_TEXT = 2 ** 20;
const FIRST_BLOCKS = 32;
const MOST_BLOCKS = 256;

/** The rows in the table's first `blocks` blocks, those that fulfil `condition`, page by page. */
async function* pages(ask: Ask, table: Table, blocks: number, condition = "true"): AsyncGenerator<Piece> {
  const values = table.columns.map(({ name }) => `${quoted(name)}::text`).join(", ");
  let step = FIRST_BLOCKS;
  for (let from = 0; from < blocks;) {
    const to = from + step;
    const page = await ask(`
      SELECT count(*)::text || ' ' || coalesce(string_agg(to_json(ARRAY[${values}])::text, E'\\n'), '') AS text
      FROM ${quoted(table.name)} WHERE ctid >= '(${from},0)'::tid AND ctid < '(${to},0)'::tid AND ${condition}`);
    const space = page.indexOf(" ");
    const rows = Number(page.slice(0, space));
    if (rows > 0) yield { text: `${page.slice(space + 1)}\n`, rows };
    from = to;
    step = page.length > MOST_TEXT ? Math.max(1, step >> 1) : page.length < MOST_TEXT / 3 ? Math.min(MOST_BLOCKS, step * 2) : step;
  }
}
