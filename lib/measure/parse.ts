/** Reading what a kitchen types (being filled in: signatures are final). */
import type { Exact } from "./decimal";
import type { Habits } from "./habits";
import type { Checked, Problem } from "./problem";
import type { Money, Quantity, Rate } from "./quantity";
import type { Kind, Unit } from "./units";
export declare function parseNumber(text: string, habits: Habits): Checked<Exact>;
export declare function parseQuantity(text: string, habits: Habits, options: { readonly kinds: readonly Kind[]; readonly bare?: Unit | undefined }): Checked<Quantity>;
export declare function parseMoney(text: string, habits: Habits): Checked<Money>;
export declare function parseRate(text: string, habits: Habits, options: { readonly bare: Unit; readonly kinds?: readonly Kind[] | undefined }): Checked<Rate>;
export declare function parseShare(text: string, habits: Habits): Checked<Exact>;
export declare function at(path: string, problems: readonly Problem[]): readonly Problem[];
