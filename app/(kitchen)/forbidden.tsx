/** A page that is somebody else's to open. */
import { ButtonLink } from "@/components/form/Button";
import { PageTop } from "@/components/sheet/PageTop";

export const metadata = { title: "Not yours to open" };

export default function NotYours() {
  return (
    <>
      <PageTop title="This page is not yours to open" answer="What you may do in this kitchen does not include it. The owner of the kitchen can change that." />
      <p><ButtonLink href="/">Back to the book</ButtonLink> <ButtonLink plain href="/account">What I may do</ButtonLink></p>
    </>
  );
}
