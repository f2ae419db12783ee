/** Every page of the demo kitchen against the rules of WCAG 2.2 A and AA that a machine can see, and no wider than its screen. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways } from "./steps";

test.use({ installation: "accessible" });

test("every page, on a desk and on a phone @phone", async ({ page }) => {
  test.setTimeout(240_000);
  await demoKitchen(page);
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => { if (message.type() === "error") complaints.push(message.text()); });
  const first = async (list: string, start: string): Promise<string> => {
    await page.goto(list);
    const href = await page.locator(`tbody a[href^="${start}"]`).first().getAttribute("href");
    if (href === null) throw new Error(`expected a link to ${start} on ${list}`);
    return href;
  };
  const dish = await first("/dishes", "/dishes/");
  const recipe = await first("/recipes", "/recipes/");
  const item = await first("/items", "/items/");
  const cut = await first("/cuts", "/cuts/");
  const spec = await first("/cuts", "/specs/");
  const yieldTest = await first("/tests", "/tests/");
  const pages = [
    "/dishes", dish, `${dish}/edit`, `${dish}/price`, "/dishes/new", "/recipes", recipe, `${recipe}/edit`, "/recipes/new", "/items", item, `${item}/edit`, "/items/new",
    "/cuts", cut, `${cut}/specs/new`, "/cuts/new", spec, "/tests", yieldTest, `${yieldTest}/edit`, "/tests/new", "/tests/new?kind=cooking", "/record", "/record/1",
    dish.replace("/dishes/", "/figure/dish/"), cut.replace("/cuts/", "/figure/cut/"), item.replace("/items/", "/figure/item/"), recipe.replace("/recipes/", "/figure/recipe/"), spec.replace("/specs/", "/figure/spec/"),
    "/glossary", "/who",
  ];
  for (const path of pages) {
    await test.step(path, async () => {
      const answer = await page.goto(path);
      expect(answer?.status(), path).toBe(200);
      await expectAccessible(page);
      await expectNoSideways(page);
    });
  }
  expect(complaints).toEqual([]);
});

test("without a script a price is still tried and recorded", async ({ browser, app }) => {
  const context = await browser.newContext({ baseURL: app.url, javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await page.getByLabel("New price for a pound").fill("12.34");
  await page.getByRole("button", { name: "Try it" }).first().click();
  await expect(page.getByText("What this would do")).toBeVisible();
  await expect(page.getByLabel("New price for a pound")).toHaveValue("12.34");
  await context.close();
});
