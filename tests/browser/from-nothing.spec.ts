/**
 * The whole chain once through in an empty kitchen: an item with its first dealer and price, a butcher test adopted for a
 * cut, a cooking-loss test that follows it, a portion, a recipe, a dish with price and target; then a figure opened down
 * to the quote and the scale. The figures are those of the lamb loin in Dittmer & Keefe, Principles of Food, Beverage, and
 * Labor Cost Controls, 9th ed., ch. 6, as posted in coursework.
 */
import { expect, expectAccessible, test } from "./app";
import { comeIn, emptyKitchen, expectNoSideways, lineField, part, tryIt } from "./steps";

test.use({ installation: "from-nothing", begins: "empty" });

test("from a weighed loin to a dish over its target @phone", async ({ page, app, isMobile }) => {
  test.setTimeout(120_000);
  // Both screens share the installation: the second one finds the kitchen open, and adds its own goods.
  await page.goto("/");
  const mark = isMobile ? "phone" : "desk";
  if (page.url().endsWith("/start")) await emptyKitchen(page, "Test Kitchen", "Chef");
  else await comeIn(page, "Chef");
  expect(app.url).toContain("127.0.0.1");

  // An item, with a new dealer on the way.
  await page.goto("/items/new");
  await page.getByLabel("Name of the item").fill(`Lamb loin ${mark}`);
  await page.getByLabel("Shelf").fill("Lamb");
  if (await page.getByLabel("Dealer", { exact: true }).count() > 0) await page.getByLabel("Dealer", { exact: true }).selectOption("new");
  await page.getByLabel("Name of the new dealer").fill(`Hill Farm Meats ${mark}`);
  await page.getByLabel("Pack").fill("12 lb");
  await page.getByLabel("Catch weight").check();
  await page.getByLabel("Price", { exact: true }).fill("6.65");
  await page.getByLabel("The price is for").selectOption("lb");
  await page.getByRole("button", { name: "Record this item" }).click();
  await expect(page.getByRole("heading", { level: 1, name: `Lamb loin ${mark}` })).toBeVisible();
  await expect(page.locator(".say").first()).toContainText("$6.65");

  // The butcher test, adopted for a new cut in the same step.
  await page.getByRole("link", { name: "Record a test" }).first().click();
  await page.getByLabel("Billed weight").fill("12 lb");
  await part(page, 1).getByLabel("Part").fill("Usable meat");
  await part(page, 1).getByLabel("Weight").fill("6 lb");
  await part(page, 2).getByLabel("Part").fill("Kidneys");
  await part(page, 2).getByLabel("Weight").fill("1 lb");
  await part(page, 2).getByLabel("Worth to this house").fill("6.10");
  await part(page, 3).getByLabel("Part").fill("Flanks");
  await part(page, 3).getByLabel("Weight").fill("1 1/2 lb");
  await part(page, 3).getByLabel("Worth to this house").fill("4.60");
  await part(page, 4).getByLabel("Part").fill("Fat");
  await part(page, 4).getByLabel("Weight").fill("3 lb 0 oz");
  await expect(page.locator(".left-to-account")).toContainText("8 oz of 12 lb");
  await page.getByLabel("Adopt for").selectOption("new");
  await page.getByLabel("Name of the cut").fill(`Lamb loin, trimmed ${mark}`);
  const ripple = await tryIt(page);
  await expect(ripple).toContainText(`Lamb loin, trimmed ${mark}`);
  await expectAccessible(page);
  await page.getByRole("button", { name: "Record this test" }).click();
  await expect(page.locator(".say").first()).toContainText("50.0 % usable");
  // As printed in the source: 4.17 % loss in cutting, 66.80 for the usable meat, 11.13 a usable pound.
  const form = page.getByRole("table").first();
  await expect(form).toContainText("4.17");
  await expect(form).toContainText("66.80");
  await expect(form).toContainText("11.13");
  await expect(page.getByRole("table").nth(1)).toContainText("1.6742");
  await expectNoSideways(page);

  // A cooking-loss test follows it and carries the net cost in: 66.80 over 5 lb is 13.36.
  await page.getByRole("link", { name: "Add its cooking-loss test" }).click();
  await expect(page.getByLabel("Made from")).toHaveValue(/^cut:/);
  await page.getByLabel("Original weight").fill("6 lb");
  await page.getByLabel("Trimmed weight, as it went in").fill("6 lb");
  await page.getByLabel("Cooked weight, as it came out").fill("5 1/2 lb");
  await part(page, 1).getByLabel("Weight").fill("5 lb");
  await part(page, 2).getByLabel("Weight").fill("8 oz");
  await page.getByLabel("Adopt for").selectOption("new");
  await page.getByLabel("Name of the cut").fill(`Lamb loin, roasted ${mark}`);
  await page.getByRole("button", { name: "Record this test" }).click();
  await expect(page.getByRole("table").first()).toContainText("13.36");
  await expect(page.getByText("overall 41.7 %")).toBeVisible();

  // A portion of the roasted cut: 5 oz is 4.175, printed half-up.
  await page.goto("/cuts");
  await page.getByRole("link", { name: `Lamb loin, roasted ${mark}` }).first().click();
  await page.getByRole("link", { name: "Add a portion" }).first().click();
  await page.getByLabel("Name of the portion").fill(`Roast lamb 5 oz ${mark}`);
  await page.getByLabel("Size, before cooking").fill("5 oz");
  await page.getByRole("button", { name: "Record this portion" }).click();
  await expect(page.locator(".say").first()).toContainText("$4.18");

  // A recipe with the portion in it, a dish with the recipe on it.
  await page.goto("/recipes/new");
  await page.getByLabel("Name of the recipe").fill(`Lamb plate ${mark}`);
  await page.getByLabel("Yield", { exact: true }).fill("2 portions");
  await lineField(page, 1).fill(`2 portions roast lamb 5 oz ${mark}`);
  await page.getByRole("button", { name: "Record this recipe" }).click();
  await expect(page.locator(".say").first()).toContainText("a portion $4.18");

  await page.goto("/dishes/new");
  await page.getByLabel("Name of the dish").fill(`Roast lamb ${mark}`);
  await page.getByLabel("Menu price").fill("12.00");
  await page.getByLabel("Target food cost").fill("30");
  await lineField(page, 1).fill(`1 portion Lamb plate ${mark}`);
  await page.getByRole("button", { name: "Record this dish" }).click();
  await expect(page.locator(".say").first()).toContainText("34.8 %");
  await expect(page.locator(".say").first()).toContainText("over");

  // Every figure opens: plate → recipe → portion → roasted cut → trimmed cut → quote and scale.
  await page.getByRole("link", { name: `Plate cost of Roast lamb ${mark}` }).click();
  for (const step of [`Lamb plate ${mark}`, `Roast lamb 5 oz ${mark}`, `Lamb loin, roasted ${mark}`, `Lamb loin, trimmed ${mark}`]) {
    await page.getByRole("table").first().getByRole("link", { name: step }).click();
    await expect(page.getByRole("heading", { level: 1 })).toContainText(step);
  }
  await expect(page.getByText("Read from the scale")).toBeVisible();
  await expect(page.getByText("1 1/2 lb").first()).toBeVisible();
  await expectAccessible(page);
  await page.getByRole("table").first().getByRole("link", { name: `Lamb loin ${mark}` }).click();
  await expect(page.getByRole("table").first()).toContainText(`Hill Farm Meats ${mark}`);

  // And with a menu price that carries it, the dish is back under its target.
  await page.goto("/dishes");
  await page.getByRole("link", { name: `Roast lamb ${mark}`, exact: true }).click();
  await page.getByRole("link", { name: "Change the price" }).click();
  await page.getByLabel("Menu price").fill("15");
  await expect(await tryIt(page)).toContainText("comes back under target");
  await page.getByRole("button", { name: "Record this price" }).click();
  await expect(page.locator(".say").first()).toContainText("27.8 %");
});
