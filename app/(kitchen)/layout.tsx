/** The open book of a kitchen: the index along the edge, the sheet, and what every screen knows of its kitchen. */
import type { ReactNode } from "react";
import { Finder } from "@/components/find/Finder";
import { Live } from "@/components/live/Live";
import { Index } from "@/components/sheet/Index";
import { KitchenFrame } from "./KitchenFrame";
import { anyKitchen } from "./open-kitchen";

export default async function KitchenLayout({ children }: { readonly children: ReactNode }) {
  const open = await anyKitchen();
  const { kitchen, live, visitor, may } = open;
  return (
    <KitchenFrame open={open}>
      <div className="house">
        <Index kitchen={kitchen.name} writer={visitor.name} seesMoney={may("see money")} ownsKitchen={may("look after people")} />
        <main className="sheet" id="page" tabIndex={-1}>{children}</main>
      </div>
      <Finder />
      <Live since={live.changeNo} />
    </KitchenFrame>
  );
}
