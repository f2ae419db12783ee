/** Something of ours went wrong while a page was made. Says so, offers to try again, and keeps the index in reach. */
"use client";
import { Button, ButtonLink } from "@/components/form/Button";
import { FailureNumber } from "@/components/sheet/FailureNumber";
import { PageTop } from "@/components/sheet/PageTop";

export default function PageFailed({ error, reset }: { readonly error: Error & { readonly digest?: string }; readonly reset: () => void }) {
  return (
    <>
      <PageTop title="This page could not be made" answer="The fault is ours, not yours. Nothing in the book was changed by it." />
      <FailureNumber digest={error.digest} />
      <p><Button onClick={reset}>Try again</Button> <ButtonLink plain href="/dishes">See the dishes</ButtonLink></p>
    </>
  );
}
