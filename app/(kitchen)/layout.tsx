/** The open book of a kitchen: the index along the edge, the sheet, and what every screen knows of its kitchen. */
import type { ReactNode } from "react";
import { connection } from "next/server";
import { KitchenProvider } from "@/components/kitchen/KitchenContext";
import { Index } from "@/components/sheet/Index";
import { openKitchen } from "./open-kitchen";

export default async function KitchenLayout({ children }: { readonly children: ReactNode }) {
  await connection();
  const { kitchen, live, writer } = await openKitchen();
  const habits = { locale: kitchen.locale, measures: kitchen.measures, currency: kitchen.currency };
  return (
    <KitchenProvider value={{ habits, today: live.today, writer }}>
      <div className="house">
        <Index kitchen={kitchen.name} writer={writer} />
        <main className="sheet" id="page" tabIndex={-1}>{children}</main>
      </div>
    </KitchenProvider>
  );
}
