/**
 * Writing a change: the change itself, the identities of facts that are new, a revision for every entry, and the
 * details of what each fact became. Only ever inserts: no row of a fact is updated or deleted, here or anywhere, and
 * the database refuses it too. The kitchen's own row, which counts, is the one exception.
 */
import { type FactKind, type Provenance, factKey } from "@/lib/book";
import { type Ripple } from "@/lib/cascade";
import type { RippleReport } from "@/lib/menu";
import type { Fact, WatchCommit } from "./contract";
import type { Transaction } from "./database";
import type { Dated } from "./in-force";
import { writeRipple } from "./write-ripple";
import { shapeOf } from "./tables";
import { type RowSink, writeRows } from "./write-rows";

/** A revision that is to be written. */
export interface NewRevision extends Dated, Provenance {
  readonly kind: FactKind;
  readonly id: string;
  readonly name: string;
  readonly after: Fact | null;
}

export interface NewChange {
  readonly kitchenId: string;
  readonly changeNo: number;
  readonly at: string;
  readonly by: string;
  readonly byPerson: string | null;
  readonly why: string;
  readonly revisions: readonly NewRevision[];
  /** Keys of the facts that had an identity before. */
  readonly known: ReadonlySet<string>;
  readonly ripple: Ripple;
  readonly report: RippleReport;
  readonly watch?: WatchCommit | undefined;
}

/** Writes the change and counts the kitchen on. Belongs in the transaction that holds the kitchen's lock. */
export async function writeChange(tx: Transaction, change: NewChange): Promise<void> {
  await writeChangeRows(tx, change);
  await countOn(tx, change.kitchenId, change.changeNo, change.revisions.at(-1)?.revision ?? 0);
}

/** The kitchen's own row, which counts its changes and revisions. */
export async function countOn(tx: Transaction, kitchenId: string, changeNo: number, lastRevision: number): Promise<void> {
  await tx.$executeRaw`UPDATE kitchen SET change_no = ${changeNo}, revision_no = greatest(revision_no, ${BigInt(lastRevision)}) WHERE id = ${kitchenId}`;
}

/** All rows of a change but the kitchen's own. */
export async function writeChangeRows(tx: RowSink, change: NewChange): Promise<void> {
  const { kitchenId, changeNo, report, watch } = change;
  await watch?.("writing the facts");
  await writeRows(tx, "change", [{
    kitchen_id: kitchenId, no: changeNo, at: change.at, by: change.by, by_person: change.byPerson, why: change.why, unmoved: report.unmoved,
    money_a_week: report.moneyAWeek?.toFixed() ?? null, takings_a_week: report.takingsAWeek?.toFixed() ?? null,
    usual_weeks: report.usualWeek.weeks, usual_from: report.usualWeek.from, usual_to: report.usualWeek.to,
  }]);
  await writeFacts(tx, change);
  await writeRevisions(tx, change);
  await writeDetails(tx, kitchenId, change.revisions);
  await watch?.("writing what moved");
  await writeRipple(tx, change);
}

async function writeFacts(tx: RowSink, { kitchenId, revisions, known }: NewChange): Promise<void> {
  const fresh = new Map<string, NewRevision>();
  for (const revision of revisions) {
    const key = factKey(revision.kind, revision.id);
    if (!known.has(key) && !fresh.has(key)) fresh.set(key, revision);
  }
  await writeRows(tx, "fact", [...fresh].map(([key, { kind, id, revision }]) => ({
    kitchen_id: kitchenId, key, kind, id, first_revision: revision,
  })));
}

async function writeRevisions(tx: RowSink, { kitchenId, changeNo, revisions }: NewChange): Promise<void> {
  await writeRows(tx, "revision", revisions.map((revision) => ({
    kitchen_id: kitchenId, id: revision.revision, fact: factKey(revision.kind, revision.id), kind: revision.kind,
    name: revision.name, valid_from: revision.validFrom, change_no: changeNo, replaces: revision.replaces,
    withdrawn: revision.after === null,
  })));
}

async function writeDetails(tx: RowSink, kitchenId: string, revisions: readonly NewRevision[]): Promise<void> {
  const rows = new Map<string, Record<string, string | number | boolean | null>[]>();
  for (const { kind, id, revision, after } of revisions) {
    if (after === null) continue;
    const shape = shapeOf(kind);
    const lists = shape.toRows(after as Parameters<typeof shape.toRows>[0], id);
    for (const [name, table] of Object.entries(shape.tables)) {
      let list = rows.get(table.name);
      if (!list) rows.set(table.name, list = []);
      for (const row of lists[name] ?? []) list.push({ kitchen_id: kitchenId, revision, ...row });
    }
  }
  for (const [table, list] of rows) await writeRows(tx, table, list);
}
