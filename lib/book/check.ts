/** Checks across facts (being filled in: signatures are final). */
import type { Problem } from "@/lib/measure";
import type { Book, Change, FactKind } from "./book";
/** A problem and the fact it is about; its path is a path within that fact. */
export interface FactProblem extends Problem { readonly of: { readonly kind: FactKind; readonly id: string } }
export declare function checkChanges(book: Book, changes: readonly Change[]): readonly FactProblem[];
export declare function checkBook(book: Book): readonly FactProblem[];
