/** Opens the browser's own printing. Without a script there is its menu. */
"use client";
import { Button } from "@/components/form";

export function PrintButton() {
  return <Button onClick={() => window.print()}>Print</Button>;
}
