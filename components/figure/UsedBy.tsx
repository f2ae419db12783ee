/** What rests on a thing: links to the cuts, portions, recipes and dishes that use it. */
import Link from "next/link";
import type { BorrowedCut, NodeRef, User } from "@/lib/cascade";
import { BorrowedWord } from "./Borrowed";

const PLACES: Readonly<Record<NodeRef["kind"], string>> = { item: "/items", cut: "/cuts", spec: "/specs", recipe: "/recipes", dish: "/dishes" };
const WORDS: Readonly<Record<NodeRef["kind"], string>> = { item: "Items", cut: "Cuts", spec: "Portions", recipe: "Recipes", dish: "Dishes" };

/** `borrowed`: the cuts on borrowed yields that a user rests on, where that is to be told. */
export function UsedBy({ users, nothing, borrowed }: { readonly users: readonly User[]; readonly nothing: string; readonly borrowed?: (of: NodeRef) => readonly BorrowedCut[] }) {
  if (users.length === 0) return <p className="quiet">{nothing}</p>;
  const kinds = [...new Set(users.map((user) => user.ref.kind))];
  return (
    <ul>
      {kinds.map((kind) => (
        <li key={kind}>
          {WORDS[kind]}: {users.filter((user) => user.ref.kind === kind).map((user, index) => (
            <span key={user.ref.id}>{index > 0 && ", "}<Link href={`${PLACES[kind]}/${encodeURIComponent(user.ref.id)}`}>{user.name}</Link>{borrowed !== undefined && <BorrowedWord borrowed={borrowed(user.ref)} />}</span>
          ))}
        </li>
      ))}
    </ul>
  );
}
