/**
 * The first day with a new installation: how to begin, the demo kitchen's dishes, one dish, its figures opened down to
 * the dealer's quote and the readings of the scale, the same figure on another day, the record, the words. Figures are
 * not named here: what one page prints, the next must print too. Every page on the way is looked at by axe, and is no
 * wider than its screen.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways } from "./steps";

test.use({ installation: "first-day", begins: "empty" });

const WRITER = "Ana Orsini";
const DISH = "Strip steak, fries, herb butter";

/** What the browser complains about on the way: a script that fails, a resource that is not there, a page put together twice. */
function listen(page: Page): string[] {
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => { if (message.type() === "error") complaints.push(message.text()); });
  return complaints;
}

async function expectGoodPage(page: Page): Promise<void> {
  await expectAccessible(page);
  await expectNoSideways(page);
}

const heading = (page: Page) => page.getByRole("heading", { level: 1 });
const answer = (page: Page) => page.locator(".say").first();

/** Opens a step of the ledger on this page, by the name of what it takes its cost from. */
async function open(page: Page, name: string): Promise<void> {
  await page.getByRole("table").first().getByRole("link", { name, exact: true }).click();
  await expect(heading(page)).toContainText(name);
  await expect(heading(page)).toContainText("costs");
  await expectGoodPage(page);
}

test("a new installation asks how to begin; what is not right is said, and nothing typed is lost @phone", async ({ page }) => {
  await page.goto("/");
  test.skip(!page.url().endsWith("/start"), "this installation has its kitchen already");
  await expectGoodPage(page);
  const first = page.getByRole("region", { name: "First, an account for the owner" });
  await first.getByLabel("Your name").fill(WRITER);
  await first.getByLabel("Name to sign in with").fill("ana orsini");
  await first.getByLabel("Password").fill("short");
  await first.getByRole("button", { name: "Make the account" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "use at least 10" })).toContainText("A name to sign in with is made of letters and digits");
  await expect(first.getByLabel("Your name")).toHaveValue(WRITER);
  await expect(first.getByLabel("Name to sign in with")).toHaveValue("ana orsini");
  await expectGoodPage(page);
  // Nobody has an account yet, so there is nothing to sign in to.
  await page.goto("/sign-in");
  await expect(page).toHaveURL(/\/start$/);
  await comeIn(page, WRITER);
  await expectGoodPage(page);

  const empty = page.getByRole("region", { name: "Begin with an empty kitchen" });
  await empty.getByLabel("Name of the kitchen").fill("Dockside");
  await empty.getByLabel("Place").fill("By the river");
  await empty.getByLabel("Weighs and measures in").selectOption("metric");
  await empty.getByLabel("Pays in").selectOption("EUR");
  await empty.getByLabel("Writes numbers like").selectOption("de-DE");
  await empty.getByLabel("Time zone").selectOption("Europe/Berlin");
  await empty.getByLabel("Target food cost").fill("320 %");
  await empty.getByRole("button", { name: "Open an empty kitchen" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "write a number from 0 to 100" })).toBeVisible();
  await expect(empty.getByLabel("Name of the kitchen")).toHaveValue("Dockside");
  await expect(empty.getByLabel("Place")).toHaveValue("By the river");
  await expect(empty.getByLabel("Weighs and measures in")).toHaveValue("metric");
  await expect(empty.getByLabel("Pays in")).toHaveValue("EUR");
  await expect(empty.getByLabel("Writes numbers like")).toHaveValue("de-DE");
  await expect(empty.getByLabel("Time zone")).toHaveValue("Europe/Berlin");
  await expect(empty.getByLabel("Target food cost")).toHaveValue("320 %");
  await expectGoodPage(page);

  // It made no kitchen: the address by itself still asks.
  await page.goto("/dishes");
  await expect(page).toHaveURL(/\/kitchens$/);
  await expect(page.getByRole("link", { name: "Open another kitchen" })).toHaveAttribute("href", "/kitchens/new");
});

test("from the first page to the quote and the scale @phone", async ({ page, isMobile }) => {
  test.setTimeout(240_000);
  const complaints = listen(page);
  await demoKitchen(page, WRITER);

  await test.step("the dishes against their targets", async () => {
    await expect(answer(page)).toContainText(/dish(es)? stands? over target/);
    await expect(answer(page)).toContainText(/As sold in the last (week|\d+ weeks) the menu runs at \d+\.\d %, against \d+(\.\d)? %/);
    await expect(page.locator(".of").first()).toContainText(/\d+ dishes · as of \w{3} \d/);
    await expect(page.getByRole("link", { name: "Add a dish" })).toHaveAttribute("href", "/dishes/new");
    const groups = await page.getByRole("rowheader").allInnerTexts();
    expect(groups.map((group) => group.replace(/\s*\d.*$/s, ""))).toEqual(expect.arrayContaining(["Over target", "Near", "Under"]));
    await expectGoodPage(page);
  });

  await test.step("the index tells who is writing", async () => {
    if (isMobile) await page.locator(".index summary").click();
    await expect(page.locator(".index .who:visible")).toContainText(WRITER);
    await expect(page.locator(".index .who:visible").getByRole("link", { name: WRITER })).toHaveAttribute("href", "/account");
    if (isMobile) await page.locator(".index summary").click();
  });

  let plate = "";
  await test.step("one dish", async () => {
    const listed = await page.getByRole("link", { name: `Plate cost of ${DISH}` }).locator(".f").innerText();
    await page.getByRole("link", { name: DISH, exact: true }).click();
    await expect(heading(page)).toHaveText(DISH);
    plate = await page.getByRole("link", { name: `Plate cost of ${DISH}` }).locator(".f").innerText();
    expect(plate).toBe(`$${listed}`);
    await expect(answer(page)).toContainText(/The food is \d+\.\d % of the price/);
    await expect(page.getByRole("heading", { name: "What is on the plate" })).toBeVisible();
    await expect(page.getByRole("heading", { name: /Where it tips/ })).toBeVisible();
    await expect(page.getByText(/^It tips when .+ passes \$\d+\.\d\d .+, \d+\.\d % above today\.$/)).toBeVisible();
    await expect(page.getByRole("link", { name: "Change the plate" })).toHaveAttribute("href", "/dishes/strip-steak/edit");
    await expect(page.getByRole("link", { name: "Change the price" })).toHaveAttribute("href", "/dishes/strip-steak/price");
    // Largest first.
    const amounts = (await page.getByRole("table").first().locator("tbody tr > td:last-child").allInnerTexts()).map(Number);
    const lines = amounts.slice(0, -1);
    expect(lines.length).toBeGreaterThan(1);
    expect(lines).toEqual([...lines].sort((a, b) => b - a));
    await expectGoodPage(page);
  });

  await test.step("its plate cost, opened", async () => {
    await page.getByRole("link", { name: `Plate cost of ${DISH}` }).click();
    await expect(heading(page)).toContainText(plate.replace("$", ""));
    await expect(page.locator(".of").first()).toContainText(/standard on \w{3} \d/);
    await expectGoodPage(page);
  });

  await test.step("down to the portion, the cut and the scale", async () => {
    const portion = await page.getByRole("table").first().locator('a[href^="/figure/spec/"]').first().innerText();
    await open(page, portion);
    await open(page, "Striploin, trimmed");
    await expect(page.getByRole("heading", { name: "Read from the scale" })).toBeVisible();
    await expect(page.getByRole("columnheader", { name: "Typed as" }).first()).toBeAttached();
    await expect(page.getByRole("row", { name: /Billed weight/ }).first()).toBeVisible();
    await expect(page.getByText(/Test of \w{3} \d.*cut by/).first()).toBeVisible();
    await expect(page.getByRole("table").first()).toContainText("by difference");
    await expect(page.getByText("Cost factor").first()).toBeVisible();
  });

  await test.step("down to the dealer's quote", async () => {
    await open(page, "Beef striploin, boneless");
    const ledger = page.getByRole("table").first();
    await expect(ledger).toContainText(/quoted by .*, since \w{3} \d+.*, recorded by /);
    await expect(ledger).toContainText(WRITER);
    await page.goBack();
    await page.getByRole("link", { name: /^Test of / }).first().click();
    await expect(page).toHaveURL(/\/tests\//);
    await page.goBack();
  });

  await test.step("the same figure as it stood on another day", async () => {
    const today = await heading(page).innerText();
    await expect(answer(page)).toContainText("at today’s price");
    await expect(page.getByRole("link", { name: "as it stood on another day" })).toHaveAttribute("href", "#another-day");
    await page.getByLabel("As it stood on another day").fill("2026-03-02");
    await page.getByRole("button", { name: "Show that day" }).click();
    await expect(page).toHaveURL(/on=2026-03-02/);
    await expect(page.locator(".of").first()).toContainText("standard on Mon 2 Mar 2026");
    expect(await heading(page).innerText()).not.toBe(today);
    await expect(answer(page)).toContainText("at that day’s price");
    await expectGoodPage(page);
    // A step opened from there stays on that day, until one asks for today.
    await page.getByRole("table").first().getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
    await expect(page).toHaveURL(/\/figure\/item\/.*on=2026-03-02/);
    await page.getByRole("link", { name: "as it stands today" }).click();
    await expect(page).not.toHaveURL(/on=/);

    await page.goto("/figure/cut/striploin?on=1999-01-01");
    await expect(heading(page)).toHaveText("Not in the book on that day");
    await page.goto("/figure/cut/striploin?on=the-day-before");
    await expect(heading(page)).toHaveText(today);
  });

  await test.step("the record", async () => {
    await page.goto("/record");
    const first = page.getByRole("table").first().locator('a[href="/record/1"]');
    await expect(first).toBeVisible();
    await expect(page.getByRole("table").first()).toContainText(WRITER);
    await expectGoodPage(page);
    await first.click();
    await expect(heading(page)).toHaveText("Change 1");
    await expect(page.locator(".of").first()).toContainText(WRITER);
    await expect(answer(page)).toContainText("The demo kitchen");
    await expect(page.getByRole("heading", { name: "What it did" })).toBeVisible();
    await expectGoodPage(page);
  });

  await test.step("the words", async () => {
    await page.goto("/glossary");
    await expect(page.getByText("Loss in cutting", { exact: true })).toBeVisible();
    await expectGoodPage(page);
  });

  expect(complaints).toEqual([]);
});

test("what is not in the book says so, and shows the way back @phone", async ({ page }) => {
  await demoKitchen(page);
  for (const path of ["/dishes/nowhere", "/record/999999", "/record/none", "/figure/dish/nowhere", "/figure/nonsense/striploin", "/dishes/50%25"]) {
    await test.step(path, async () => {
      const response = await page.goto(path);
      expect(response?.status(), path).toBe(404);
    });
  }
  // An address with a zero byte in it never reaches the book.
  expect((await page.goto("/figure/cut/%00"))?.status()).toBe(400);
  await expect(heading(page)).toHaveText("The address cannot be read");
  await page.goto("/dishes/nowhere");
  await expect(heading(page)).toHaveText("That is not in this book");
  await expect(page.getByRole("navigation", { name: "The book" })).toBeVisible();
  await expectGoodPage(page);
  await page.getByRole("main").getByRole("link", { name: "See the dishes" }).click();
  await expect(heading(page)).toHaveText("Dishes");

  await page.goto("/no/such/page");
  await expect(heading(page)).toHaveText("There is no such page");
  await expectGoodPage(page);
});
