/**
 * Shows what leads to a deed only to whoever may do it, so that nobody is sent to a page that is not theirs to open. It
 * is a courtesy: the door itself stands at the page and at the action.
 */
"use client";
import type { ReactNode } from "react";
import type { Deed } from "@/lib/access";
import { useKitchen } from "./KitchenContext";

export function IfMay({ deed, children, otherwise = null }: { readonly deed: Deed; readonly children: ReactNode; readonly otherwise?: ReactNode }) {
  return useKitchen().deeds.includes(deed) ? children : otherwise;
}
