/** Ways into the app for a Visitor: the first steps of a new installation, and signing in. */
import { Visitor, type VisitorOptions } from "./client";

export const OWNER = { name: "Chef", username: "chef", password: "salt, fat, acid and heat" } as const;

/** Makes the owner of a new installation and opens the demo kitchen: a visitor who is in. */
export async function openDemo(origin: string, person: Readonly<Record<keyof typeof OWNER, string>> = OWNER, options: VisitorOptions = {}): Promise<Visitor> {
  const owner = new Visitor(origin, options);
  await owner.act("/start", person);
  const opened = await owner.act("/kitchens/new", {}, { button: "Open the demo kitchen" });
  if (opened.status !== 200 || opened.path !== "/dishes") throw new Error(`expected the demo kitchen to open: ${opened.steps.join(", ")}\n${opened.text.slice(0, 600)}`);
  return owner;
}

/** Signs in with a name and a password. */
export async function signIn(origin: string, { username, password }: { readonly username: string; readonly password: string } = OWNER, options: VisitorOptions = {}): Promise<Visitor> {
  const visitor = new Visitor(origin, options);
  const page = await visitor.act("/sign-in", { username, password });
  if (page.path.startsWith("/sign-in")) throw new Error(`expected to be let in: ${page.text.slice(0, 600)}`);
  return visitor;
}
