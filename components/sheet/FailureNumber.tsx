/**
 * The number under which the server's log tells what went wrong: of the request that made the page, and of the error
 * itself, which may have come later, with the page already open.
 */
"use client";
import { useSyncExternalStore } from "react";

const never = (): (() => void) => () => undefined;

export function FailureNumber({ digest }: { readonly digest?: string | undefined }) {
  const request = useSyncExternalStore(never, () => document.documentElement.dataset["request"] ?? "", () => "");
  const number = [request.slice(0, 8), digest].filter((part) => part !== undefined && part !== "").join("-");
  if (number === "") return null;
  return <p className="quiet">If it happens again, tell whoever looks after the app this number: <b>{number}</b></p>;
}
