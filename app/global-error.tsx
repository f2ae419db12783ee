/** The frame itself could not be made. Says so with a frame of its own, as bare as may be. */
"use client";
import "./globals/tokens.css";
import "./globals/base.css";
import "./globals/shell.css";
import "./globals/form.css";
import { Button } from "@/components/form/Button";
import { FailureNumber } from "@/components/sheet/FailureNumber";

export default function FrameFailed({ error, reset }: { readonly error: Error & { readonly digest?: string }; readonly reset: () => void }) {
  return (
    <html lang="en">
      <body>
        <title>This page could not be made · Trimledger</title>
        <main className="sheet alone" id="page">
          <h1>This page could not be made</h1>
          <p className="say">The fault is ours, not yours. Nothing in the book was changed by it.</p>
          <FailureNumber digest={error.digest} />
          <p><Button onClick={reset}>Try again</Button></p>
        </main>
      </body>
    </html>
  );
}
