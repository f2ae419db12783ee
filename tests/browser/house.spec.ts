/** The house's rules: a section's target tried before it is recorded, bad input refused whole, what cannot be changed any more, and the dishes that follow. */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, invite, joinBy, signOut, tryIt } from "./steps";

test.use({ installation: "house" });

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });
const targets = (page: Page) => page.getByRole("group", { name: "Targets of whole sections" }).getByRole("listitem");

test("the owner tries a section's target, sees which dishes cross, and records it @phone @tablet", async ({ page }, { project }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/house");
  await expect(page.locator(".say").first()).toContainText("Food may cost 30 % of the net menu price, 25 % in Desserts");
  await expectAccessible(page);
  await expectNoSideways(page);
  await targets(page).first().getByLabel("Target food cost").fill("20.9");
  const ripple = await tryIt(page);
  await expect(ripple.locator(".say")).toContainText("2 dishes cross over target.");
  await expect(ripple.getByRole("table")).toContainText("Chocolate pot");
  // Nothing is saved by a try.
  await page.goto("/dishes/chocolate-pot");
  await expect(page.locator("dl.facts").first()).toContainText("25 % that of Desserts; near it from 24.0 %");
  if (project.name !== "desktop") return;

  await page.goto("/house");
  await targets(page).first().getByLabel("Target food cost").fill("20.9");
  await page.getByLabel("Why").fill("Sugar is cheap");
  await page.getByRole("button", { name: "Record these rules" }).click();
  await expect(page.getByRole("region", { name: "What this change did" })).toContainText("2 dishes cross over target.");
  await page.goto("/dishes/chocolate-pot");
  await expect(page.locator(".say").first()).toContainText("over its target of 20.9 %");
  await page.goto("/record");
  await page.getByRole("link", { name: /Pennymarsh|kitchen/i }).first().click();
  await expect(page.getByText("Target of Desserts").first()).toBeVisible();
});

test("what is wrong is said where it stands, nothing is half saved, and prices keep their currency", async ({ page }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/house");
  await page.getByLabel("Target food cost").first().fill("320 %");
  await page.getByLabel("Endings").fill("0.00 0.50 95");
  await page.getByLabel("Guests").fill("none");
  await page.getByLabel("Period").fill("");
  await page.getByRole("button", { name: "Add a section" }).click();
  await targets(page).last().getByLabel("Section", { exact: true }).fill("Desserts");
  await targets(page).last().getByLabel("Target food cost").fill("28");
  await page.getByRole("button", { name: "Record these rules" }).click();
  await expect(told(page)).toContainText("“320 %” is more than the whole");
  await expect(told(page)).toContainText("less than 1");
  await expect(told(page)).toContainText("Say which period the figures are of");
  await expect(told(page)).toContainText("Desserts has a target already");
  await expect(page.getByLabel("Endings")).toHaveValue("0.00 0.50 95");
  await expect(page.getByLabel("Guests")).toHaveValue("none");
  await expectAccessible(page);

  await page.goto("/house");
  await page.getByLabel("Pays in").selectOption("EUR");
  await page.getByRole("button", { name: "Record these rules" }).click();
  await expect(told(page)).toContainText("There are prices in USD in this book");
  await expect(page.getByLabel("Pays in")).toHaveValue("EUR");

  // With another decimal mark what was typed would read otherwise.
  await page.goto("/house");
  await page.getByLabel("Writes numbers like").selectOption("de-DE");
  await page.getByRole("button", { name: "Try it" }).first().click();
  await expect(told(page)).toContainText("Choose a way of writing with the same mark.");

  // Other measures change how things are written, and nothing else.
  await page.goto("/house");
  await page.getByLabel("Writes numbers like").selectOption("en-GB");
  await page.getByLabel("Weighs and measures in").selectOption("metric");
  const ripple = await tryIt(page);
  await expect(ripple).toContainText("No dish moves");
});

test("whoever may not change the kitchen reads the rules and may try them", async ({ page }) => {
  await comeIn(page, "Chef");
  const link = await invite(page, "Reader of rules", "reader");
  await signOut(page);
  await joinBy(page, link, "Reader of rules");
  await page.goto("/house");
  await expect(page.getByRole("heading", { level: 1, name: "House rules" })).toBeVisible();
  await expect(page.getByRole("button", { name: "Record these rules" })).toHaveCount(0);
  await expect(page.getByRole("button", { name: "Try it" }).last()).toBeVisible();
});
