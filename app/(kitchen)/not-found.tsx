/** A thing asked for by an id that this kitchen's book does not hold. */
import Link from "next/link";
import { ButtonLink } from "@/components/form/Button";
import { PageTop } from "@/components/sheet/PageTop";

export const metadata = { title: "Not in this book" };

export default function NotInThisBook() {
  return (
    <>
      <PageTop title="That is not in this book" answer="Nothing in this kitchen’s book has the id in this address. It may be mistyped, taken off the book, or belong to another kitchen." />
      <p>Whatever was ever taken off stands in <Link href="/record">the record</Link>, with who did it and why.</p>
      <p><ButtonLink href="/dishes">See the dishes</ButtonLink> <ButtonLink plain href="/items">See the items</ButtonLink></p>
    </>
  );
}
