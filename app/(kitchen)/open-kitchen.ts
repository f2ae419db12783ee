/**
 * Which kitchen this browser has open, and who is writing in it. One kitchen is open at a time: the one named by the
 * cookie, else the first. Until people sign in, the writer is a plain name kept in a cookie. Server only; asked once a
 * request however many components ask.
 */
import { cookies } from "next/headers";
import { redirect } from "next/navigation";
import { cache } from "react";
import { type FactOf, kitchenOf } from "@/lib/book";
import { type LiveBook, type Store, openStore } from "@/lib/store";

export const KITCHEN_COOKIE = "kitchen";
export const WRITER_COOKIE = "writer";
/** A year: a kitchen's tablet should not forget. */
export const COOKIE_LIFE = { maxAge: 365 * 24 * 60 * 60, path: "/", httpOnly: true, sameSite: "lax" } as const;

export interface OpenKitchen {
  readonly store: Store;
  readonly kitchenId: string;
  /** Its settings; they serve as habits for reading and printing. */
  readonly kitchen: FactOf["kitchen"];
  readonly live: LiveBook;
  /** The name that changes are recorded under; null while nobody has said. */
  readonly writer: string | null;
}

/** The open kitchen with its newest book. Sends the browser to the first page while there is no kitchen. */
export const openKitchen = cache(async (): Promise<OpenKitchen> => {
  const jar = await cookies();
  const store = await openStore();
  const kitchens = await store.kitchens();
  const wanted = jar.get(KITCHEN_COOKIE)?.value;
  const found = kitchens.find((kitchen) => kitchen.id === wanted) ?? kitchens[0];
  if (!found) redirect("/start");
  const live = await store.live(found.id);
  return { store, kitchenId: found.id, kitchen: kitchenOf(live.book), live, writer: readWriter(jar.get(WRITER_COOKIE)?.value) };
});

/** A writer's name as kept in the cookie; null when there is none worth the name. */
export function readWriter(value: string | undefined): string | null {
  const name = value?.trim().slice(0, 120) ?? "";
  return name === "" ? null : name;
}
