/** A list with nothing in it: says what it is for and offers the next step. Children are the buttons or links. */
import type { ReactNode } from "react";

export function EmptyPage({ what, children }: { readonly what: ReactNode; readonly children?: ReactNode }) {
  return (
    <div className="empty">
      <p className="say">{what}</p>
      {children !== undefined && <p>{children}</p>}
    </div>
  );
}
