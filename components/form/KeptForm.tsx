/**
 * A form whose text stays. With a script it is sent from here, because a form that React
 * sends by itself is emptied afterwards, and nothing typed may be lost; without one it posts to the same action.
 */
"use client";
import { type FormEvent, type ReactNode, startTransition } from "react";

export function KeptForm({ action, children }: { readonly action: (formData: FormData) => void; readonly children: ReactNode }) {
  const onSubmit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const formData = new FormData(event.currentTarget);
    startTransition(() => action(formData));
  };
  return <form className="form" action={action} onSubmit={onSubmit} noValidate>{children}</form>;
}
