/** The frame of the pages at the block: nothing but the work. What every screen knows of its kitchen is the same. */
import type { ReactNode } from "react";
import { KitchenFrame } from "../(kitchen)/KitchenFrame";
import { anyKitchen } from "../(kitchen)/open-kitchen";

export default async function BlockLayout({ children }: { readonly children: ReactNode }) {
  return <KitchenFrame open={await anyKitchen()}>{children}</KitchenFrame>;
}
