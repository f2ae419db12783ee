/** Finding anything from anywhere with the keyboard alone, and lists that are narrowed, ordered, remembered and handed on. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, withoutScripts } from "./steps";

test.use({ installation: "find" });

test("the find box: opened by a key, answers while one types, arrows and Enter go there, Escape goes back @phone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/items");
  await page.keyboard.press("/");
  const box = page.getByRole("dialog", { name: "Find in the book" });
  const field = box.getByRole("combobox", { name: "Find" });
  await expect(field).toBeFocused();
  await field.pressSequentially("strip");
  const options = box.getByRole("option");
  await expect(options.first()).toBeVisible();
  await expect(options.first()).toHaveAttribute("aria-selected", "true");
  await expect(box.getByRole("status")).toContainText(/answer|best/);
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.keyboard.press("ArrowDown");
  await expect(options.nth(1)).toHaveAttribute("aria-selected", "true");
  await expect(field).toHaveAttribute("aria-activedescendant", await options.nth(1).getAttribute("id") ?? "");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("ArrowUp");
  await expect(options.last()).toHaveAttribute("aria-selected", "true");
  await page.keyboard.press("Escape");
  await expect(box).toBeHidden();

  await page.keyboard.press("Control+k");
  await expect(field).toBeFocused();
  await field.fill("steak frites");
  await expect(options.first()).toContainText("Steak frites");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { level: 1, name: "Steak frites" })).toBeVisible();

  // A letter typed into a field is a letter.
  await page.goto("/items/butter");
  const why = page.getByLabel("Why").first();
  await why.fill("and");
  await why.press("/");
  await expect(why).toHaveValue("and/");
  await expect(box).toBeHidden();

  // The keys there are; single ones can be switched off.
  await page.goto("/dishes");
  const keys = page.getByRole("dialog", { name: "Keys" });
  // A key pressed before the page has woken up is nobody's.
  await expect(async () => {
    await page.keyboard.press("?");
    await expect(keys).toBeVisible({ timeout: 1000 });
  }).toPass();
  await expect(keys).toContainText("find something in the book");
  await expectAccessible(page);
  await keys.getByRole("checkbox").check();
  await keys.getByRole("button", { name: "Close" }).click();
  await page.keyboard.press("/");
  await expect(box).toBeHidden();
  await page.keyboard.press("Control+k");
  await expect(box).toBeVisible();
  await field.fill("nothing of the kind");
  await expect(box.getByRole("status")).toContainText("Nothing answers");
});

test("a cook finds tests and nothing that costs; without a script there is the page", async ({ page, browser, baseURL }) => {
  await demoKitchen(page, "Cook", "cook");
  await page.goto("/find?q=strip");
  await expect(page.getByRole("row").nth(1)).toContainText("yield test");
  await expect(page.getByRole("main")).not.toContainText(/portion spec|\$/);
  const told = await page.context().request.get("/find/answers?q=steak");
  expect(((await told.json()) as { readonly answers: readonly { readonly kind: string }[] }).answers.every(({ kind }) => kind === "yield test")).toBe(true);

  const bare = await withoutScripts(browser, baseURL ?? "", "Chef");
  await bare.goto("/dishes");
  await bare.getByRole("link", { name: "Find", exact: true }).first().click();
  await bare.getByRole("searchbox", { name: "Find" }).fill("butter");
  await bare.getByRole("button", { name: "Find" }).click();
  await expect(bare.locator("form.find").getByRole("status")).toContainText(/\d+ answer to “butter”/);
  await bare.getByRole("link", { name: "Butter, unsalted", exact: true }).first().click();
  await expect(bare.getByRole("heading", { level: 1 })).toContainText("Butter");
  await bare.goto("/items");
  await bare.getByLabel("Shelf").selectOption({ index: 1 });
  await bare.getByLabel("Order").selectOption({ label: "Item, down" });
  await bare.getByRole("button", { name: "Find" }).click();
  await expect(bare).toHaveURL(/sort=-name/);
  await expect(bare.getByRole("columnheader", { name: /^Item/ })).toHaveAttribute("aria-sort", "descending");
  await bare.context().close();
});

test("a list is ordered from its heads, narrowed, remembered on this device, handed on by its address, and all of it again", async ({ page, browser, baseURL }) => {
  await demoKitchen(page);
  await page.goto("/dishes");
  const names = async (): Promise<string[]> => page.getByRole("table").first().locator("tbody th[scope=row] a[href^='/dishes/']").allInnerTexts();
  const worst = await names();
  const heads = page.getByRole("columnheader");
  const plate = page.getByRole("columnheader", { name: /^Plate cost/ });
  await plate.getByRole("link").focus();
  await page.keyboard.press("Enter");
  await expect(plate).toHaveAttribute("aria-sort", "descending");
  await expect(page).toHaveURL(/sort=-plate/);
  const figures = (await page.getByRole("table").first().locator("tbody td:nth-child(3)").allInnerTexts()).map((text) => Number(/[\d.]+/.exec(text)?.[0]));
  expect(figures).toEqual([...figures].sort((a, b) => b - a));
  await plate.getByRole("link").click();
  await expect(plate).toHaveAttribute("aria-sort", "ascending");
  await expectAccessible(page);

  await page.getByLabel("State").selectOption({ label: "over target" });
  await page.getByRole("button", { name: "Find" }).click();
  await expect(page.getByRole("status").filter({ hasText: "state over target" })).toBeVisible();
  await expect(page).toHaveURL(/state=over/);
  const over = await names();
  expect(over.length).toBeGreaterThan(0);
  expect(over.length).toBeLessThan(worst.length);

  await expect.poll(async () => (await page.context().cookies()).find(({ name }) => name === "list")?.value).toContain("state%3Dover");

  // Opened again from the index: as it was left. A link shows somebody else the same.
  await page.goto("/items");
  await page.getByRole("navigation", { name: "The book" }).getByRole("link", { name: "Dishes" }).click();
  await expect(page).toHaveURL(/state=over/);
  await expect(page.getByRole("status").filter({ hasText: "state over target" })).toBeVisible();
  expect(await names()).toEqual(over);
  const { url, cookies } = { url: page.url(), cookies: (await page.context().cookies()).filter(({ name }) => name !== "list") };
  const other = await browser.newContext({ baseURL: baseURL ?? "" });
  await other.addCookies(cookies);
  const theirs = await other.newPage();
  await theirs.goto(url);
  await expect(theirs.getByRole("status").filter({ hasText: "state over target" })).toBeVisible();
  await other.close();

  await page.getByRole("link", { name: "Show all" }).click();
  await expect(page.getByRole("status").filter({ hasText: "state over target" })).toHaveCount(0);
  expect(await names()).toEqual(worst);
  await page.goto("/items");
  await page.goto("/dishes");
  expect(await names()).toEqual(worst);
  expect(await heads.first().getAttribute("aria-sort")).toBeNull();
});
