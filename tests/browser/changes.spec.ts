/** The sous chef: a new test after a trim change, a portion size, a recipe line, a plate; each tried first. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, lineField, part, tryIt } from "./steps";

test.use({ installation: "changes" });

test("a new test moves the cut, its portions and the dishes", async ({ page }) => {
  await demoKitchen(page, "Sous chef");
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await page.getByRole("link", { name: "Record a test" }).first().click();
  await page.getByLabel("Billed weight").fill("13 lb 8 oz");
  await part(page, 1).getByLabel("Weight").fill("8.6875 lb");
  await part(page, 2).getByLabel("Weight").fill("1 lb 10 oz");
  await part(page, 3).getByLabel("Weight").fill("2 lb 2 oz");
  await part(page, 4).getByLabel("Weight").fill("10 oz");
  await part(page, 5).getByLabel("Weight").fill("4 oz");
  await expect(page.locator(".left-to-account")).toContainText("3 oz of 13 lb 8 oz");
  await page.getByLabel("Adopt for").selectOption({ label: "Striploin, trimmed" });
  const ripple = await tryIt(page);
  await expect(ripple).toContainText("Striploin, trimmed");
  await expect(ripple).toContainText("Strip steak");
  await page.getByRole("button", { name: "Record this test" }).click();
  await expect(page.getByRole("heading", { name: "What stands on it" })).toBeVisible();
  await expect(page.getByText("Purge in the bag").first()).toBeVisible();
});

test("a smaller portion is tried and recorded", async ({ page }) => {
  await demoKitchen(page, "Sous chef");
  await page.goto("/cuts");
  await page.getByRole("link", { name: "Boneless pork chop 9 oz", exact: true }).click();
  await page.getByLabel("Size, before cooking").fill("8 oz");
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table", { name: /dish(es)? that moves?/ })).toContainText("Pork chop");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.getByText("8 oz").first()).toBeVisible();
});

test("a recipe line is changed; what rests on it moves", async ({ page }) => {
  await demoKitchen(page, "Sous chef");
  await page.goto("/recipes");
  await page.getByRole("link").filter({ hasText: /butter/i }).first().click();
  await page.getByRole("link", { name: "Change this recipe" }).click();
  const field = lineField(page, 1);
  await field.fill((await field.inputValue()).replace(/^[\d ./]+\S+/, "9 lb"));
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("heading", { name: "Recipes" })).toBeVisible();
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.getByRole("table").first()).toContainText("9");
});

test("a plate is changed, and its last line removed and put back", async ({ page }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/dishes");
  await page.getByRole("link", { name: "Steak frites", exact: true }).click();
  await page.getByRole("link", { name: "Change the plate" }).click();
  const lines = page.getByRole("group", { name: /^line \d+$/ });
  await expect(lines.first()).toBeVisible();
  const count = await lines.count();
  await page.getByRole("button", { name: `Remove line ${count}` }).click();
  await expect(lines).toHaveCount(count - 1);
  await page.getByRole("button", { name: "Put back the line just removed" }).click();
  await expect(lines).toHaveCount(count);
  await page.getByRole("button", { name: `Remove line ${count}` }).click();
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table")).toContainText("Steak frites");
});

test("an opened figure can be seen as it stood on another day", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/cuts");
  await page.getByRole("link", { name: /What Striploin, trimmed costs|Striploin, trimmed:/ }).first().click();
  const today = await page.getByRole("heading", { level: 1 }).innerText();
  await page.getByLabel("As it stood on another day").fill("2026-02-02");
  await page.getByRole("button", { name: "Show that day" }).click();
  await expect(page.getByText("standard on Mon 2 Feb 2026")).toBeVisible();
  expect(await page.getByRole("heading", { level: 1 }).innerText()).not.toBe(today);
});

test("the last change is undone in one step, shown first; the undoing is a change of its own, and is undone in its turn", async ({ page }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/items/cream");
  const price = page.getByLabel(/^New price for/).first();
  const was = await price.inputValue();
  const dearer = (Number(was) * 1.05).toFixed(2);
  await price.fill(dearer);
  await page.getByRole("button", { name: "Record this price" }).click();
  const done = page.getByRole("region", { name: "What this change did" });
  await expect(done).toContainText("Recorded as change");
  await done.getByRole("link", { name: "undo it" }).click();
  await expect(page.getByRole("heading", { name: "Undo" })).toBeVisible();
  const number = Number(/\d+$/.exec(new URL(page.url()).pathname)?.[0]);
  const ripple = await tryIt(page, "Show what undoing would do");
  await expect(ripple.getByRole("table").first()).toBeVisible();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Undo this change" }).click();
  await expect(page).toHaveURL(new RegExp(`/record/${number + 1}$`));
  await expect(page.getByText(`“Undoes change ${number}”`)).toBeVisible();
  await page.goto("/items/cream");
  await expect(price).toHaveValue(was);

  // The older one says what stands in its way; the record offers the last.
  await page.goto(`/record/${number}`);
  await expect(page.getByText(`was changed again by change ${number + 1}`)).toBeVisible();
  await page.goto("/record");
  await page.getByRole("link", { name: "Undo the last change" }).click();
  await page.getByRole("button", { name: "Undo this change" }).click();
  await expect(page).toHaveURL(new RegExp(`/record/${number + 2}$`));
  await page.goto("/items/cream");
  await expect(price).toHaveValue(dearer);
});
