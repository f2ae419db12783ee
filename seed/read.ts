/**
 * Reads the demo kitchen from its files. Every fact passes through the book's own `readFact`, as any user's does, and
 * comes out as a change with the day it applies from, oldest first; facts of one day in the order in which they build
 * on one another. A mistake in these files is ours alone, so it is thrown, and every one of them is named at once.
 * Server side only: it reads files.
 */
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { type Change, type FactKind, type FactOf, type Kitchen, readFact } from "@/lib/book";
import type { Habits } from "@/lib/measure";
import { SEED_FILES } from "./short-forms";

/** A fact of the demo and the calendar day it applies from, "2026-11-24". */
export interface DemoEntry {
  readonly change: Change;
  readonly validFrom: string;
}

export interface Demo {
  readonly kitchen: Kitchen;
  /** Oldest first; each entry's references stand in it or before it. */
  readonly entries: readonly DemoEntry[];
}

/** The demo kitchen and its dated facts. Throws with every mistake named when a file cannot be read as it should. */
export function readDemo(folder: string = seedFolder()): Demo {
  const mistakes: string[] = [];
  const kitchen = readKitchen(folder);
  const entries: DemoEntry[] = [];
  for (const { file, list, kind, open } of SEED_FILES) {
    const content = readJson(folder, file);
    const elements = content[list];
    if (!Array.isArray(elements)) {
      mistakes.push(`${file}: expected a list under "${list}"`);
      continue;
    }
    const from = typeof content["from"] === "string" ? content["from"] : undefined;
    elements.forEach((element: unknown, index) => {
      const place = `${file} ${list}.${index}`;
      const opened = open(element, from);
      if (!opened.ok) {
        mistakes.push(...opened.sentences.map((sentence) => `${place} ${sentence}`));
        return;
      }
      for (const stated of opened.stated) {
        const read = readFact(kind, stated.input, kitchen);
        if (read.ok) entries.push({ change: becomes(kind, stated.id, read.value), validFrom: stated.from });
        else mistakes.push(...read.problems.map((problem) => `${place} (${stated.id}) ${problem.path}: ${problem.sentence}`));
      }
    });
  }
  if (mistakes.length > 0) throw new Error(`expected the demo kitchen's files to be in order, found ${mistakes.length} mistakes:\n${mistakes.join("\n")}`);
  // Sorting is stable: within a day the order of the files stands.
  entries.sort((a, b) => (a.validFrom < b.validFrom ? -1 : a.validFrom > b.validFrom ? 1 : 0));
  return { kitchen, entries };
}

function readKitchen(folder: string): Kitchen {
  const stated = readJson(folder, "kitchen.json")["kitchen"];
  if (typeof stated !== "object" || stated === null) throw new Error(`expected kitchen.json to hold a kitchen`);
  const read = readFact("kitchen", { id: "demo", ...stated }, FILE_HABITS);
  if (!read.ok) throw new Error(`kitchen.json: ${read.problems.map((problem) => `${problem.path}: ${problem.sentence}`).join("; ")}`);
  // The id is given when the kitchen is created, not by the file.
  const { id: _given, ...kitchen } = read.value;
  return kitchen;
}

/** How the files are written, before the kitchen's own habits are known. */
const FILE_HABITS: Habits = { locale: "en-US", measures: "us", currency: "USD" };

/** Pairs a kind with its fact; the pairing is right by the type of readFact, which the union cannot follow. */
function becomes<K extends FactKind>(kind: K, id: string, after: FactOf[K]): Change {
  return { kind, id, after } as unknown as Change;
}

function readJson(folder: string, file: string): Readonly<Record<string, unknown>> {
  const content: unknown = JSON.parse(readFileSync(join(folder, file), "utf8"));
  if (typeof content !== "object" || content === null || Array.isArray(content)) throw new Error(`expected ${file} to hold one object`);
  return content as Readonly<Record<string, unknown>>;
}

/**
 * The folder these files stand in: seed/ of the project the process was started in, or of a folder above it. Found by
 * the working directory, since a bundled copy of this file no longer stands beside them.
 */
function seedFolder(): string {
  const start = process.cwd();
  let at = start;
  for (;;) {
    const folder = join(/* turbopackIgnore: true */ at, "seed");
    if (existsSync(join(folder, "kitchen.json"))) return folder;
    const above = dirname(at);
    if (above === at) throw new Error(`expected a folder seed with the demo kitchen in ${start} or above it`);
    at = above;
  }
}
