/**
 * The doors, as people meet them: the first account, coming in by a link, signing in and out, a session ended from
 * elsewhere, and what each role finds open, shut, or not there at all. Every door one by one: tests/doors.
 */
import type { Browser, Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { PASSWORD, comeIn, demoKitchen, expectNoSideways, invite, joinBy, part, signIn, signInNameOf, signOut, tryIt } from "./steps";

test.use({ installation: "doors", begins: "empty" });

const heading = (page: Page) => page.getByRole("heading", { level: 1 });

/** A browser of its own for somebody who comes in by a link that the owner makes. */
async function somebody(browser: Browser, baseURL: string, owner: Page, name: string, ...[role, more]: [Parameters<typeof invite>[2], Parameters<typeof invite>[3]?]): Promise<Page> {
  const page = await (await browser.newContext({ baseURL })).newPage();
  await joinBy(page, await invite(owner, name, role, more), name);
  return page;
}

async function trySignIn(page: Page, username: string, password: string): Promise<void> {
  await page.getByLabel("Name to sign in with").fill(username);
  await page.getByLabel("Password").fill(password);
  await page.getByRole("button", { name: "Sign in" }).click();
}

test("whoever opens a new installation first owns it, and nobody after them @phone", async ({ page, browser, app }) => {
  await page.goto("/dishes");
  await expect(page).toHaveURL(/\/start$/);
  await expectAccessible(page);
  await expectNoSideways(page);
  await comeIn(page, "Chef");
  await expect(page).toHaveURL(/\/kitchens\/new$/);
  await page.goto("/start");
  await expect(page).toHaveURL(/\/kitchens$/);
  const late = await browser.newPage({ baseURL: app.url });
  await late.goto("/start");
  await expect(late).toHaveURL(/\/sign-in$/);
  await late.close();
  await demoKitchen(page);
});

test("a link lets one person in, once; signing out shuts the book @phone", async ({ page, browser, app, isMobile }) => {
  await demoKitchen(page);
  const name = isMobile ? "Pia Phone" : "Dora Desk";
  const link = await invite(page, name, "chef");
  await expect(page.getByRole("region", { name: "Links not used yet" })).toContainText(`${name}, as chef; made by Chef`);
  const guest = await browser.newPage({ baseURL: app.url });
  await guest.goto(link);
  await expect(heading(guest)).toContainText("Come into");
  await expect(guest.getByLabel("Your name")).toHaveValue(name);
  await expectNoSideways(guest);
  await joinBy(guest, link, name);
  await guest.goto("/dishes/new");
  await expect(heading(guest)).toHaveText("Add a dish");

  const second = await browser.newPage({ baseURL: app.url });
  await second.goto(link);
  await expect(heading(second)).toHaveText("This link is used up");
  await second.close();
  await page.goto("/people");
  await expect(page.locator(".person").filter({ hasText: name })).toContainText("chef");
  await expect(page.getByRole("table")).toContainText("joined");

  await signOut(guest);
  await guest.goBack();
  await guest.goto("/dishes");
  await expect(guest).toHaveURL(/\/sign-in\?to=%2Fdishes$/);
  await guest.close();
});

test("a withdrawn link opens nothing", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const link = await invite(page, "Never came", "cook");
  await page.getByRole("button", { name: "Withdraw the link for Never came" }).click();
  await expect(page.getByRole("button", { name: "Withdraw the link for Never came" })).toHaveCount(0);
  const guest = await browser.newPage({ baseURL: app.url });
  await guest.goto(link);
  await expect(heading(guest)).toHaveText("This link is used up");
  await guest.close();
});

test("a wrong password is told as one sentence, and too many tries are slowed down", async ({ page }) => {
  await demoKitchen(page);
  await signOut(page);
  await page.goto("/sign-in");
  await trySignIn(page, "chef", "not my password at all");
  await expect(page.getByRole("alert").filter({ hasText: "That name and password do not go together." })).toBeVisible();
  await expect(page.getByLabel("Name to sign in with")).toHaveValue("chef");
  await expect(page).toHaveURL(/\/sign-in$/);
  for (let tries = 0; tries < 6; tries += 1) {
    await trySignIn(page, "nobody.of.this.name", `guess number ${tries}`);
    await expect(page.getByRole("button", { name: "Sign in" })).toBeEnabled();
    await expect(page.getByRole("alert").filter({ hasText: /do not go together|too many tries/ })).toBeVisible();
    if (await page.getByRole("alert").filter({ hasText: "too many tries" }).count() > 0) break;
  }
  await expect(page.getByRole("alert").filter({ hasText: /There have been too many tries\. Try again in \d+ seconds?\./ })).toBeVisible();
  // Somebody else's tries keep nobody out.
  expect(await signIn(page, "Chef")).toBe(true);
});

test("without a script a wrong password is told too: the name comes back, the password does not", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const context = await browser.newContext({ baseURL: app.url, javaScriptEnabled: false });
  const plain = await context.newPage();
  await plain.goto("/sign-in?to=/items");
  await trySignIn(plain, "chef", "not my password at all");
  await expect(plain.getByRole("alert").filter({ hasText: "do not go together" })).toBeVisible();
  await expect(plain.getByLabel("Name to sign in with")).toHaveValue("chef");
  await expect(plain.getByLabel("Password")).toHaveValue("");
  expect(await plain.content()).not.toContain("not my password at all");
  await trySignIn(plain, "chef", PASSWORD);
  await expect(plain).toHaveURL(`${app.url}/items`);
  await context.close();
});

test("signing in goes on to where one wanted to go, and nowhere else", async ({ page, app }) => {
  await demoKitchen(page);
  await signOut(page);
  await page.goto("/items?find=butter");
  await expect(page).toHaveURL(/\/sign-in\?to=/);
  await trySignIn(page, "chef", PASSWORD);
  await expect(page).toHaveURL(`${app.url}/items?find=butter`);
  for (const to of ["//elsewhere.example/", "/\\elsewhere.example", "https://elsewhere.example/", "/%09/elsewhere.example", "javascript:alert(1)", "/\t/elsewhere.example"]) {
    await test.step(to, async () => {
      await signOut(page);
      await page.goto(`/sign-in?to=${encodeURIComponent(to)}`);
      await trySignIn(page, "chef", PASSWORD);
      await expect(heading(page)).not.toHaveText("Sign in");
      expect(new URL(page.url()).origin).toBe(app.url);
      // Who is in already is sent on by the same rule.
      await page.goto(`/sign-in?to=${encodeURIComponent(to)}`);
      expect(new URL(page.url()).origin).toBe(app.url);
    });
  }
});

test("a device that is signed out from elsewhere is out at the next click", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const tablet = await browser.newPage({ baseURL: app.url, userAgent: "The tablet at the block" });
  expect(await signIn(tablet, "Chef")).toBe(true);
  await tablet.goto("/dishes");
  await page.goto("/account");
  await page.locator("li").filter({ hasText: "The tablet at the block" }).getByRole("button", { name: "Sign that device out" }).click();
  await expect(page.getByText("The tablet at the block")).toHaveCount(0);
  await tablet.getByRole("link", { name: "Items", exact: true }).first().click();
  await expect(tablet).toHaveURL(/\/sign-in/);
  await tablet.close();
});

test("a cook without money: no price anywhere, and a whole test whose prices the house fills in", async ({ page, browser, app }) => {
  test.setTimeout(240_000);
  await demoKitchen(page);
  const cook = await somebody(browser, app.url, page, "Block cook", "cook");
  // Everything that comes over the wire: pages, what the router fetches ahead, answers of actions.
  const told: string[] = [];
  const reading: Promise<void>[] = [];
  cook.on("response", (response) => {
    if (!/text\/(html|x-component)/.test(response.headers()["content-type"] ?? "")) return;
    reading.push(response.text().then((text) => { told.push(`${response.url()}\n${text}`); }, () => undefined));
  });
  await cook.goto("/");
  await expect(heading(cook)).toHaveText("Tests");
  for (const gone of ["Dishes", "Items", "Recipes", "Cuts", "People"]) await expect(cook.locator(".index").getByRole("link", { name: gone, exact: true })).toHaveCount(0);
  await expectAccessible(cook);
  await cook.getByRole("link", { name: "Tue 13 Oct 2026" }).first().click();
  await expect(cook.locator(".say").first()).toContainText("% usable");
  expect(await cook.locator("body").innerText()).not.toContain("$");

  await cook.goto("/tests/new?kind=butcher");
  await cook.getByLabel("Made from").selectOption({ label: "Beef striploin, boneless" });
  await expect(cook.getByLabel(/price/i)).toHaveCount(0);
  await expect(cook.getByLabel(/worth/i)).toHaveCount(0);
  await cook.getByLabel("Billed weight").fill("13 lb 8 oz");
  for (const [number, weight] of ["8.6875 lb", "1 lb 10 oz", "2 lb 2 oz", "10 oz", "4 oz"].entries()) await part(cook, number + 1).getByLabel("Weight").fill(weight);
  const ripple = await tryIt(cook);
  await expect(ripple).toContainText("64.4 % usable");
  await cook.getByRole("button", { name: "Record this test" }).click();
  await expect(cook).toHaveURL(/\/tests\/(?!new)/);
  await expect(cook.locator(".say").first()).toContainText("64.4 % usable, 1.4 % lost");
  const recorded = new URL(cook.url()).pathname;
  for (const at of ["/glossary", "/account", "/tests/new?kind=cooking", `${recorded}/edit`]) {
    expect((await cook.goto(at))?.status(), at).toBe(200);
    expect(await cook.locator("body").innerText(), at).not.toContain("$");
  }
  await Promise.all(reading);
  expect(told.length).toBeGreaterThan(5);
  // 10.85 is the dealer's price today, 5.35 what the lean trim is worth; a $ before a figure is a price.
  expect(told.filter((text) => /\$\s?\d+[.,]\d|10\.85|15\.86|\b5\.35\b/.test(text)).map((text) => text.split("\n")[0])).toEqual([]);

  await test.step("what is shut says so, with a way back", async () => {
    for (const at of ["/dishes", "/items", "/recipes", "/cuts", "/record", "/people", "/dishes/strip-steak", "/figure/dish/strip-steak"]) expect((await cook.goto(at))?.status(), at).toBe(403);
    await expect(heading(cook)).toHaveText("This page is not yours to open");
    await expectAccessible(cook);
    await cook.getByRole("link", { name: "Back to the book" }).click();
    await expect(heading(cook)).toHaveText("Tests");
  });

  await test.step("the owner sees the prices in it", async () => {
    await page.goto(recorded);
    const form = page.getByRole("table").first();
    await expect(form).toContainText("10.85");
    await expect(form).toContainText("137.78");
    await expect(page.locator(".say").first()).toContainText("$15.86 a pound of usable weight");
    await expect(page.getByText(/^Recorded by Block cook/)).toBeVisible();
  });
  await cook.context().close();
});

test("a cook who is allowed money sees the dishes, and still only records tests", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const cook = await somebody(browser, app.url, page, "Trusted cook", "cook", { seesMoney: true });
  await cook.goto("/dishes");
  await expect(heading(cook)).toHaveText("Dishes");
  await expect(cook.locator("main")).toContainText("$");
  await expect(cook.getByRole("link", { name: "Add a dish" })).toHaveCount(0);
  expect((await cook.goto("/dishes/new"))?.status()).toBe(403);
  await cook.goto("/tests/new?kind=butcher&item=beef-striploin");
  await expect(cook.getByLabel("Dealer’s price a pound that day")).toHaveValue("10.85");
  await expect(cook.getByLabel("Adopt for")).toHaveCount(0);
  await cook.context().close();
});

test("a reader sees all and may try a price, but has nothing to record it with @phone", async ({ page, browser, app, isMobile }) => {
  await demoKitchen(page);
  const reader = await somebody(browser, app.url, page, isMobile ? "Small reader" : "Large reader", "reader");
  await reader.goto("/items/beef-striploin");
  const form = reader.locator("form", { has: reader.getByLabel("New price for a pound") });
  await expect(form.getByRole("button", { name: /^Record/ })).toHaveCount(0);
  await form.getByLabel("New price for a pound").fill("14.60");
  await expect((await tryIt(form)).locator(".say")).toContainText(/cross(es)? over target/);
  await expect(form.getByRole("button", { name: /^Record/ })).toHaveCount(0);
  await expectAccessible(reader);
  await expectNoSideways(reader);
  for (const at of ["/tests/new", "/dishes/new", "/items/new", "/recipes/new", "/people"]) expect((await reader.goto(at))?.status(), at).toBe(403);
  await reader.context().close();
});

test("a sous chef changes cuts and recipes, not dishes; what the owner changes holds at the next click", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const sous = await somebody(browser, app.url, page, "Second in line", "sous chef");
  expect((await sous.goto("/recipes/new"))?.status()).toBe(200);
  expect((await sous.goto("/dishes/new"))?.status()).toBe(403);
  await expect(heading(sous)).toHaveText("This page is not yours to open");
  await sous.goto("/cuts");

  await page.goto("/people");
  const row = page.locator(".person").filter({ hasText: "Second in line" });
  await row.locator("summary").click();
  await row.getByLabel("May do").selectOption("cook");
  await row.getByRole("button", { name: "Change what Second in line may do" }).click();
  await expect(page.getByRole("table")).toContainText("sous chef → cook, sees no money");
  await sous.getByRole("link", { name: "Dishes", exact: true }).first().click();
  await expect(heading(sous)).toHaveText("This page is not yours to open");

  await page.goto("/people");
  await row.locator("summary").click();
  await row.getByRole("button", { name: "Take Second in line out of this kitchen" }).click();
  await expect(row).toHaveCount(0);
  await sous.goto("/tests");
  await expect(sous).toHaveURL(/\/kitchens$/);
  await expect(sous.locator("main")).toContainText("You belong to no kitchen yet.");
  await sous.context().close();
});

test("a lost password is replaced by a link from the owner", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const guest = await somebody(browser, app.url, page, "Forgetful", "reader");
  await page.goto("/people");
  const row = page.locator(".person").filter({ hasText: "Forgetful" });
  await row.locator("summary").click();
  await row.getByRole("button", { name: "Link to a new password for Forgetful" }).click();
  const link = await row.locator(".handover").textContent() ?? "";
  await guest.goto(link);
  await guest.getByLabel("New password").fill("a case of carrots");
  await guest.getByRole("button", { name: "Set this password" }).click();
  await expect(heading(guest)).toHaveText("Dishes");
  await signOut(guest);
  expect(await signIn(guest, "Forgetful")).toBe(false);
  await trySignIn(guest, signInNameOf("Forgetful"), "a case of carrots");
  await expect(heading(guest)).toHaveText("Dishes");
  await guest.goto(link);
  await expect(heading(guest)).toHaveText("This link is used up");
  await guest.context().close();
});
