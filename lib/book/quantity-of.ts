/** A line's quantity in its source's own base (being filled in: signatures are final). */
import type { Kind, Ratio } from "@/lib/measure";
import type { Book } from "./book";
import type { Line, LineKind } from "./recipe";
export type LineBase = "g" | "mL" | "each" | "portion" | "batch";
export type LineInBase =
  | { readonly ok: true; readonly amount: Ratio; readonly of: LineBase }
  | { readonly ok: false; readonly missing: "density" | "each-weight" | "yield" | "fact"; readonly of: { readonly kind: LineKind; readonly id: string } };
export declare function lineInBase(book: Book, line: Line): LineInBase;
/** The kind a cut is measured in: that of its adopted tests, else of its origin; null when it cannot be told. */
export declare function cutKind(book: Book, cutId: string): Kind | null;
