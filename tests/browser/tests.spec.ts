/**
 * Yield tests at the block: recorded with the balance in sight, tried before they are saved, corrected, adopted for a
 * cut; and the bad input of a busy shift, refused with a sentence and nothing lost.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, part, tryIt } from "./steps";

test.use({ installation: "tests" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Block cook"); });

/** A sheet for one of the demo kitchen's items, chosen on the sheet itself. */
async function sheet(page: Page, item: string, kind = "butcher"): Promise<void> {
  await page.goto(`/tests/new?kind=${kind}`);
  await page.getByLabel("Made from").selectOption({ label: item });
}

async function record(page: Page, button = "Record this test"): Promise<void> {
  await page.getByRole("button", { name: button }).click();
}

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });

test("the list says what each test yielded and what stands on it @phone", async ({ page }) => {
  await page.goto("/tests");
  const rows = page.locator("tbody tr");
  await expect(page.locator(".of")).toContainText("tests · as of");
  await expect(rows.filter({ hasText: "Tue 13 Oct 2026" })).toContainText("67.1");
  const days = await rows.evaluateAll((all) => all.map((row) => /\d{1,2} \w{3} \d{4}/.exec(row.textContent)?.[0] ?? "").map((day) => Date.parse(day)));
  expect(days).toEqual([...days].sort((a, b) => b - a));
  await expectAccessible(page);
  await expectNoSideways(page);
});

test("a sheet knows the dealer, the price and the parts of the last test; its result is seen before it is saved @phone", async ({ page }) => {
  await sheet(page, "Beef striploin, boneless");
  await expect(page.getByLabel("Dealer’s price a pound that day")).toHaveValue("10.85");
  await expect(page.getByLabel("Dealer", { exact: true })).toHaveValue("tarrow");
  await expect(part(page, 1).getByLabel("Part")).toHaveValue("Striploin, trimmed to 1/4 in fat");
  await expect(page.getByLabel("Adopt for").locator("option")).toHaveText(["Not yet", "A new cut", "Striploin, trimmed"]);

  // Another choice brings its own figures; what was typed by hand stays.
  await page.getByLabel("Made from").selectOption({ label: "Pork loin, bone-in" });
  await expect(page.getByLabel("Dealer’s price a pound that day")).toHaveValue("4.35");
  await page.getByLabel("Dealer’s price a pound that day").fill("10.90");
  await page.getByLabel("Made from").selectOption({ label: "Beef striploin, boneless" });
  await expect(page.getByLabel("Dealer’s price a pound that day")).toHaveValue("10.90");
  await page.getByLabel("Dealer’s price a pound that day").fill("10.85");

  const left = page.locator(".left-to-account");
  await page.getByLabel("Billed weight").fill("13-8");
  await expect(page.getByText("reads as 13 lb 8 oz")).toBeVisible();
  await part(page, 1).getByLabel("Weight").fill("8.6875 lb");
  await expect(part(page, 1).getByText("reads as 8 lb 11 oz")).toBeVisible();
  await part(page, 2).getByLabel("Weight").fill("1 5/8 lb");
  await part(page, 3).getByLabel("Weight").fill("2 lb 2 oz");
  await part(page, 4).getByLabel("Weight").fill("10 oz");
  await expect(left).toContainText("7 oz of 13 lb 8 oz");
  await expect(left).toBeInViewport();
  await part(page, 5).getByLabel("Weight").fill("4 oz");
  await expect(left).toContainText("3 oz of 13 lb 8 oz");

  await page.getByLabel("Adopt for").selectOption({ label: "Striploin, trimmed" });
  const ripple = await tryIt(page);
  // 13.5 lb at 10.85 is 146.475; 1 5/8 lb of trim at ground chuck's 5.35 is 8.69375; over 8 lb 11 oz that is 15.86.
  await expect(ripple).toContainText("64.4 % usable, 1.4 % lost; $15.86 a pound of usable weight.");
  await expect(ripple.getByRole("table").first()).toContainText("137.78");
  await expect(ripple.getByRole("heading", { name: "Portion specs" })).toBeVisible();
  await expect(ripple).toContainText("Strip steak");
  await expect(part(page, 2).getByLabel("Weight")).toHaveValue("1 5/8 lb");
  await expectAccessible(page);
  await expectNoSideways(page);

  // It was tried, not saved.
  await page.goto("/tests");
  await expect(page.locator("tbody")).not.toContainText("64.4");
});

test("recorded alone, then pooled with an earlier test from its own page", async ({ page }) => {
  await sheet(page, "Lamb leg, bone-in");
  await page.getByLabel("Billed weight").fill("9 lb");
  await part(page, 1).getByLabel("Weight").fill("5 lb");
  await record(page);
  await expect(page.locator(".say").first()).toContainText("55.6 % usable");
  // 4 lb of 9 are in no part: asked about, not refused.
  await expect(page.getByText("4 lb (44.4 %) is unaccounted for. Purge? A part not weighed?")).toBeVisible();
  await expect(page.getByText("Nothing is costed by this test yet.")).toBeVisible();
  await expect(page.getByRole("heading", { name: "Beside the other tests" })).toBeVisible();

  await page.getByLabel("Adopt for").selectOption({ label: "Lamb leg, seamed" });
  await page.getByLabel(/^Pooled by weight with the test/).check();
  await page.getByLabel("How a new dealer’s price reaches it").selectOption("by-factor");
  await expect(await tryIt(page, "See what moves")).toContainText("Lamb leg, seamed");
  await record(page, "Adopt this test");
  await expect(page.getByText("pooled with 1 other test")).toBeVisible();
  await page.getByRole("link", { name: "Lamb leg, seamed", exact: true }).first().click();
  await expect(page.getByText("2 tests, pooled by weight")).toBeVisible();
  await expect(page.getByText("by the factor, as chosen here")).toBeVisible();
});

test("a trim test in kilos is the same with less to fill in", async ({ page }) => {
  await sheet(page, "Leeks", "trim");
  await page.getByLabel("Weight as purchased").fill("4.5 kg");
  await part(page, 1).getByLabel("Weight").fill("2 kg 700 g");
  await expect(page.locator(".left-to-account")).toContainText("1.8 kg of 4.5 kg");
  await record(page);
  await expect(page.locator(".say").first()).toContainText("60.0 % usable");
  await expect(page.getByText("Trim, not weighed")).toBeVisible();
});

test("a cooking-loss test follows a butcher test and carries its net cost in", async ({ page }) => {
  await page.goto("/tests");
  await page.locator("tbody tr").filter({ hasText: "Pork loin, bone-in" }).getByRole("link").first().click();
  await page.getByRole("link", { name: "Add its cooking-loss test" }).click();
  await expect(page.getByLabel("Made from")).toHaveValue("cut:pork-loin");
  await expect(page.getByText("Carries in the net cost of Pork loin, boneless, after its by-products: today 6.17 $/lb.")).toBeVisible();
  await page.getByLabel("Original weight").fill("10 lb");
  await page.getByLabel("Trimmed weight, as it went in").fill("9 lb 12 oz");
  await page.getByLabel("Cooked weight, as it came out").fill("8 lb");
  await page.getByLabel("Method").fill("Roasted");
  await part(page, 1).getByLabel("Weight").fill("7 lb 8 oz");
  await expect(page.locator(".left-to-account")).toContainText("8 oz of 8 lb");
  await record(page);
  await expect(page.getByText(/^Carries in the net cost of/)).toBeVisible();
  await expect(page.getByRole("table").first()).toContainText("Pork loin, boneless, at its net cost");
  // Cooked over trimmed 8/9.75; saleable over original 7.5/10, and 55.8 % of that over what was first bought.
  await expect(page.getByText("Yield of the cooking 82.1")).toBeVisible();
  await expect(page.getByText("overall 41.8")).toBeVisible();
  await expectAccessible(page);
});

test("a correction takes the place of what was recorded, and names it", async ({ page }) => {
  await page.goto("/tests");
  await page.locator("tbody tr").filter({ hasText: "Carrots, jumbo" }).getByRole("link").first().click();
  await expect(page.locator(".say").first()).toContainText("81.9 % usable");
  await page.getByRole("link", { name: "Correct" }).click();
  await expect(part(page, 1).getByLabel("Weight")).toHaveValue("8 lb 3 oz");
  await part(page, 1).getByLabel("Weight").fill("8 lb");
  await page.getByLabel("Why").fill("The tub was not tared");
  await expect(await tryIt(page)).toContainText("80.0 % usable");
  await record(page, "Record the correction");
  await expect(page.locator(".say").first()).toContainText("80.0 % usable");
  await expect(page.getByText("It takes the place of what")).toContainText("The tub was not tared");
  await page.getByText("It takes the place of what").getByRole("link").first().click();
  await expect(page.locator("main")).toContainText("The tub was not tared");
});

test("several usable parts: every way to share the cost side by side, the total unchanged", async ({ page }) => {
  await page.goto("/tests");
  await page.locator("tbody tr").filter({ hasText: "Chicken, whole" }).getByRole("link").first().click();
  const shares = page.getByRole("table").filter({ hasText: "By what each would cost bought ready trimmed, in force" });
  await expect(shares.locator("tbody tr")).toHaveCount(3);
  for (const row of await shares.locator("tbody tr").all()) await expect(row).toContainText("29.73");
  await page.getByText(/^Adopt it for another cut/).click();
  await expect(page.getByRole("radio", { name: "Legs, boned, skin off" })).toBeVisible();
  await expect(page.getByText("Why two?")).toBeVisible();
});

test("soaking and boiling gain weight, and are told so", async ({ page }) => {
  await sheet(page, "White beans, dried", "hydration");
  await page.getByLabel("Dry weight").fill("2 lb");
  await part(page, 1).getByLabel("Weight").fill("4 lb 12 oz");
  await expect(page.locator(".left-to-account")).toContainText("2 lb 12 oz on 2 lb");
  await expect(page.locator(".left-to-account .wrong")).toHaveCount(0);
  await record(page);
  await expect(page.locator(".say").first()).toContainText("237.5 % of the dry weight, 137.5 % water taken up");
});

const BAD: readonly { readonly what: string; readonly type: (page: Page) => Promise<void>; readonly says: string }[] = [
  {
    what: "parts heavier than the whole", says: "Parts add to 19 lb but the piece weighed 18 lb 6 oz: 10 oz too much.",
    type: async (page) => { await part(page, 2).getByLabel("Weight").fill("9 lb"); },
  },
  {
    what: "by-products worth more than what was paid", says: "By-products are credited with 285",
    type: async (page) => {
      await part(page, 2).getByLabel("What it is").selectOption("by-product");
      await part(page, 2).getByLabel("Weight").fill("3 lb");
      await part(page, 2).getByLabel("Or takes the place of").selectOption("");
      await part(page, 2).getByLabel("Worth to this house").fill("95");
    },
  },
  { what: "a weight of nothing", says: "The billed weight must be above zero.", type: async (page) => { await page.getByLabel("Billed weight").fill("0"); } },
  { what: "a negative weight", says: "“-2 lb” is below zero", type: async (page) => { await part(page, 2).getByLabel("Weight").fill("-2 lb"); } },
  { what: "a price of nothing", says: "The price must be above zero.", type: async (page) => { await page.getByLabel("Dealer’s price a pound that day").fill("0"); } },
  { what: "a negative price", says: "“-4” is below zero", type: async (page) => { await page.getByLabel("Dealer’s price a pound that day").fill("-4"); } },
  { what: "quarts for a weight", says: "is in qt, but what was billed is a weight in lb: give it as a weight.", type: async (page) => { await part(page, 2).getByLabel("Weight").fill("1 qt"); } },
  { what: "a note of 100,000 characters", says: "The note is 100,000 characters long; at most 2,000 fit. Shorten it.", type: async (page) => { await page.getByLabel("Note").fill("x".repeat(100_000)); } },
  { what: "a day to come", says: "is still to come; today is", type: async (page) => { await page.getByLabel("Day of the test").fill("2199-01-05"); } },
  { what: "pieces that do not add up", says: "The pieces of Loin, boneless, 1/8 in fat add to 12 lb but the part weighed 10 lb", type: async (page) => { await part(page, 1).getByLabel("Pieces, one by one").fill("6 lb; 6 lb"); } },
  {
    what: "a cut that stands on it before it was done", says: "so a cut can stand on it from that day",
    type: async (page) => {
      await page.getByLabel("Adopt for").selectOption("new");
      await page.getByLabel("Name of the cut").fill("Too early");
      await page.getByLabel("Applies from").fill("2026-01-01");
    },
  },
];

test("bad input: a sentence, nothing saved, nothing lost", async ({ page }) => {
  await page.goto("/tests");
  const before = await page.locator(".of").innerText();
  for (const { what, type, says } of BAD) {
    await test.step(what, async () => {
      await sheet(page, "Pork loin, bone-in");
      await page.getByLabel("Billed weight").fill("18 lb 6 oz");
      await part(page, 1).getByLabel("Weight").fill("10 lb");
      await type(page);
      await record(page);
      await expect(told(page)).toContainText(says);
      await expect(part(page, 1).getByLabel("Weight")).toHaveValue("10 lb");
    });
  }
  await expectAccessible(page);
  await page.goto("/tests");
  await expect(page.locator(".of")).toHaveText(before);
});

test("cooked heavier than what went in @phone", async ({ page }) => {
  await page.goto("/tests/new?kind=cooking&cut=pork-loin");
  await page.getByLabel("Original weight").fill("10 lb");
  await page.getByLabel("Trimmed weight, as it went in").fill("9 lb");
  await page.getByLabel("Cooked weight, as it came out").fill("9 lb 8 oz");
  await part(page, 1).getByLabel("Weight").fill("8 lb");
  await record(page);
  await expect(told(page)).toContainText("Cooked 9 lb 8 oz is more than the 9 lb that went in to the heat.");
  await expect(page.getByLabel("Cooked weight, as it came out")).toHaveValue("9 lb 8 oz");
  await expectNoSideways(page);
});

test("two people adopt a test for one cut: the second is told", async ({ page, browser, app }) => {
  await sheet(page, "Beef striploin, boneless");
  await page.getByLabel("Billed weight").fill("13 lb");
  await part(page, 1).getByLabel("Weight").fill("8 lb 8 oz");
  const other = await browser.newPage({ baseURL: app.url });
  await demoKitchen(other, "Sous chef");
  await other.goto("/cuts/striploin");
  await other.getByLabel("Cutting specification").fill("Fat cover 1/8 in");
  await other.getByRole("button", { name: "Record the change" }).first().click();
  await expect(other.locator("main")).toContainText("Recorded as change");
  await other.close();

  await page.getByLabel("Adopt for").selectOption({ label: "Striploin, trimmed" });
  await record(page);
  const stale = page.getByRole("alert").filter({ hasText: "Sous chef" });
  await expect(stale).toContainText("Adopted tests");
  await expect(stale).not.toContainText("no longer in the book");
  await expect(part(page, 1).getByLabel("Weight")).toHaveValue("8 lb 8 oz");
  // Recorded over theirs, it changes which test the cut stands on, and leaves the rest as they wrote it.
  await page.getByRole("button", { name: "Record mine over theirs" }).click();
  await page.getByRole("link", { name: "Striploin, trimmed", exact: true }).first().click();
  await expect(page.getByText("Fat cover 1/8 in").first()).toBeVisible();
  await expect(page.locator("main")).toContainText("1 test");
});

test("a test that a cut stands on cannot be taken off", async ({ page }) => {
  await page.goto("/tests/salmon-2025-12-04");
  await page.getByText("Take this test off the book").click();
  await page.getByRole("button", { name: "Take it off" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "cannot be taken off the book while it is used by: cut Salmon fillet, skinless" })).toBeVisible();
});

test("a test that is not there", async ({ page }) => {
  for (const path of ["/tests/nowhere", "/tests/nowhere/edit"]) {
    expect((await page.goto(path))?.status(), path).toBe(404);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("That is not in this book");
  }
});
