/** An address that leads nowhere. */
import { ButtonLink } from "@/components/form/Button";
import { PageTop } from "@/components/sheet/PageTop";

export const metadata = { title: "No such page" };

export default function NotFound() {
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="There is no such page" answer="The address leads nowhere: it may be mistyped, or belong to another book. Nothing is lost." />
      <p><ButtonLink href="/">Open the book</ButtonLink></p>
    </main>
  );
}
