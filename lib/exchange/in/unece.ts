/**
 * Codes of units of UN/ECE Recommendation 20 (units) and 21 (packages, with an X before them where they stand for a unit), as
 * UBL and other papers carry them, read as our units. A dry pint is no liquid one and a short ton no tonne: only what is
 * exactly so many of ours is taken. A package says nothing of what it holds. Source: UNECE, Recommendation 20 rev. 17, annex I.
 */
import { type Exact, type Unit, exact, ratio } from "@/lib/measure";
import type { CodedQuantity } from "./read-shapes";

interface UnitOfCode { readonly unit: Unit; readonly times: Exact }

const of = (unit: Unit, times = "1"): UnitOfCode => ({ unit, times: exact(times) });

const UNITS_OF_CODE: Readonly<Record<string, UnitOfCode>> = {
  GRM: of("g"), KGM: of("kg"), MGM: of("g", "0.001"), HGM: of("g", "100"), DTN: of("kg", "100"), TNE: of("kg", "1000"),
  ONZ: of("oz"), LBR: of("lb"), STI: of("lb", "14"), CWA: of("lb", "100"), CWI: of("lb", "112"), STN: of("lb", "2000"), LTN: of("lb", "2240"),
  MLT: of("mL"), CMQ: of("mL"), CLT: of("cL"), DLT: of("cL", "10"), LTR: of("L"), DMQ: of("L"), HLT: of("L", "100"), MTQ: of("L", "1000"),
  OZA: of("fl oz"), OZI: of("imp fl oz"), G25: of("tsp"), G24: of("tbsp"), G21: of("cup"),
  PTL: of("pt"), PT: of("pt"), PTI: of("imp pt"), QTL: of("qt"), QT: of("qt"), QTI: of("imp pt", "2"), GLL: of("gal"), GLI: of("imp gal"),
  C62: of("each"), EA: of("each"), H87: of("each"), NAR: of("each"), NMB: of("each"), PCE: of("each"), PR: of("each", "2"),
  DZN: of("dozen"), DPC: of("dozen"), GRO: of("dozen", "12"), CEN: of("each", "100"), MIL: of("each", "1000"),
};

const PACKAGES: Readonly<Record<string, string>> = {
  XCS: "case", XBX: "box", XCT: "carton", XPK: "pack", XPA: "packet", XBG: "bag", XSA: "sack", XBE: "bundle", XCR: "crate", XTY: "tray", XPU: "tray", XCA: "can", XTN: "tin", XBO: "bottle", XJR: "jar", XJG: "jug",
  XPL: "pail", XBJ: "bucket", XTB: "tub", XKG: "keg", XBA: "barrel", XDR: "drum", XPX: "pallet", XRO: "roll", XSH: "sachet", XTU: "tube", XBH: "bunch", XCU: "cup", XPP: "piece", XPC: "parcel", XOE: "pallet",
  NMP: "pack", DZP: "dozen packs", CT: "carton", CS: "case", BX: "box", BG: "bag", PK: "pack", CA: "can", BO: "bottle", RO: "roll", TY: "tray",
};

/** The unit, and how many of it one of the code is; null for a package and a code not known here. */
export function unitOfCode(code: string): UnitOfCode | null {
  return UNITS_OF_CODE[code.trim().toUpperCase()] ?? null;
}

/** "case" for XCS; null where the code is no package known here. */
export function packageOfCode(code: string): string | null {
  return PACKAGES[code.trim().toUpperCase()] ?? null;
}

/** The quantity in our unit; as written where the code is a package, unknown or missing. */
export function codedQuantity(amount: Exact, code: string): CodedQuantity {
  const known = unitOfCode(code);
  return known === null
    ? { amount, code, unit: null }
    : { amount: known.times === "1" ? amount : ratio.toExact(ratio.mul(ratio.fromExact(amount), ratio.fromExact(known.times))), code, unit: known.unit };
}

/** The code as people may read it: "LBR (lb)", "XCS (case)", "ZZ (a code not known here)". */
export function sayCode(code: string): string {
  if (code === "") return "no unit";
  const known = unitOfCode(code);
  if (known !== null) return `${code} (${known.times === "1" ? "" : `${known.times} `}${known.unit})`;
  return `${code} (${packageOfCode(code) ?? "a code not known here"})`;
}
