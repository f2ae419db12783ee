/** What one person records is on everybody's open page within a second, marked, and nothing moves under who is typing. */
import type { Browser, Locator, Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, signIn } from "./steps";

test.use({ installation: "live" });

const BUTTER = "/items/butter";

/** The chef in this browser, in the demo kitchen, and a second browser with the sous chef in it, who may change prices here. */
async function together(page: Page, browser: Browser, baseURL: string | undefined): Promise<Page> {
  await demoKitchen(page, "Chef");
  await comeIn(page, "Sous chef", "owner");
  await comeIn(page, "Chef");
  const other = await (await browser.newContext({ baseURL: baseURL ?? "" })).newPage();
  expect(await signIn(other, "Sous chef")).toBe(true);
  return other;
}

const priceOn = (page: Page): Locator => page.getByLabel(/^New price for/).first();

/** Records a price a little dearer than it is, and returns when it was sent and when its page had the answer. */
async function dearer(page: Page): Promise<{ readonly sent: number; readonly answered: number }> {
  const field = priceOn(page);
  await field.fill((Number(await field.inputValue()) * 1.06).toFixed(2));
  const sent = Date.now();
  await page.getByRole("button", { name: /^Record this price/ }).first().click();
  await expect(page.getByText(/Recorded as change \d+\./).first()).toBeVisible();
  const answered = Date.now();
  // A page made anew: the next one begins from the new price.
  await page.reload();
  return { sent, answered };
}

test("a change is seen by others within a second, marked; what they type stays, and so do caret and scroll @phone", async ({ page, browser, baseURL }) => {
  // Two people and what both see of each other.
  test.setTimeout(120_000);
  const other = await together(page, browser, baseURL);

  // The dishes, open at the chef's; the sous chef makes butter dear.
  await page.goto("/dishes");
  const told = page.locator(".live");
  await expect(told).toHaveCount(1);
  await other.goto(BUTTER);
  const seen = told.getByText("Sous chef changed").waitFor().then(() => Date.now());
  const { sent, answered } = await dearer(other);
  console.log(`Seen by the other ${await seen - sent} ms after the button was pressed, ${await seen - answered} ms after its page had the answer.`);
  expect(await seen - answered).toBeLessThan(1_000);
  await expect(told).toContainText(/Sous chef changed .*utter.* a moment ago \(change \d+\)/i);
  await expect(told).toContainText(/\d+ figures on this page are new, and marked\./);
  const marks = page.locator("[data-changed]");
  expect(await marks.count()).toBeGreaterThan(3);
  // Told by a word, not by colour alone.
  expect(await marks.first().evaluate((cell) => getComputedStyle(cell, "::after").content)).toBe('"new"');
  await expectNoSideways(page);
  await expectAccessible(page);
  await told.getByRole("button", { name: "Close" }).click();
  await expect(told).toBeEmpty();
  await expect(marks).toHaveCount(0);

  // The chef is typing a reason for a price of their own; the sous chef changes another one: nothing moves.
  await page.goto("/items/cream");
  const why = page.getByLabel("Why").first();
  const mine = (Number(await priceOn(page).inputValue()) * 1.03).toFixed(2);
  await priceOn(page).fill(mine);
  await why.fill("the dealer ");
  await why.press("ArrowLeft");
  await why.press("ArrowLeft");
  const place = (): Promise<unknown> => page.evaluate(() => {
    const field = document.activeElement as HTMLInputElement;
    return { field: field.name, value: field.value, at: [field.selectionStart, field.selectionEnd], scroll: Math.round(scrollY), top: Math.round(field.getBoundingClientRect().top) };
  });
  const before = await place();
  await dearer(other);
  await expect(told).toContainText("Sous chef changed");
  await expect(told).toContainText("No figure on this page moved.");
  expect(await place()).toEqual(before);
  await page.keyboard.type("X");
  await expect(why).toHaveValue("the dealeXr ");
  await expect(page.getByText("Somebody changed this while you are at it")).toHaveCount(0);

  // And then the very price: said beside the form, and asked when it is recorded.
  await other.goto("/items/cream");
  await dearer(other);
  await expect(page.getByText("Somebody changed this while you are at it")).toBeVisible();
  await expect(priceOn(page)).toHaveValue(mine);
  await page.getByRole("button", { name: /^Record this price/ }).first().click();
  await expect(page.locator(".told[role=alert]")).toContainText("Sous chef changed");
  await page.getByRole("button", { name: "Record mine over theirs" }).click();
  await expect(page.getByText(/Recorded as change \d+\./).first()).toBeVisible();
  // The page's own change is no news to it; to the other it is, and its untouched form has the new price.
  await expect(told).toBeEmpty();
  await expect(other.locator(".live")).toContainText(/Chef changed .*ream/i);
  await other.goto("/items/cream");
  await expect(priceOn(other)).toHaveValue(mine);
  await other.context().close();
});

test("a page comes back to life by itself: after a hidden hour, and after the connection was lost; signed out, it hears nothing", async ({ page, browser, baseURL }) => {
  // Two people and what both see of each other.
  test.setTimeout(120_000);
  const other = await together(page, browser, baseURL);
  await other.goto(BUTTER);
  await page.goto("/recipes");
  const told = page.locator(".live");
  const hide = (hidden: boolean): Promise<void> => page.evaluate((is) => {
    Object.defineProperty(document, "hidden", { configurable: true, get: () => is });
    document.dispatchEvent(new Event("visibilitychange"));
  }, hidden);
  await hide(true);
  await dearer(other);
  await dearer(other);
  await page.waitForTimeout(600);
  await expect(told).toBeEmpty();
  await hide(false);
  await expect(told).toContainText(/Sous chef changed .*utter.*, and one change before it/i);

  // The page has been made anew by then: cut off in the middle of that, the browser would open it whole again.
  await expect(page.locator("[data-changed]").first()).toBeVisible();
  await page.context().setOffline(true);
  await dearer(other);
  await page.context().setOffline(false);
  await expect(told).toContainText(/change \d+/);

  // Nobody is signed in here any more: nothing is heard.
  const heard = await told.getAttribute("data-heard");
  await page.context().clearCookies();
  await hide(true);
  await hide(false);
  await dearer(other);
  await page.waitForTimeout(700);
  expect(await told.getAttribute("data-heard")).toBe(heard);
  await other.context().close();
});
