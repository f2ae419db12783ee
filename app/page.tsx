/** The address by itself: the dishes of the open kitchen, or the first page while there is none. */
import { redirect } from "next/navigation";
import { connection } from "next/server";
import { openStore } from "@/lib/store";

export default async function Home(): Promise<never> {
  await connection();
  const kitchens = await (await openStore()).kitchens();
  redirect(kitchens.length === 0 ? "/start" : "/dishes");
}
