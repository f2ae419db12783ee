/** The chef changes a dealer's price: tried before it is saved, crossings told first, then recorded with its ripple. */
import { expect, test } from "./app";
import { demoKitchen, recordSurely, tryIt } from "./steps";

test.use({ installation: "price" });

test("a dearer striploin is tried, tells what crosses, is recorded, and stands in the record @phone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Beef striploin, boneless" })).toBeVisible();
  const form = page.locator("form", { has: page.getByLabel("New price for a pound") });
  const before = await page.locator(".say").first().innerText();

  await form.getByLabel("New price for a pound").fill("14.60");
  await expect(form.getByText("reads as $14.60")).toBeVisible();
  const ripple = await tryIt(form);
  await expect(ripple.locator(".say")).toContainText(/dish(es)? cross(es)? over target/);
  await expect(ripple.getByRole("table")).toContainText("Strip steak");
  await expect(ripple.getByRole("heading", { name: "Cuts" })).toBeVisible();
  await expect(ripple.getByRole("heading", { name: "Portion specs" })).toBeVisible();
  await expect(form.getByText("Nothing is saved yet.")).toBeVisible();

  // Nothing was saved: another look at the page says what it said before.
  await page.reload();
  expect(await page.locator(".say").first().innerText()).toBe(before);

  await form.getByLabel("New price for a pound").fill("14.60");
  await form.getByLabel("Why").fill("The week’s list");
  await recordSurely(form);
  await expect(page.getByRole("region", { name: "What this change did" })).toContainText("Recorded as change");
  await page.goto("/dishes");
  await expect(page.locator(".say")).toContainText("over target");
  const over = page.locator("tbody", { has: page.getByRole("rowheader", { name: /^Over target/ }) });
  await expect(over).toContainText("Strip steak, fries, herb butter");

  await page.goto("/record");
  await page.getByRole("link", { name: /Beef striploin/ }).first().click();
  await expect(page.locator(".say").first()).toContainText("The week’s list");
  await expect(page.getByRole("table").first()).toContainText("14.60");
  await expect(page.getByText(/cross(es)? over target/).first()).toBeVisible();
});

test("a price for a coming day waits and says so", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/items");
  await page.getByRole("link", { name: "Atlantic salmon, whole", exact: true }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Atlantic salmon, whole" })).toBeVisible();
  const form = page.locator("form", { has: page.getByLabel("New price for a pound") });
  const before = await page.locator(".say").first().innerText();
  await form.getByLabel("New price for a pound").fill("19");
  await form.getByLabel("From which day").fill("2199-01-05");
  const ripple = await tryIt(form);
  await expect(ripple).toContainText("it will apply from");
  await recordSurely(form);
  await expect(page.getByText("A new price waits")).toBeVisible();
  expect(await page.locator(".say").first().innerText()).toBe(before);
});

test("two people change one price: the second is told what changed and by whom, and loses nothing typed", async ({ browser, app }) => {
  const [first, second] = await Promise.all([browser.newPage({ baseURL: app.url }), browser.newPage({ baseURL: app.url })]);
  await demoKitchen(first, "Chef");
  await demoKitchen(second, "Sous chef");
  const open = async (page: typeof first) => {
    await page.goto("/items");
    await page.getByRole("link", { name: "Butter, unsalted", exact: true }).click();
    return page.locator("form", { has: page.getByLabel(/^New price for/) });
  };
  const one = await open(first);
  const two = await open(second);
  // Both are at it before either records.
  await two.getByLabel(/^New price for/).fill("162");
  await one.getByLabel(/^New price for/).fill("151");
  await one.getByRole("button", { name: "Record this price" }).click();
  await expect(first.getByRole("region", { name: "What this change did" })).toBeVisible();

  await two.getByLabel("Why").fill("As told on the phone");
  await two.getByRole("button", { name: "Record this price" }).click();
  const told = two.getByRole("alert");
  await expect(told).toContainText("Chef");
  await expect(told).toContainText("151");
  await expect(two.getByLabel(/^New price for/)).toHaveValue("162");
  await expect(two.getByLabel("Why")).toHaveValue("As told on the phone");
  await first.close();
  await second.close();
});
