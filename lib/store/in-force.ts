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
 * A query for some rows of `revision` of a kitchen, of one kind of fact, so that the index answers it. The queries are
 * kept so plain that they take time in proportion to the rows whatever the planner believes: the embedded database
 * never gathers statistics by itself, and a server has none of a kitchen that was opened a minute ago.
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
    AND r.id NOT IN (SELECT c.replaces FROM revision c
      WHERE c.kitchen_id = ${kitchenId} AND c.replaces IS NOT NULL AND c.change_no <= ${changeNo})`;
}

/** The revision in force of every fact, those that take it off the book included; of these facts only, if some are named by key. */
export function selectInForce(known: Known & { readonly on: string; readonly keys?: readonly string[] | undefined }): Selection {
  return (kind) => Prisma.sql`SELECT DISTINCT ON (r.fact) r.* FROM revision r
    WHERE ${standing(known, kind)} AND r.valid_from <= ${known.on}::date
      ${known.keys === undefined ? Prisma.empty : Prisma.sql`AND r.fact = ANY (${[...known.keys]}::text[])`}
    ORDER BY r.fact, r.valid_from DESC, r.id DESC`;
}

/** Every standing revision that applies only after the day. */
export function selectAhead(known: Known & { readonly on: string }): Selection {
  return (kind) => Prisma.sql`SELECT r.* FROM revision r WHERE ${standing(known, kind)} AND r.valid_from > ${known.on}::date`;
}

/** The revisions with these ids. */
export function selectThese(kitchenId: string, ids: readonly number[]): Selection {
  return (kind) => Prisma.sql`SELECT r.* FROM revision r
    WHERE r.kitchen_id = ${kitchenId} AND r.kind = ${kind} AND r.id = ANY (${ids.map(BigInt)}::bigint[])`;
}

/** Every revision of these facts, by key. */
export function selectHistory(kitchenId: string, keys: readonly string[]): Selection {
  return (kind) => Prisma.sql`SELECT r.* FROM revision r
    WHERE r.kitchen_id = ${kitchenId} AND r.kind = ${kind} AND r.fact = ANY (${[...keys]}::text[])`;
}
