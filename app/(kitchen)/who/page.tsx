/** Who is writing on this device: the name that the record keeps with every change, until people sign in. */
import type { Metadata } from "next";
import { Button, FormFrame, TextField } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../open-kitchen";
import { writeAs } from "./actions";

export const metadata: Metadata = { title: "Who is writing" };

export default async function Who({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const { writer } = await openKitchen();
  const nobody = "nobody" in (await searchParams) ? [{ path: "writer", code: "who", sentence: "A name is needed: the record keeps one with every change." }] : [];
  return (
    <>
      <PageTop title="Who is writing?" answer="The record keeps a name with every change. This device will use this one." />
      <form className="form" action={writeAs}>
        <FormFrame id="who" values={{}} problems={nobody}><div className="fields"><TextField name="writer" label="Your name" start={writer ?? ""} required autoComplete="name" /></div></FormFrame>
        <Button type="submit">Write under this name</Button>
      </form>
    </>
  );
}
