/** The open book of a kitchen: the index along the edge, the sheet, and what every screen knows of its kitchen. */
import type { ReactNode } from "react";
import { DEEDS, type Deed } from "@/lib/access";
import { KitchenProvider } from "@/components/kitchen/KitchenContext";
import { Index } from "@/components/sheet/Index";
import { anyKitchen } from "./open-kitchen";

export default async function KitchenLayout({ children }: { readonly children: ReactNode }) {
  const { kitchen, live, visitor, may } = await anyKitchen();
  const deeds = (Object.keys(DEEDS) as Deed[]).filter(may);
  const habits = { locale: kitchen.locale, measures: kitchen.measures, currency: kitchen.currency };
  return (
    <KitchenProvider value={{ habits, today: live.today, writer: visitor.name, deeds }}>
      <div className="house">
        <Index kitchen={kitchen.name} writer={visitor.name} seesMoney={may("see money")} ownsKitchen={may("look after people")} />
        <main className="sheet" id="page" tabIndex={-1}>{children}</main>
      </div>
    </KitchenProvider>
  );
}
