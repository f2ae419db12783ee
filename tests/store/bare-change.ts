/**
 * Records changes as they are, without asking whether the book holds together and without a ripple: for tests of what
 * the tables keep and of which revision is in force.
 */
import { type Change, factKey } from "@/lib/book";
import type { DatedChange } from "@/lib/store";
import type { Database } from "@/lib/store/database";
import { type NewRevision, writeChange } from "@/lib/store/write-change";

const QUIET = {
  crossings: [], dishes: [], stands: { items: [], cuts: [], specs: [], recipes: [] }, unmoved: 0, moneyAWeek: null, takingsAWeek: null,
  usualWeek: { weeks: 0, from: null, to: null, sold: new Map() }, notInMoney: [],
};

/** Writes the entries as the next change of the kitchen, opening it if need be; answers with their revisions. */
export async function recordBare(database: Database, kitchenId: string, entries: readonly DatedChange[]): Promise<readonly NewRevision[]> {
  return database.transaction(async (tx) => {
    await tx.$executeRaw`INSERT INTO kitchen VALUES (${kitchenId}, 0, 0, now()) ON CONFLICT DO NOTHING`;
    const [kitchen] = await tx.$queryRaw<{ change_no: number; revision_no: bigint }[]>`SELECT change_no, revision_no FROM kitchen WHERE id = ${kitchenId}`;
    if (!kitchen) throw new Error("expected the kitchen just written");
    const known = await tx.$queryRaw<{ key: string }[]>`SELECT key FROM fact WHERE kitchen_id = ${kitchenId}`;
    const changeNo = kitchen.change_no + 1;
    const at = new Date(Date.UTC(2026, 10, 25, 9, 0, changeNo)).toISOString();
    const revisions = entries.map(({ change, validFrom, replaces }, index): NewRevision => ({
      kind: change.kind, id: change.id, after: change.after as Change["after"], name: change.id, validFrom, replaces: replaces ?? null,
      revision: Number(kitchen.revision_no) + index + 1, recordedAt: at, by: "Chef", why: "",
    }));
    await writeChange(tx, {
      kitchenId, changeNo, at, by: "Chef", byPerson: null, why: "", revisions, known: new Set(known.map(({ key }) => key)), ripple: { moved: [] }, report: QUIET,
    });
    return revisions;
  });
}

export function keyOf(change: Change): string {
  return factKey(change.kind, change.id);
}
