/** The forms that take a borrowed yield up for a cut, and give it back. */
"use client";
import "@/components/yield-test/yield-test.css";
import { ChangeForm, type ChangeFormProps } from "@/components/change/ChangeForm";
import { type BorrowChoice, BorrowFields } from "./BorrowFields";

type Sent = Pick<ChangeFormProps, "action" | "basedOn" | "hidden">;

export function BorrowForm({ choices, ...form }: Sent & { readonly choices: readonly BorrowChoice[] }) {
  return (
    <ChangeForm {...form} deed="change tests and cuts" recordLabel="Borrow this yield" tryLabel="See what moves" id="borrow">
      <BorrowFields choices={choices} none={null} />
    </ChangeForm>
  );
}

export function GiveBackForm(form: Sent) {
  return <ChangeForm {...form} deed="change tests and cuts" recordLabel="Give it back" tryLabel="See what moves" id="give-back"><></></ChangeForm>;
}
