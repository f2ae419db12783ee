/**
 * The sheet that entries make: what is being worked, its parts with their readings, and what is left to weigh. Pure and
 * independent of the order in which entries came in: they are put in order by when they were typed, then by id. An
 * entry counts unless a later one takes it back; of two that say the same thing differently, the later one holds.
 */
import { type Checked, type Habits, type Quantity, type Reading, netWeight, weighingsOf } from "@/lib/measure";
import type { PartRole } from "../yield-test";
import { type BlockBody, type BlockEntry, WHOLES, type Whole } from "./entry";

export interface BlockReading extends Reading {
  /** The entry it came with. */
  readonly entry: string;
  /** One piece by itself, rather than one of several goes. */
  readonly piece: boolean;
}

/** Something to weigh, and what the scale has shown for it so far. */
export interface Weighing {
  readonly key: string;
  readonly readings: readonly BlockReading[];
  /** The entry that says there is none of it today; null where nobody said so. */
  readonly none: string | null;
}

export interface BlockPart extends Weighing {
  readonly name: string;
  readonly role: PartRole;
  readonly place: number;
}

export type About = Extract<BlockBody, { readonly kind: "about" }>;

export interface BlockSheet {
  /** null until an entry says what is being worked. */
  readonly about: About | null;
  readonly wholes: Readonly<Record<Whole, Weighing>>;
  readonly parts: readonly BlockPart[];
  readonly note: string;
  /** Readings and the like that still count, oldest first: the last one is what "undo" takes back. */
  readonly undoable: readonly string[];
}

/** The sheet of these entries. */
export function blockSheet(entries: readonly BlockEntry[]): BlockSheet {
  const counting = entriesThatCount(entries);
  let about: About | null = null;
  let note = "";
  const parts = new Map<string, { name: string; role: PartRole; place: number }>();
  const readings = new Map<string, BlockReading[]>();
  const none = new Map<string, string>();
  const undoable: string[] = [];
  for (const { id, body } of counting) {
    switch (body.kind) {
      case "about": about = body; break;
      case "note": note = body.text; break;
      case "part": parts.set(body.key, { name: body.name, role: body.role, place: body.place }); break;
      case "no-part": parts.delete(body.key); break;
      case "none": none.set(body.key, id); undoable.push(id); break;
      case "reading":
        readings.set(body.key, [...(readings.get(body.key) ?? []), { gross: body.gross, tare: body.tare, entry: id, piece: body.piece }]);
        none.delete(body.key);
        undoable.push(id);
        break;
      case "back": break;
    }
  }
  const weighing = (key: string): Weighing => ({ key, readings: readings.get(key) ?? [], none: none.get(key) ?? null });
  return {
    about, note, undoable,
    wholes: { "@billed": weighing("@billed"), "@trimmed": weighing("@trimmed"), "@cooked": weighing("@cooked") },
    parts: [...parts].map(([key, part]): BlockPart => ({ ...weighing(key), ...part })).sort((a, b) => a.place - b.place || (a.key < b.key ? -1 : 1)),
  };
}

/** Each entry once, in the order in which they were typed, without those that were taken back. */
function entriesThatCount(entries: readonly BlockEntry[]): readonly BlockEntry[] {
  const unique = new Map(entries.map((entry) => [entry.id, entry]));
  const back = new Set([...unique.values()].flatMap(({ body }) => (body.kind === "back" ? [body.entry] : [])));
  return [...unique.values()].filter(({ id }) => !back.has(id)).sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1));
}

/** The weight of what has been read so far, tubs taken off; null while there is nothing. Problems: those of `netWeight`. */
export function weightOf(weighing: Weighing, habits: Habits): Checked<Quantity> | null {
  return weighing.readings.length === 0 ? null : netWeight(weighing.readings, habits);
}

/** How often the scale was read for the parts: decides how much negative loss is forgiven. */
export function weighingsOfSheet(sheet: BlockSheet): number {
  return [sheet.wholes["@billed"], ...sheet.parts].reduce((count, one) => count + weighingsOf(one.readings), 0);
}

/** What is to be weighed, in order: the whole as billed, what the heat takes and gives, then the parts. */
export function stopsOf(sheet: BlockSheet): readonly Weighing[] {
  const cooking = sheet.about?.test === "cooking";
  return [...WHOLES.filter((whole) => whole === "@billed" || cooking).map((whole) => sheet.wholes[whole]), ...sheet.parts];
}

/** The next that has neither a reading nor been said to be none today; after `from` first, then from the start. null: all done. */
export function nextStop(sheet: BlockSheet, from: string | null = null): string | null {
  const stops = stopsOf(sheet);
  const at = stops.findIndex(({ key }) => key === from);
  const open = ({ readings, none }: Weighing): boolean => readings.length === 0 && none === null;
  return (stops.slice(at + 1).find(open) ?? stops.find(open))?.key ?? null;
}
