/** Packs (being filled in: signatures are final). */
import type { Checked, Habits, Quantity } from "@/lib/measure";
import type { Pack } from "./item";
export declare function parsePack(text: string, habits: Habits): Checked<Pack>;
export declare function printPack(pack: Pack, habits: Habits): string;
export declare function packContent(pack: Pack): Quantity;
