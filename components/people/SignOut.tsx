/** Signs out, and has the browser forget the pages of the block that it keeps for when there is no connection. */
"use client";
import { Button } from "@/components/form/Button";

export function SignOut({ action }: { readonly action: (formData: FormData) => Promise<void> }) {
  const forget = (): void => {
    if (!("serviceWorker" in navigator)) return;
    navigator.serviceWorker.getRegistration("/block").then((registration) => registration?.active?.postMessage("forget"), () => undefined);
  };
  return <form action={action} onSubmit={forget}><Button type="submit" plain>Sign out</Button></form>;
}
