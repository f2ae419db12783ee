/** The address by itself: the dishes of the open kitchen; its tests for whoever sees no money. */
import { redirect } from "next/navigation";
import { anyKitchen } from "./(kitchen)/open-kitchen";

export default async function Home(): Promise<never> {
  const { may } = await anyKitchen();
  redirect(may("see money") ? "/dishes" : "/tests");
}
