/**
 * What this device remembers between tests: how its scale reads, and what the tubs beside it weigh. Where the browser
 * keeps nothing it is remembered as long as the page is open.
 */
"use client";
import { useMemo, useSyncExternalStore } from "react";
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

/** The tubs of this device, the one used last first. */
export function useRememberedTubs(): readonly Quantity[] {
  const text = useSyncExternalStore(onChange, () => read(TUBS), () => null);
  return useMemo(() => tubsIn(text), [text]);
}

export function rememberTub(tub: Quantity): void {
  const tubs = [tub, ...tubsIn(read(TUBS)).filter((other) => other.amount !== tub.amount || other.unit !== tub.unit)];
  write(TUBS, JSON.stringify(tubs.slice(0, MOST_TUBS)));
}

function tubsIn(text: string | null): readonly Quantity[] {
  try {
    const tubs: unknown = JSON.parse(text ?? "[]");
    return Array.isArray(tubs) ? (tubs as Quantity[]).filter((tub) => typeof tub?.amount === "string" && typeof tub.unit === "string").slice(0, MOST_TUBS) : [];
  } catch {
    return [];
  }
}

/** What the browser would not keep. */
const unkept = new Map<string, string>();
const listeners = new Set<() => void>();

function onChange(changed: () => void): () => void {
  listeners.add(changed);
  window.addEventListener("storage", changed);
  return () => {
    listeners.delete(changed);
    window.removeEventListener("storage", changed);
  };
}

function read(key: string): string | null {
  try {
    return window.localStorage.getItem(key) ?? unkept.get(key) ?? null;
  } catch {
    return unkept.get(key) ?? null;
  }
}

function write(key: string, text: string): void {
  try {
    window.localStorage.setItem(key, text);
  } catch {
    unkept.set(key, text);
  }
  for (const changed of listeners) changed();
}
