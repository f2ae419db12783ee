/** What every screen of a kitchen knows without asking, whichever frame it stands in. */
import type { ReactNode } from "react";
import { deedsOf } from "@/lib/access";
import { KitchenProvider } from "@/components/kitchen/KitchenContext";
import type { OpenKitchen } from "./open-kitchen";

export function KitchenFrame({ open: { kitchen, live, visitor, standing }, children }: { readonly open: OpenKitchen; readonly children: ReactNode }) {
  const habits = { locale: kitchen.locale, measures: kitchen.measures, currency: kitchen.currency };
  return <KitchenProvider value={{ habits, today: live.today, writer: visitor.name, deeds: deedsOf(standing) }}>{children}</KitchenProvider>;
}
