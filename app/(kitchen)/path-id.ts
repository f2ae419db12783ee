/** The id in a page's address. An address that nobody's link gives (a broken escape, say) is a page that is not there. */
import { notFound } from "next/navigation";

export function pathId(escaped: string): string {
  try {
    return decodeURIComponent(escaped);
  } catch {
    notFound();
  }
}
