/**
 * A cut without a test borrows a published yield: found by words, tried with its ripple, recorded; told wherever a cost
 * that rests on it stands, down to the source; typed by hand; given back; and replaced by a test of the house's own.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, lineField, part, tryIt, withoutScripts } from "./steps";

test.use({ installation: "borrowed" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Chef"); });

const answer = (page: Page) => page.locator(".say").first();
const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });

/** A cut of an item that has no test, named so that two screens do not meet. */
async function newCut(page: Page, name: string, of: string): Promise<void> {
  await page.goto("/cuts/new");
  await page.getByLabel("Name of the cut").fill(name);
  await page.getByLabel("Made from").selectOption({ label: of });
  await page.getByRole("button", { name: "Record this cut" }).click();
  await expect(page.getByRole("heading", { level: 1, name })).toBeVisible();
}

async function borrow(page: Page, row: string | RegExp): Promise<void> {
  await page.getByRole("radio", { name: row }).check();
  await page.getByRole("button", { name: "Borrow this yield" }).click();
  await expect(page.getByText("Borrowed yield:")).toBeVisible();
}

test("a published yield is borrowed, and everything on it says so @phone", async ({ page, isMobile }) => {
  // Every page that tells a cost, each looked at by axe.
  test.setTimeout(180_000);
  const size = isMobile ? "small" : "large";
  const leeks = `Leeks, trimmed ${size}`;
  await newCut(page, leeks, "Leeks");
  await expect(page.getByRole("heading", { name: "Until you have a test of your own, borrow a published yield" })).toBeVisible();
  await expect(page.getByText("What the tables have under “Leeks”")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);

  // Tried first: nothing is saved, and the cut's cost is seen.
  await page.getByRole("radio", { name: /^44\.0 %, Leeks/ }).check();
  await page.getByRole("button", { name: "See what moves" }).first().click();
  const ripple = page.getByRole("region", { name: "What this change would do" });
  await expect(ripple).toContainText(`on a borrowed yield of ${leeks}`);
  await borrow(page, /^44\.0 %, Leeks/);
  await expect(answer(page)).toContainText("at a borrowed yield of 44.0 %");
  await expect(page.getByText("USDA National Nutrient Database for Standard Reference, Release 28").first()).toBeVisible();
  await expect(page.getByText("A test of your own should replace this one")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);

  // A recipe and a dish of it.
  const soup = `Leek soup base ${size}`;
  await page.goto("/recipes/new");
  await page.getByLabel("Name of the recipe").fill(soup);
  await page.getByLabel("Yield", { exact: true }).fill("4 qt");
  await lineField(page, 1).fill(`3 lb ${leeks}`);
  await page.getByRole("button", { name: "Record this recipe" }).click();
  await expect(answer(page)).toContainText(`It rests on a borrowed yield of ${leeks}, not tested here.`);
  await expect(page.getByText("edible portion, by a borrowed yield")).toBeVisible();
  await expectAccessible(page);
  const dish = `Leek soup ${size}`;
  await page.goto("/dishes/new");
  await page.getByLabel("Name of the dish").fill(dish);
  await page.getByLabel("Menu price").fill("9");
  await lineField(page, 1).fill(`8 fl oz ${soup}`);
  await page.getByRole("button", { name: "Record this dish" }).click();
  await expect(answer(page)).toContainText(`It rests on a borrowed yield of ${leeks}`);
  await expect(page.getByText(`on a borrowed yield of ${leeks}`).last()).toBeVisible();

  // The lists, in words, naming which.
  for (const [list, name] of [["/cuts", leeks], ["/recipes", soup], ["/dishes", dish]] as const) {
    await page.goto(`${list}?find=${encodeURIComponent(size)}`);
    const row = page.locator("tbody tr").filter({ hasText: name }).first();
    await expect(row.getByTitle(`Rests on a borrowed yield of ${leeks}`)).toContainText("borrowed yield");
    await expectAccessible(page);
    await expectNoSideways(page);
  }
  await page.goto("/items/leeks");
  await expect(page.getByTitle(`Rests on a borrowed yield of ${leeks}`).first()).toBeVisible();

  // The figure opened, down to the source.
  await page.goto("/cuts");
  await page.getByRole("link", { name: `${leeks}:` }).click();
  await expect(page).toHaveURL(/\/figure\/cut\//);
  await expect(answer(page)).toContainText("by a borrowed yield of 44.0 %");
  await expect(page.getByRole("table").first()).toContainText("a test of your own should replace it");
  await expect(page.getByRole("heading", { name: "Borrowed, not read from this kitchen’s scale" })).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
});

test("a test of the house's own replaces it, and both are told", async ({ page }) => {
  await newCut(page, "Beets, peeled", "Red beets");
  await borrow(page, /^67\.0 %, Beets/);
  await page.getByRole("link", { name: "Record a new test" }).click();
  await page.getByLabel("Billed weight").fill("10 lb");
  await part(page, 1).getByLabel("Weight").fill("8 lb");
  await page.getByLabel("Adopt for").selectOption({ label: "Beets, peeled" });
  const ripple = await tryIt(page);
  await expect(ripple).toContainText("no longer on a borrowed yield of Beets, peeled");
  await page.getByRole("button", { name: "Record this test" }).click();
  await expect(page).toHaveURL(/\/tests\/(?!new)/);
  await page.getByRole("link", { name: "Beets, peeled", exact: true }).first().click();
  await expect(answer(page)).toContainText("at a yield of 80.0 %");
  await page.getByText("A borrowed yield is on file, and not used").click();
  await expect(page.getByText("The tests above stand in its place.")).toBeVisible();
  await page.goto("/record");
  await page.locator("main a[href^='/record/']").first().click();
  await expect(page.getByText("no longer on a borrowed yield of Beets, peeled")).toBeVisible();
});

test("typed by hand, refused with sentences, recorded with its source, given back", async ({ page }) => {
  await newCut(page, "Rice, boiled", "Short-grain rice");
  await page.getByRole("radio", { name: "Another yield, typed by hand" }).check();
  await page.getByRole("button", { name: "Borrow this yield" }).click();
  await expect(told(page)).toContainText("Say how much of a hundred is usable");
  for (const [typed, sentence] of [["0", "would leave nothing usable"], ["2.9", "write it with the per cent sign"], ["500 %", "more than four times the whole"], ["some", "is not a yield"]] as const) {
    await page.getByLabel("Usable of what is bought").fill(typed);
    await page.getByRole("button", { name: "Borrow this yield" }).click();
    await expect(told(page)).toContainText(sentence);
    await expect(page.getByLabel("Usable of what is bought")).toHaveValue(typed);
  }
  await page.getByLabel("Usable of what is bought").fill("290 %");
  await page.getByRole("button", { name: "Borrow this yield" }).click();
  await expect(told(page)).toContainText("Say where the yield is from");
  await page.getByLabel("What it is of").fill("Short-grain rice, boiled and drained");
  await page.getByLabel("Where it is from").fill("The mill’s own leaflet, 2024");
  await page.getByRole("button", { name: "Borrow this yield" }).click();
  await expect(answer(page)).toContainText("at a borrowed yield of 290.0 %");
  await expect(page.getByText("The mill’s own leaflet, 2024").first()).toBeVisible();

  await page.getByText("Give the borrowed yield back").click();
  await page.getByRole("button", { name: "Give it back" }).click();
  await expect(answer(page)).toContainText("at least");
  await page.goto("/record");
  await page.locator("main a[href^='/record/']").first().click();
  await expect(page.getByText("The mill’s own leaflet, 2024").first()).toBeVisible();
});

test("what is not costed by weight borrows nothing from tables of weights", async ({ page }) => {
  await newCut(page, "Romaine hearts", "Romaine");
  await expect(page.getByText("Published yields are of weight, and Romaine is not costed by weight.")).toBeVisible();
  await expect(page.getByRole("radio")).toHaveCount(1);
  await page.getByLabel("Usable of what is bought").fill("120");
  await page.getByLabel("What it is of").fill("hearts");
  await page.getByLabel("Where it is from").fill("the grower");
  await page.getByRole("button", { name: "Borrow this yield" }).click();
  await expect(told(page)).toContainText("no more pieces come out than go in");
});

test("a new cut begins with a yield found by words", async ({ page }) => {
  await page.goto("/cuts/new");
  await page.getByLabel("Find a food in the tables").fill("mushrooms whole");
  await page.getByRole("button", { name: "Find" }).click();
  await expect(page).toHaveURL(/find=mushrooms/);
  await expectAccessible(page);
  await page.getByLabel("Name of the cut").fill("Cremini, trimmed");
  await page.getByLabel("Made from").selectOption({ label: "Cremini mushrooms" });
  await page.getByRole("radio", { name: /Mushrooms, whole \(trimmed\)/ }).check();
  await page.getByRole("button", { name: "Record this cut" }).click();
  await expect(answer(page)).toContainText("at a borrowed yield of");
  await expect(page.getByText("US Armed Forces Recipe Service, TM 10-412").first()).toBeVisible();
});

test("without a script the tables are searched and a yield is borrowed", async ({ page, browser, baseURL }) => {
  await newCut(page, "Onions, peeled", "Yellow onions");
  const { pathname } = new URL(page.url());
  const bare = await withoutScripts(browser, baseURL ?? "", "Chef");
  await bare.goto(pathname);
  await bare.getByLabel("Find a food in the tables").fill("onions dry");
  await bare.getByRole("button", { name: "Find" }).click();
  await bare.getByRole("radio", { name: /Onions, dry \(peeled\)/ }).check();
  await bare.getByRole("button", { name: "Borrow this yield" }).click();
  await bare.goto(pathname);
  await expect(bare.locator(".say").first()).toContainText("at a borrowed yield of");
  await bare.context().close();
});
