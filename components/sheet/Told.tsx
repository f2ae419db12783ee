/**
 * A message that the reader must not miss: what was recorded, or why something was refused. `adverse` is for problems.
 * It is a live region, so that it is read out when it appears.
 */
import type { ReactNode, Ref } from "react";

export function Told({ adverse = false, children, ref }: { readonly adverse?: boolean; readonly children: ReactNode; readonly ref?: Ref<HTMLDivElement> }) {
  return <div className={adverse ? "told adverse" : "told"} role={adverse ? "alert" : "status"} tabIndex={-1} ref={ref}>{children}</div>;
}
