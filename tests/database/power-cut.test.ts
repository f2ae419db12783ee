/**
 * The power fails. A day of two kitchens (power-cut-story.ts) is recorded operation by operation as it reaches the disk,
 * and cut off at many points: inside the first opening, inside changes and between them, inside checkpoints, turns of
 * the log and closings. What the disk could hold then (failing-disk.ts: unsynced bytes lost, kept or torn, unsynced
 * names there or not) is opened as the app opens it, and must hold every acknowledged change, none half, with the work
 * going on from there. Some are cut off a second time while they recover.
 *
 * The same must tell a disk that does not sync from one that does, and find PGlite as it comes wanting: else it proves
 * nothing. 20 cuts in a usual run; `LONG=1 npx vitest run --project store-embedded tests/database/power-cut.test.ts`
 * makes 250 and takes some ten minutes. CUTS=50 makes that many. A failure tells its seed; CUT_SEED=… repeats the choices.
 */
import fs from "node:fs";
import path from "node:path";
import { PGlite } from "@electric-sql/pglite";
import { NodeFS } from "@electric-sql/pglite/nodefs";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type FolderLock, lockFolder } from "@/lib/store/database/lock";
import { SafeFS, safeStartParams, syncTree } from "@/lib/store/database/safe-fs";
import { Chance, FailingDisk, MOODS, type Mood } from "./failing-disk";
import { type Promised, type Section, type SectionKind, type Story, asOfAnotherBoot, dataFolder, examine, promisedBy, tellStory } from "./power-cut-story";
import { type Operation, RecordingDisk } from "./recording-disk";
import { emptyFolder } from "./test-database";

const long = process.env["LONG"] === "1";
const cuts = Number(process.env["CUTS"] ?? (long ? 250 : 20));
const seed = Number(process.env["CUT_SEED"] ?? Date.now() % 1_000_000_000);
/** Every so many cuts, one is cut off again while it recovers. */
const cutAgainEvery = 5;

/** Linux tells the order in which names and bytes are synced; elsewhere folders may not be syncable at all. */
const here = describe.runIf(process.platform === "linux");

let place: string;
let remove: () => Promise<void>;
const makePlace = (): void => {
  const made = emptyFolder();
  place = made.choice.folder;
  remove = made.remove;
};

/** A cut: after so many operations, with the disk left so, by the chances of this seed. */
interface Cut {
  readonly after: number;
  readonly section: string;
  readonly mood: Mood;
  readonly seed: number;
}

/** How many of a hundred cuts fall into each part of the story. */
const SHARES: readonly (readonly [SectionKind, number])[] = [["first opening", 10], ["migrating", 10], ["change", 50], ["upkeep", 15], ["closing", 8], ["opening again", 7]];

/** A point within the section: anywhere, or where it matters most, just before or after a sync. */
function pointIn({ from, to }: Pick<Section, "from" | "to">, operations: readonly Operation[], chance: Chance): number {
  const syncs = Array.from({ length: to - from }, (_, n) => from + n).filter((n) => operations[n]?.do === "sync");
  if (syncs.length === 0 || chance.next() < 0.4) return chance.whole(from, to);
  return chance.one(syncs) + chance.whole(0, 1);
}

function chooseCuts({ sections, operations }: Story, count: number): readonly Cut[] {
  const chosen = Array.from({ length: count }, (_, n): Cut => {
    const chance = new Chance(seed + n);
    let left = ((n + 0.5) / count) * 100;
    const [kind] = SHARES.find(([, share]) => (left -= share) < 0) ?? ["change"];
    const section = chance.one(sections.filter((one) => one.kind === kind));
    return { after: pointIn(section, operations, chance), section: section.name, mood: chance.one(MOODS), seed: seed + n };
  });
  return chosen.sort((a, b) => a.after - b.after);
}

/** Opens what the cut leaves of `disk` and expects it to be whole; if it is not, it is left anew for whoever wants to look. */
async function expectWhole(disk: FailingDisk, promised: Promised, cut: Cut): Promise<void> {
  const left = path.join(place, "left");
  disk.cut(left, cut.mood, new Chance(cut.seed));
  const { faults } = await examine(left, promised);
  fs.rmSync(left, { recursive: true });
  if (faults.length > 0) throw new Error(`${tell(cut)}\n${faults.join("\n")}\nWhat it left is in ${keep(disk, cut)}.`);
}

const tell = (cut: Cut): string => `Cut after operation ${cut.after}, in "${cut.section}", the disk left "${cut.mood}" (CUT_SEED=${seed}${cuts === 20 ? "" : ` CUTS=${cuts}`}).`;

function keep(disk: FailingDisk, { mood, seed: own }: Cut): string {
  const kept = path.join(fs.mkdtempSync(path.join(path.dirname(place), "trimledger-power-cut-")), "left");
  disk.cut(kept, mood, new Chance(own));
  return kept;
}

here("a power cut", () => {
  let story: Story;
  beforeAll(async () => {
    makePlace();
    const disk = path.join(place, "disk");
    fs.mkdirSync(disk);
    story = await tellStory(disk, 40);
    // The record is complete: played to the end, it is what stands on the disk.
    const played = path.join(place, "played");
    playedTo(story, story.operations.length).cut(played, "kept", new Chance(seed));
    expect(differences(disk, played)).toEqual([]);
    for (const done of [disk, played]) fs.rmSync(done, { recursive: true });
  }, 300_000);
  afterAll(() => remove());

  test(`leaves every acknowledged change whole, wherever it falls (${cuts} cuts)`, async () => {
    const disk = new FailingDisk(story.before);
    let played = 0;
    for (const [number, cut] of chooseCuts(story, cuts).entries()) {
      for (; played < cut.after; played += 1) disk.play(operation(story, played));
      const promised = promisedBy(story, cut.after);
      if (number % cutAgainEvery === cutAgainEvery - 1) await cutAgain(disk, promised, cut);
      else await expectWhole(disk, promised, cut);
      if (long && (number + 1) % 25 === 0) console.log(`${number + 1} of ${cuts} cuts, all whole so far (CUT_SEED=${seed})`);
    }
  }, 120_000 + cuts * 60_000);

  /** The power fails again while what was left is being opened and written to. What somebody has seen by then is promised as well. */
  async function cutAgain(disk: FailingDisk, promised: Promised, first: Cut): Promise<void> {
    const left = path.join(place, "left-first");
    disk.cut(left, first.mood, new Chance(first.seed));
    // Before the watching: this is time that passes, not something the app does.
    asOfAnotherBoot(dataFolder(left));
    const watched = new RecordingDisk(left);
    const promises = [{ at: 0, told: promised.told }];
    let end: Promised;
    try {
      const examined = await examine(left, promised, ({ told }) => promises.push({ at: watched.operations.length, told }));
      if (examined.faults.length > 0) throw new Error(`${tell(first)}\n${examined.faults.join("\n")}\nWhat it left is in ${keep(disk, first)}.`);
      end = examined.promised;
    } finally {
      watched.stop();
    }
    fs.rmSync(left, { recursive: true });
    const { before, operations } = watched;
    const chance = new Chance(first.seed + 1_000_000);
    const after = pointIn({ from: 0, to: operations.length }, operations, chance);
    const again = new FailingDisk(before);
    for (const done of operations.slice(0, after)) again.play(done);
    const told = promises.filter(({ at }) => at <= after).at(-1)?.told ?? promised.told;
    await expectWhole(again, { ...end, told }, { after, section: `recovering from a cut in ${first.section} after operation ${first.after}`, mood: chance.one(MOODS), seed: first.seed });
  }

  test.each(["lost", "by file"] as const)("on a disk that does not sync is found out (%s)", async (mood) => {
    // The first opening is safe; from then on the disk says that it has synced, and has not.
    const opened = story.sections.find(({ kind }) => kind === "migrating")?.to ?? 0;
    const deaf = new FailingDisk([...story.before, ...story.operations.slice(0, opened)]);
    for (const done of story.operations.slice(opened)) if (done.do !== "sync") deaf.play(done);
    const left = path.join(place, `deaf-${mood}`);
    deaf.cut(left, mood, new Chance(1));
    const { faults } = await examine(left, promisedBy(story, story.operations.length));
    expect(faults.join("\n")).toMatch(/acknowledged|not whole|could not be used/);
  });
});

function playedTo(story: Story, end: number): FailingDisk {
  const disk = new FailingDisk(story.before);
  for (let n = 0; n < end; n += 1) disk.play(operation(story, n));
  return disk;
}

function operation(story: Story, n: number): Operation {
  const found = story.operations[n];
  if (found === undefined) throw new Error(`expected operation ${n}`);
  return found;
}

/** In what two folders differ: names, and bytes of files. */
function differences(one: string, other: string, within = ""): string[] {
  const names = new Set([...fs.readdirSync(path.join(one, within)), ...fs.readdirSync(path.join(other, within))]);
  return [...names].flatMap((name) => {
    const inside = path.join(within, name);
    const [a, b] = [path.join(one, inside), path.join(other, inside)];
    if (!fs.existsSync(a) || !fs.existsSync(b)) return [`only one has ${inside}`];
    if (fs.statSync(a).isDirectory()) return differences(one, other, inside);
    return fs.readFileSync(a).equals(fs.readFileSync(b)) ? [] : [`${inside} is not the same`];
  });
}

here("a lock", () => {
  beforeEach(makePlace);
  afterEach(() => remove());

  test("that a power cut left is whole, or not there: the folder can be locked anew", () => {
    const disk = path.join(place, "disk");
    fs.mkdirSync(dataFolder(disk), { recursive: true });
    const lock = (): FolderLock => lockFolder(path.join(dataFolder(disk), "postgres"));
    // A dead owner's lock is there, is succeeded to and released; then the folder is locked anew.
    const locks = [lock()];
    asOfAnotherBoot(dataFolder(disk));
    const watched = new RecordingDisk(disk);
    const successor = lock();
    successor.release();
    locks.push(successor, lock());
    watched.stop();
    for (const done of locks) done.release();
    for (let round = 0; round < 8; round += 1) for (let end = 0; end <= watched.operations.length; end += 1) {
      const failing = new FailingDisk(watched.before);
      for (const done of watched.operations.slice(0, end)) failing.play(done);
      const chance = new Chance(seed + round * 100 + end);
      const left = path.join(place, "left");
      failing.cut(left, chance.one(MOODS), chance);
      asOfAnotherBoot(dataFolder(left));
      lockFolder(path.join(dataFolder(left), "postgres")).release();
      fs.rmSync(left, { recursive: true });
    }
  });
});

here("PGlite by itself", () => {
  const safe = { files: SafeFS, params: safeStartParams };
  const withMethod = (method: string): readonly string[] => safeStartParams.map((param) => (param.startsWith("wal_sync_method=") ? `wal_sync_method=${method}` : param));
  const start = (disk: string, { files, params }: { files: typeof NodeFS; params: readonly string[] } = safe): Promise<PGlite> =>
    PGlite.create({ fs: new files(path.join(disk, "postgres")), startParams: [...params] });

  let cluster: string;
  beforeAll(async () => {
    makePlace();
    cluster = path.join(place, "cluster");
    fs.mkdirSync(cluster);
    const made = await start(cluster);
    await made.exec("CREATE TABLE reading (n INT PRIMARY KEY)");
    await made.close();
    syncTree(cluster);
  });
  afterAll(() => remove());

  test.each([
    ["with its files synced by us", safe, 20],
    ["as it comes", { files: NodeFS, params: PGlite.defaultStartParams }, 0],
    ["with a sync that does nothing", { files: NodeFS, params: safeStartParams }, 0],
    ["with wal_sync_method=fdatasync", { files: SafeFS, params: withMethod("fdatasync") }, 0],
  ])("%s: of 20 rows it has acknowledged it keeps so many", async (_, how, kept) => {
    const disk = path.join(place, "disk");
    fs.cpSync(cluster, disk, { recursive: true });
    const watched = new RecordingDisk(disk);
    const writing = await start(disk, how);
    for (let n = 1; n <= 20; n += 1) await writing.query("INSERT INTO reading VALUES ($1)", [n]);
    watched.stop();
    await writing.close();
    fs.rmSync(disk, { recursive: true });

    const failing = new FailingDisk(watched.before);
    for (const done of watched.operations) failing.play(done);
    failing.cut(disk, "lost", new Chance(seed));
    const after = await start(disk);
    const { rows } = await after.query<{ n: number }>("SELECT count(*)::int AS n FROM reading");
    await after.close();
    fs.rmSync(disk, { recursive: true });
    expect(rows).toEqual([{ n: kept }]);
  });
});
