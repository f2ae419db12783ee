/** The forms that decide which tests a cut stands on: ticking them, and taking a recorded adoption back. */
"use client";
import "@/components/yield-test/yield-test.css";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type PoolChoice, PoolFields } from "./PoolFields";

type Sent = Pick<ChangeFormProps, "action" | "basedOn" | "hidden">;

export function PoolForm({ tests, ...form }: Sent & { readonly tests: readonly PoolChoice[] }) {
  return (
    <ChangeForm {...form} deed="change tests and cuts" recordLabel="Stand on these tests" tryLabel="See what moves" id="pool">
      <PoolFields tests={tests} />
    </ChangeForm>
  );
}

export function TakeBackForm({ id = "take-back", ...form }: Sent & Pick<ChangeFormProps, "id">) {
  return <ChangeForm {...form} deed="change tests and cuts" recordLabel="Take it back" tryLabel="See what moves" id={id}><></></ChangeForm>;
}
