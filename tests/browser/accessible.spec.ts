/** Every page of the demo kitchen against the rules of WCAG 2.2 A and AA that a machine can see, and no wider than its screen. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, invite, signOut, withoutScripts } from "./steps";

test.use({ installation: "accessible" });

test("every page, on a desk and on a phone @phone", async ({ page }) => {
  test.setTimeout(480_000);
  await demoKitchen(page);
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => { if (message.type() === "error") complaints.push(`${message.text()} ${message.location().url}`); });
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
    `${spec}/prices`, `${spec}/card`, `${recipe}/card`, `${recipe}/cost-sheet`, `${recipe}?make=×3`, "/allergens", "/allergens?of=recipes", "/tries", "/since", "/house", "/find?q=loin", "/dishes?sort=name", "/items?find=beef",
    "/glossary", "/people", "/account", "/kitchens", "/kitchens/new",
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

test("the doors, with nobody signed in, on a desk and on a phone @phone", async ({ page }) => {
  await demoKitchen(page);
  const join = await invite(page, "Somebody new", "cook");
  await page.locator("summary").filter({ hasText: "Chef (you)" }).click();
  await page.getByRole("button", { name: "Link to a new password for Chef" }).click();
  const newPassword = await page.locator(".person .handover").textContent() ?? "";
  await expectAccessible(page);
  await expectNoSideways(page);
  await signOut(page);
  for (const path of ["/sign-in", join, newPassword, `${join}x`, `${newPassword}x`]) {
    await test.step(path, async () => {
      expect((await page.goto(path))?.status(), path).toBe(200);
      await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
      await expectAccessible(page);
      await expectNoSideways(page);
    });
  }
});

test("without a script a price is still tried and recorded", async ({ browser, app }) => {
  const page = await withoutScripts(browser, app.url, "Chef");
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await page.getByLabel("New price for a pound").fill("12.34");
  await page.getByRole("button", { name: "Try it" }).first().click();
  await expect(page.getByText("What this would do")).toBeVisible();
  await expect(page.getByLabel("New price for a pound")).toHaveValue("12.34");
  await page.context().close();
});
