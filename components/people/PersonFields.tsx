/** What an account is made of: the name in the record, the name to sign in with, a password. */
import { TextField } from "@/components/form/TextField";

export function PersonFields({ name = "" }: { readonly name?: string }) {
  return (
    <div className="fields">
      <TextField name="name" label="Your name" start={name} hint="As the record should tell it" required autoComplete="name" />
      <TextField name="username" label="Name to sign in with" hint="Short, without spaces: jo.miller" required autoComplete="username" />
      <TextField name="password" label="Password" hint="At least 10 characters; a few words in a row do well" required secret autoComplete="new-password" />
    </div>
  );
}
