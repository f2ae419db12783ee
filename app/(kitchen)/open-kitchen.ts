/**
 * Which kitchen this browser has open, who is in it, and what they may do there. Every page of a kitchen begins here
 * with the deed it is for; the action behind a form asks the same way (change-flow/run-change.ts). One kitchen is open
 * at a time: the one named by the cookie if they belong to it, else the first they belong to. Server only.
 */
import { cookies } from "next/headers";
import { forbidden, redirect } from "next/navigation";
import { cache } from "react";
import { type Deed, type Standing, type Visitor, may, openAccess } from "@/lib/access";
import { type FactOf, kitchenOf } from "@/lib/book";
import { type LiveBook, type Store, openStore } from "@/lib/store";
import { needVisitor, readVisitor } from "../visit";

export const KITCHEN_COOKIE = "kitchen";
/** A year: a kitchen's tablet should not forget. Which kitchen is open is no secret and no right. */
export const KITCHEN_COOKIE_LIFE = { maxAge: 365 * 24 * 60 * 60, path: "/", httpOnly: true, sameSite: "lax" } as const;

export interface OpenKitchen {
  readonly store: Store;
  readonly kitchenId: string;
  /** Its settings; they serve as habits for reading and printing. */
  readonly kitchen: FactOf["kitchen"];
  readonly live: LiveBook;
  readonly visitor: Visitor;
  readonly standing: Standing;
  /** Whether the visitor may do something here, by its name. */
  readonly may: (deed: Deed) => boolean;
}

/** The visitor's open kitchen with its newest book; null when they belong to none. */
const findKitchen = cache(async (visitor: Visitor): Promise<OpenKitchen | null> => {
  const [access, store, jar] = await Promise.all([openAccess(), openStore(), cookies()]);
  const mine = await access.kitchensOf(visitor.personId);
  const wanted = jar.get(KITCHEN_COOKIE)?.value;
  const found = mine.find(({ kitchenId }) => kitchenId === wanted) ?? mine[0];
  if (found === undefined) return null;
  const { kitchenId, role, seesMoney } = found;
  const live = await store.live(kitchenId);
  const standing: Standing = { role, seesMoney };
  return { store, kitchenId, kitchen: kitchenOf(live.book), live, visitor, standing, may: (deed) => may(standing, deed) };
});

/**
 * For a page: the open kitchen, for somebody who may do `deed` there. Sends whoever is not signed in to do that first,
 * whoever has no kitchen to their kitchens, and shows the others that it is not theirs to do (403).
 */
export async function openKitchen(deed: Deed): Promise<OpenKitchen> {
  const open = await anyKitchen();
  if (!open.may(deed)) forbidden();
  return open;
}

/** The open kitchen for what everybody in it may see: the frame around its pages. */
export async function anyKitchen(): Promise<OpenKitchen> {
  const open = await findKitchen(await needVisitor());
  if (open === null) redirect("/kitchens");
  return open;
}

/** For an action: null where nobody is signed in or they belong to no kitchen (any more). */
export async function kitchenOfCaller(): Promise<OpenKitchen | null> {
  const visitor = await readVisitor();
  return visitor === null ? null : findKitchen(visitor);
}
