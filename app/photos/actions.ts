/** Removing a photo, and putting it back: both by whoever may record tests, both on the page they are on. */
"use server";
import { refresh } from "next/cache";
import { openKitchen } from "../(kitchen)/open-kitchen";

export async function removePhoto(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("record a test");
  await store.removePhoto(kitchenId, photoIn(formData), { name: visitor.name, personId: visitor.personId });
  refresh();
}

export async function putBackPhoto(formData: FormData): Promise<void> {
  const { store, kitchenId } = await openKitchen("record a test");
  await store.putBackPhoto(kitchenId, photoIn(formData));
  refresh();
}

function photoIn(formData: FormData): string {
  const id = formData.get("photo");
  return typeof id === "string" ? id : "";
}
