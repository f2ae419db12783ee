/** Steps that several stories take: opening the demo kitchen, trying and recording a change, filling a part of a test. */
import type { Browser, Locator, Page } from "@playwright/test";
import { expect } from "./app";

export const PASSWORD = "nine pounds of lamb loin";

/** What somebody signs in with here: "Sous chef" is "sous.chef". */
export const signInNameOf = (name: string): string => name.toLowerCase().replace(/\W+/g, ".");

/** Who made the first account of each installation: the owner, who can invite the others. */
const founders = new Map<string, string>();

/** Signs in as somebody of this name, who gets an account if there is none yet: the first of the installation, or by invitation. */
export async function comeIn(page: Page, name: string, role: Role = "owner"): Promise<void> {
  await page.goto("/");
  const { origin } = new URL(page.url());
  if (page.url().endsWith("/start")) {
    await fillPerson(page, name);
    await page.getByRole("button", { name: "Make the account" }).click();
    await expect(page).toHaveURL(/\/kitchens\/new$/);
    founders.set(origin, name);
    return;
  }
  if (!page.url().includes("/sign-in")) {
    await page.goto("/kitchens");
    if (await page.locator(".of").first().textContent() === `Signed in as ${name}`) return;
    await signOut(page);
  }
  const founder = founders.get(origin) ?? "Chef";
  if (await signIn(page, name)) return;
  expect(await signIn(page, founder)).toBe(true);
  const link = await invite(page, name, role);
  await signOut(page);
  await joinBy(page, link, name);
}

/** Comes in by a link, with a new account. */
export async function joinBy(page: Page, link: string, name: string): Promise<void> {
  await page.goto(link);
  await fillPerson(page, name);
  await page.getByRole("button", { name: "Make the account and come in" }).click();
  await expect(page.locator(".index .who").first()).toContainText(name);
}

export type Role = "owner" | "chef" | "sous chef" | "cook" | "reader";

export async function fillPerson(page: Page, name: string): Promise<void> {
  await page.getByLabel("Your name").fill(name);
  await page.getByLabel("Name to sign in with").fill(signInNameOf(name));
  await page.getByLabel("Password").fill(PASSWORD);
}

/** Whether somebody of this name came in. */
export async function signIn(page: Page, name: string): Promise<boolean> {
  await page.goto("/sign-in");
  await page.getByLabel("Name to sign in with").fill(signInNameOf(name));
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Sign in" }).click();
  const told = page.getByRole("alert").filter({ hasText: "do not go together" });
  await expect(told.or(page.locator(".index, a[href='/kitchens/new'], #demo")).first()).toBeVisible();
  return await told.count() === 0;
}

export async function signOut(page: Page): Promise<void> {
  await page.goto("/kitchens");
  await page.getByRole("button", { name: "Sign out" }).click();
  await expect(page).toHaveURL(/\/sign-in/);
}

/** Makes a link for somebody, as the owner who is signed in. */
export async function invite(page: Page, name: string, role: Role, { seesMoney = false }: { readonly seesMoney?: boolean } = {}): Promise<string> {
  await page.goto("/people");
  await page.getByLabel("Whom it is for").fill(name);
  await page.getByLabel("May do").first().selectOption(role);
  if (seesMoney) await page.getByLabel("Sees prices and costs too").first().check();
  await page.getByRole("button", { name: "Make a link" }).click();
  const link = await page.locator(".handover").textContent();
  if (link === null) throw new Error("expected a link to hand over");
  return link;
}

/** Opens the demo kitchen as somebody of this name, unless this installation has it open already. Ends on its first page. */
export async function demoKitchen(page: Page, name = "Chef", role: Role = "owner"): Promise<void> {
  await comeIn(page, name, role);
  await page.goto("/");
  if (page.url().endsWith("/kitchens")) {
    await page.goto("/kitchens/new");
    await page.getByRole("button", { name: "Open the demo kitchen" }).click();
  }
  await expect(page.getByRole("heading", { level: 1, name: role === "cook" ? "Tests" : "Dishes" })).toBeVisible();
}

/** Somebody in the demo kitchen whose browser runs no scripts: signing in works without them too. The context is the caller's to close. */
export async function withoutScripts(browser: Browser, baseURL: string, name: string): Promise<Page> {
  const context = await browser.newContext({ baseURL, javaScriptEnabled: false });
  const page = await context.newPage();
  expect(await signIn(page, name)).toBe(true);
  return page;
}

/** Opens an empty kitchen as the first person of the installation. */
export async function emptyKitchen(page: Page, name: string, owner = "Chef"): Promise<void> {
  await comeIn(page, owner);
  await page.goto("/kitchens/new");
  const form = page.getByRole("region", { name: "Begin with an empty kitchen" });
  await form.getByLabel("Name of the kitchen").fill(name);
  await form.getByRole("button", { name: "Open an empty kitchen" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Dishes" })).toBeVisible();
}

/** Presses the form's try button and waits for what the change would do. */
export async function tryIt(scope: Page | Locator, name: string | RegExp = "Try it"): Promise<Locator> {
  await scope.getByRole("button", { name }).first().click();
  const ripple = scope.getByRole("region", { name: "What this change would do" });
  await expect(ripple).toBeVisible();
  return ripple;
}

export function part(page: Page, number: number): Locator {
  return page.getByRole("group", { name: `part ${number}`, exact: true });
}

export function line(page: Page, number: number): Locator {
  return page.getByRole("group", { name: `line ${number}`, exact: true });
}

/** The one field of a line of a recipe or dish: "2 1/4 cup heavy cream". */
export function lineField(page: Page, number: number): Locator {
  return line(page, number).getByRole("combobox", { name: "How much of what" });
}

/** The page is no wider than the screen. */
export async function expectNoSideways(page: Page): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBeLessThanOrEqual(0);
}

/** Records a price that is asked about first, a jump or the like, as somebody who is sure of it. */
export async function recordSurely(scope: Page | Locator): Promise<void> {
  await scope.getByRole("button", { name: "Record this price" }).click();
  await scope.getByRole("button", { name: "It is right: record it" }).click();
}
