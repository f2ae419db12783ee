/** What this device remembers between tests: how its scale reads, and what the tubs beside it weigh. */
import { type Quantity, SCALE_READINGS, type ScaleReading } from "@/lib/measure";

const SCALE = "trimledger scale";
const TUBS = "trimledger tubs";
const MOST_TUBS = 6;

export function rememberedScale(): ScaleReading | null {
  const text = read(SCALE);
  return SCALE_READINGS.find((reading) => reading === text) ?? null;
}

export function rememberScale(scale: ScaleReading): void {
  write(SCALE, scale);
}

/** The tub used last comes first. */
export function rememberedTubs(): readonly Quantity[] {
  try {
    const tubs: unknown = JSON.parse(read(TUBS) ?? "[]");
    return Array.isArray(tubs) ? (tubs as Quantity[]).filter((tub) => typeof tub?.amount === "string" && typeof tub.unit === "string").slice(0, MOST_TUBS) : [];
  } catch {
    return [];
  }
}

export function rememberTub(tub: Quantity): readonly Quantity[] {
  const tubs = [tub, ...rememberedTubs().filter((other) => other.amount !== tub.amount || other.unit !== tub.unit)].slice(0, MOST_TUBS);
  write(TUBS, JSON.stringify(tubs));
  return tubs;
}

function read(key: string): string | null {
  try {
    return window.localStorage.getItem(key);
  } catch {
    return null;
  }
}

function write(key: string, text: string): void {
  try {
    window.localStorage.setItem(key, text);
  } catch {
    // remembered next time
  }
}
