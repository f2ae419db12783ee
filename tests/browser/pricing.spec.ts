/** The chef prices a dish: what five methods ask for, each at the house's ending; what keeps the percentage and what keeps the margin; its prices so far, with why. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, tryIt } from "./steps";

test.use({ installation: "pricing" });

test("a price is reckoned by five methods, recorded with why, and stands in the dish's prices @phone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/dishes");
  await page.locator("tbody a[href^='/dishes/']").first().click();
  await expect(page).toHaveURL(/\/dishes\/[^/]+$/);
  const dish = page.url();
  await page.goto(`${dish}/price`);
  const methods = page.getByRole("table", { name: "What five ways of pricing ask for this dish" });
  await expect(methods.getByRole("row")).toHaveCount(6);
  await expect(methods.getByRole("row", { name: /^By target/ })).toContainText("cost over target");
  await expect(methods.getByRole("row", { name: /^By factor/ })).toContainText("type the factor below");

  await page.getByLabel("The house’s factor").fill("3.2");
  await page.getByLabel("Direct labour in this plate").fill("4.10");
  await page.getByRole("button", { name: "Reckon with these" }).click();
  await expect(methods.getByRole("row", { name: /^By factor/ })).toContainText("cost times 3.2");
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.goto(`${new URL(page.url()).pathname}?factor=three&labour=-2`);
  await expect(page.getByLabel("The house’s factor")).toHaveValue("three");
  await expect(page.locator(".wrong").filter({ hasText: /./ })).toHaveCount(2);
  await expect(methods.getByRole("row", { name: /^By factor/ })).toContainText("type the factor below");

  const menuPrice = page.getByLabel("Menu price", { exact: true });
  await menuPrice.fill(String(Math.ceil(Number((await menuPrice.inputValue()).replace(",", "."))) + 1));
  await tryIt(page);
  await page.getByLabel("Why").fill("The new card for winter");
  await page.getByRole("button", { name: "Record this price" }).click();
  await expect(page).toHaveURL(dish);
  await page.goto(`${dish}/price`);
  await expect(page.getByRole("table", { name: /^Menu prices of .*, newest first/ }).getByRole("row").nth(1)).toContainText("The new card for winter");
});

test("a dearer cod: what keeps the percentage and what keeps the margin stand side by side", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/items");
  await page.getByRole("link", { name: "Cod fillet", exact: true }).click();
  const price = page.getByLabel(/^New price for/);
  await price.fill((Number(await price.inputValue()) * 1.1).toFixed(2));
  await page.getByRole("button", { name: "Record this price" }).click();
  const done = page.getByRole("region", { name: "What this change did" });
  await done.getByRole("link", { name: /Cod/ }).last().click();
  const asked = page.getByRole("table", { name: "What passing the last move on asks of the menu price" });
  const priceIn = async (name: RegExp): Promise<number> => Number((await asked.getByRole("row", { name }).locator("strong").first().innerText()).replace(/[^\d.]/g, ""));
  // Keeping the percentage asks for more than keeping the margin.
  expect(await priceIn(/^Keep the percentage/)).toBeGreaterThanOrEqual(await priceIn(/^Keep the margin/));
  await expectAccessible(page);
});
