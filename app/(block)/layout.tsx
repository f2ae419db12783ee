/** The frame of the pages at the block: nothing but the work. What every screen knows of its kitchen is the same. */
import type { ReactNode } from "react";
import { DEEDS, type Deed } from "@/lib/access";
import { KitchenProvider } from "@/components/kitchen/KitchenContext";
import { anyKitchen } from "../(kitchen)/open-kitchen";

export default async function BlockLayout({ children }: { readonly children: ReactNode }) {
  const { kitchen, live, visitor, may } = await anyKitchen();
  const habits = { locale: kitchen.locale, measures: kitchen.measures, currency: kitchen.currency };
  return <KitchenProvider value={{ habits, today: live.today, writer: visitor.name, deeds: (Object.keys(DEEDS) as Deed[]).filter(may) }}>{children}</KitchenProvider>;
}
