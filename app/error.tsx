/** Something of ours went wrong before the book was even open: most likely the database could not be reached. */
"use client";
import { Button } from "@/components/form/Button";
import { FailureNumber } from "@/components/sheet/FailureNumber";
import { PageTop } from "@/components/sheet/PageTop";

export default function HouseFailed({ error, reset }: { readonly error: Error & { readonly digest?: string }; readonly reset: () => void }) {
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="The book could not be opened" answer="The database did not answer, or something else of ours went wrong. Nothing was changed." />
      <FailureNumber digest={error.digest} />
      <p><Button onClick={reset}>Try again</Button></p>
    </main>
  );
}
