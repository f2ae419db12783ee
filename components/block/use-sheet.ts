/** A sheet at the block, kept: its entries so far, and the ways to add to them. */
"use client";
import { useEffect, useMemo, useState, useSyncExternalStore } from "react";
import { type BlockSheet, blockSheet } from "@/lib/book";
import type { SheetsAnswer } from "@/lib/store";
import { type Kept, SheetKeeper } from "./sheet-keeper";

export interface KeptSheet {
  readonly keeper: SheetKeeper;
  readonly kept: Kept;
  readonly sheet: BlockSheet;
}

export function useSheet(sheetId: string, start: SheetsAnswer): KeptSheet {
  const [keeper] = useState(() => new SheetKeeper({
    sheetId, start, url: `/block/${encodeURIComponent(sheetId)}/entries`, storage: browserStorage(),
    send: (url, body) => fetch(url, { method: "POST", body, headers: { "Content-Type": "application/json" }, signal: AbortSignal.timeout(10_000) }),
    now: () => Date.now(), randomId,
  }));
  const kept = useSyncExternalStore(keeper.subscribe, keeper.kept, keeper.kept);
  const sheet = useMemo(() => blockSheet(kept.entries), [kept.entries]);
  useEffect(() => {
    keeper.begin();
    const soon = (): void => void keeper.sync();
    const otherWindow = (): void => keeper.takeUp();
    window.addEventListener("online", soon);
    window.addEventListener("storage", otherWindow);
    document.addEventListener("visibilitychange", soon);
    return () => {
      keeper.stop();
      window.removeEventListener("online", soon);
      window.removeEventListener("storage", otherWindow);
      document.removeEventListener("visibilitychange", soon);
    };
  }, [keeper]);
  return { keeper, kept, sheet };
}

function browserStorage(): Storage | null {
  try {
    return typeof window === "undefined" ? null : window.localStorage;
  } catch {
    return null; // a browser told to keep nothing
  }
}

/** 120 bits. Not crypto.randomUUID: that is there only behind TLS, and a kitchen's tablet may not be. */
function randomId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(15));
  return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_");
}
