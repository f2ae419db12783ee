/** Removing a photo, and putting it back: both by whoever may record tests, both on the page they are on. */
"use server";
import { refresh } from "next/cache";
import { openKitchen } from "../(kitchen)/open-kitchen";
import { readPlainForm } from "../read-plain-form";

export async function removePhoto(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("record a test");
  await store.removePhoto(kitchenId, readPlainForm(formData).text("photo"), visitor);
  refresh();
}

export async function putBackPhoto(formData: FormData): Promise<void> {
  const { store, kitchenId } = await openKitchen("record a test");
  await store.putBackPhoto(kitchenId, readPlainForm(formData).text("photo"));
  refresh();
}
