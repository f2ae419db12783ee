/** What a plain form sent (components/form/PlainForm): its texts, and what goes back to the screen, passwords never. */
import type { PlainState } from "@/components/form/plain-state";
import type { Problem } from "@/lib/measure";

export interface PlainForm {
  /** One field's text as typed; "" when it was not sent. */
  readonly text: (name: string) => string;
  readonly values: Readonly<Record<string, string>>;
  readonly refused: (problems: readonly Problem[]) => PlainState;
  readonly done: (told: string, link?: string) => PlainState;
}

/** Told by an action that needs somebody signed in. */
export const SIGNED_OUT: Problem = { path: "", code: "signed-out", sentence: "You are not signed in any more. Sign in, then try again." };

/** What a database takes for no text: NUL, and halves of a pair. */
const NO_TEXT = /[\0\p{Cs}]/gu;

const SECRET = /password|^now$|^next$/i;

export function readPlainForm(sent: FormData): PlainForm {
  // Anybody can call an action with anything: what is no form is one without fields.
  const formData: FormData = (sent as unknown) instanceof FormData ? sent : new FormData();
  const typed: Record<string, string> = Object.create(null) as Record<string, string>;
  for (const [name, value] of formData.entries()) if (typeof value === "string" && !name.startsWith("$")) typed[name] = value.replace(NO_TEXT, "");
  const values = Object.fromEntries(Object.entries(typed).filter(([name]) => !SECRET.test(name)));
  return {
    text: (name) => typed[name] ?? "",
    values,
    refused: (problems) => ({ problems, values, told: null, link: null }),
    done: (told, link) => ({ problems: [], values: {}, told, link: link ?? null }),
  };
}
