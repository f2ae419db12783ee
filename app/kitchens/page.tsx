/** The kitchens somebody belongs to: which one to open on this device. */
import type { Metadata } from "next";
import { openAccess } from "@/lib/access";
import { openStore } from "@/lib/store";
import { Button, ButtonLink } from "@/components/form";
import { SignOut } from "@/components/people/SignOut";
import { PageTop } from "@/components/sheet/PageTop";
import { needVisitor } from "../visit";
import { goTo, signOut } from "./actions";

export const metadata: Metadata = { title: "Kitchens" };

export default async function Kitchens() {
  const visitor = await needVisitor();
  const access = await openAccess();
  const [mine, all, mayOpen] = await Promise.all([access.kitchensOf(visitor.personId), (await openStore()).kitchens(), access.mayOpenKitchens(visitor.personId)]);
  const named = mine.flatMap((one) => {
    const kitchen = all.find(({ id }) => id === one.kitchenId);
    return kitchen === undefined ? [] : [{ ...one, kitchen }];
  });
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="Kitchens" of={`Signed in as ${visitor.name}`}
        answer={named.length === 0 ? "You belong to no kitchen yet. Ask the owner of yours for an invitation." : named.length === 1 ? "You belong to one kitchen." : `You belong to ${named.length} kitchens. Each keeps its own book.`}>
        {mayOpen && <ButtonLink href="/kitchens/new" plain>Open another kitchen</ButtonLink>}
        <SignOut action={signOut} />
      </PageTop>
      <ul className="plain-list">
        {named.map(({ kitchen, role }) => (
          <li key={kitchen.id}>
            <form action={goTo}>
              <input type="hidden" name="kitchen" value={kitchen.id} />
              <Button type="submit" plain>{kitchen.name}</Button> <span className="quiet">{kitchen.place !== "" && `${kitchen.place} · `}as {role}</span>
            </form>
          </li>
        ))}
      </ul>
    </main>
  );
}
