/**
 * Which revision of a fact is in force. On a day D, as known after change N: of the revisions recorded up to N, leave
 * out those that a revision recorded up to N corrects and those that apply only later than D; of the rest the one that
 * applies from the latest day, and among those of one day the one recorded last. If that one takes the fact off the
 * book, the fact is absent. The rule stands here twice: as a function, for the few facts of a commit, and as SQL, for
 * a whole book in one pass; tests hold them to each other.
 */
import type { FactKind } from "@/lib/book";
import { Prisma } from "@/prisma/generated/client";

export interface Dated {
  readonly revision: number;
  readonly validFrom: string;
  readonly replaces: number | null;
}

/** The one of a fact's revisions (all of them known) that is in force on a day; null when none applies yet. */
export function inForce<R extends Dated>(revisions: readonly R[], on: string): R | null {
  const corrected = correctedBy(revisions);
  let best: R | null = null;
  for (const revision of revisions) {
    if (revision.validFrom > on || corrected.has(revision.revision)) continue;
    if (best === null || revision.validFrom > best.validFrom || (revision.validFrom === best.validFrom && revision.revision > best.revision)) {
      best = revision;
    }
  }
  return best;
}

/** The revisions that are corrected by others among them. */
export function correctedBy(revisions: readonly Dated[]): ReadonlySet<number> {
  return new Set(revisions.flatMap((revision) => (revision.replaces === null ? [] : [revision.replaces])));
}

/**
 * A query for some revisions of a kitchen: it gives `id`, and limits itself to one kind of fact, so that the index
 * answers it. What a selection selects is read with `readRevisions`.
 */
export type Selection = (kind: FactKind) => Prisma.Sql;

interface Known {
  readonly kitchenId: string;
  /** The last change that is known. */
  readonly changeNo: number;
}

/** `r` is known and not corrected. */
function standing({ kitchenId, changeNo }: Known, kind: FactKind): Prisma.Sql {
  return Prisma.sql`r.kitchen_id = ${kitchenId} AND r.kind = ${kind} AND r.change_no <= ${changeNo}
    AND NOT EXISTS (SELECT FROM revision c
      WHERE c.kitchen_id = r.kitchen_id AND c.replaces = r.id AND c.change_no <= ${changeNo})`;
}

/** The revision in force of every fact, those that take it off the book included. `since`: only of facts changed after that change. */
export function selectInForce(known: Known & { readonly on: string; readonly since?: number | undefined }): Selection {
  return (kind) => Prisma.sql`SELECT DISTINCT ON (r.fact) r.id FROM revision r
    WHERE ${standing(known, kind)} AND r.valid_from <= ${known.on}::date
      ${known.since === undefined ? Prisma.empty : Prisma.sql`AND r.fact IN (SELECT t.fact FROM revision t
        WHERE t.kitchen_id = ${known.kitchenId} AND t.change_no > ${known.since} AND t.change_no <= ${known.changeNo})`}
    ORDER BY r.fact, r.valid_from DESC, r.id DESC`;
}

/** Every standing revision that applies only after the day. */
export function selectAhead(known: Known & { readonly on: string }): Selection {
  return (kind) => Prisma.sql`SELECT r.id FROM revision r WHERE ${standing(known, kind)} AND r.valid_from > ${known.on}::date`;
}

/** The revisions with these ids: for the few of one page or one commit. */
export function selectThese(kitchenId: string, ids: readonly number[]): Selection {
  return (kind) => Prisma.sql`SELECT r.id FROM revision r
    WHERE r.kitchen_id = ${kitchenId} AND r.kind = ${kind} AND r.id = ANY (${[...ids].map(BigInt)}::bigint[])`;
}

/** Every revision of these facts, by key. */
export function selectHistory(kitchenId: string, keys: readonly string[]): Selection {
  return (kind) => Prisma.sql`SELECT r.id FROM revision r
    WHERE r.kitchen_id = ${kitchenId} AND r.kind = ${kind} AND r.fact = ANY (${[...keys]}::text[])`;
}
