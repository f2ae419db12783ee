/** Steps that several stories take: opening the demo kitchen, trying and recording a change, filling a part of a test. */
import type { Locator, Page } from "@playwright/test";
import { expect } from "./app";

/** Opens the demo kitchen, unless this installation has it open already. */
export async function demoKitchen(page: Page, writer = "Chef"): Promise<void> {
  await page.goto("/");
  if (page.url().endsWith("/start")) {
    await page.getByRole("region", { name: "Look around in a demo kitchen" }).getByLabel("Who is writing?").fill(writer);
    await page.getByRole("button", { name: "Open the demo kitchen" }).click();
  }
  await expect(page.getByRole("heading", { level: 1, name: "Dishes" })).toBeVisible();
  await page.goto("/who");
  await page.getByLabel("Your name").fill(writer);
  await page.getByRole("button", { name: "Write under this name" }).click();
  await expect(page).toHaveURL(/\/dishes$/);
}

export async function emptyKitchen(page: Page, name: string, writer = "Chef"): Promise<void> {
  await page.goto("/start");
  const form = page.getByRole("region", { name: "Begin with an empty kitchen" });
  await form.getByLabel("Name of the kitchen").fill(name);
  await form.getByLabel("Who is writing?").fill(writer);
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

/** The page is no wider than the screen. */
export async function expectNoSideways(page: Page): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBeLessThanOrEqual(0);
}
