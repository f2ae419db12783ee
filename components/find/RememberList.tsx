/**
 * Keeps how a list was last narrowed and ordered on this device, for when it is opened from the index without a question
 * (app/(kitchen)/list-ask.ts reads it). "Show all" forgets it.
 */
"use client";
import { useEffect } from "react";
import { LIST_COOKIE } from "./address";

const A_YEAR = 365 * 24 * 60 * 60;

export function RememberList({ page, query, forget }: { readonly page: string; readonly query: string; readonly forget: boolean }) {
  useEffect(() => {
    if (query === "" && !forget) return;
    document.cookie = `${LIST_COOKIE}=${encodeURIComponent(query)}; path=${page}; max-age=${query === "" ? 0 : A_YEAR}; samesite=lax`;
  }, [page, query, forget]);
  return null;
}
