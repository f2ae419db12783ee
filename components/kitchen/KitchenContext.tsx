/**
 * What every screen of a kitchen knows without asking: how the kitchen writes (habits), which day it is there, and
 * who is writing. Set once by app/(kitchen)/layout.tsx; fields read it to echo what they understood.
 */
"use client";
import { type ReactNode, createContext, useContext } from "react";
import type { Deed } from "@/lib/access";
import type { Habits } from "@/lib/measure";

export interface KitchenContextValue {
  readonly habits: Habits;
  /** The kitchen's own calendar day, "2026-11-25". */
  readonly today: string;
  /** The name changes are recorded under. */
  readonly writer: string;
  /** What they may do here, by the names of lib/access. */
  readonly deeds: readonly Deed[];
}

const Context = createContext<KitchenContextValue | null>(null);

export function KitchenProvider({ value, children }: { readonly value: KitchenContextValue; readonly children: ReactNode }) {
  return <Context value={value}>{children}</Context>;
}

/** The kitchen of this screen. Throws outside the (kitchen) layout. */
export function useKitchen(): KitchenContextValue {
  const value = useContext(Context);
  if (!value) throw new Error("expected a KitchenProvider around this component");
  return value;
}
