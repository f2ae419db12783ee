/**
 * Several tests of one thing: the yield history of a cut, how sure it is, tests compared, one left out with its reason
 * and pooled again, an adoption taken back; bad input refused with a sentence; what somebody sees who sees no money.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, tryIt } from "./steps";

test.use({ installation: "tests-history" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Sous chef"); });

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });
const row = (page: Page, day: string) => page.getByRole("table", { name: /newest first/ }).locator("tbody tr").filter({ hasText: day });
const NEWEST = "Butcher test, Tue 13 Oct 2026";

test("a cut's history answers at once: how many, what they yield, how sure, whether the newest is usual @phone", async ({ page }) => {
  await page.goto("/cuts/striploin");
  await page.getByRole("link", { name: "Tests behind Striploin, trimmed" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Tests behind Striploin, trimmed" })).toBeVisible();
  const say = page.locator(".say").first();
  await expect(say).toContainText("It stands on 2 tests, pooled by weight: 67.3 % usable. 9 more tests are neither pooled nor left out. One test is left out.");
  await expect(say).toContainText(/the mean yield lies between [\d.]+ and [\d.]+ % \(95 % sure, from 11 tests\)\./);
  await expect(say).toContainText("The newest, of Tue 13 Oct 2026: 67.1 % usable: within the usual 62.0 to 69.5 %");
  await expect(page.getByText("Only 2 tests stand behind this: 3 are a start.")).toBeVisible();

  await expect(row(page, "Tue 30 Jun 2026")).toContainText("left out: Cut as a roast, the whole tail off");
  await expect(row(page, "Tue 14 Apr 2026")).toContainText("far from the others");
  await expect(row(page, "Tue 2 Dec 2025")).toContainText("behind it");
  // (26.25 × 10.85 − 2.8125 × 5.35) / 17.625
  await expect(row(page, "Tue 13 Oct 2026")).toContainText("15.31");
  await expect(page.getByText("The test of Tue 14 Apr 2026, at 62.3 %, stands far below the others (median 66.8 %)")).toBeVisible();

  await expect(page.getByRole("heading", { name: "Interval of the mean" })).toBeVisible();
  await expect(page.getByText("For prices: where the yield of many pieces lies.")).toBeVisible();
  await expect(page.getByRole("heading", { name: "Interval of the next piece" })).toBeVisible();
  await expect(page.getByText(/^For ordering: what one piece may give you/)).toBeVisible();
  await expect(page.getByRole("img", { name: "11 tests in their order against control limits; the table below has every figure" })).toBeVisible();
  await page.getByText("The chart as a table").click();
  await expect(page.getByRole("table", { name: /in their order/ }).locator("tbody tr")).toHaveCount(11);
  await expectAccessible(page);
  await expectNoSideways(page);
});

test("dealers, cutters and spans of days are compared by an address that can be sent @phone", async ({ page }) => {
  await page.goto("/cuts/striploin/tests");
  await expect(page.getByText(/^Tarrow Meat & Poultry yields more than Ossel & Wray, butchers, by 3\.8 points/)).toBeVisible();
  await page.getByLabel("Compare by").selectOption({ label: "Who cut" });
  await page.getByRole("button", { name: "Compare" }).click();
  await expect(page).toHaveURL(/by=cutter/);
  await expect(page.getByText(/^No difference between block cook and sous chef that these tests can tell/)).toBeVisible();
  await expect(page.getByLabel("Compare by")).toHaveValue("cutter");

  await page.goto("/cuts/striploin/tests?by=date&from=2026-09-01");
  await expect(page.getByText(/^Not enough tests to tell before Tue 1 Sept? 2026 from since Tue 1 Sept? 2026/)).toBeVisible();
  await page.goto("/cuts/striploin/tests?by=date&from=2026-03-01");
  await expect(page.getByText(/^(No difference between|since|before)/).first()).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.goto("/cuts/striploin/tests?by=date&from=the-day-before");
  await expect(page.getByText("“the-day-before” is not a calendar day: give one such as 2026-06-02.")).toBeVisible();
  await page.goto("/cuts/salmon-fillet/tests");
  await expect(page.getByText("Every test that says it is of Skerry Lane Fish: there is nothing to compare it with yet.")).toBeVisible();
  await expect(page.getByText("Control limits need at least 8 tests, and there is 1: fewer would call chance a signal.")).toBeVisible();
  await expect(page.locator(".say").first()).toContainText("One test tells a yield, but not how sure it is.");
});

test("a test leaves the pool with a reason, is tried first, stands in the record, and the adoption is taken back @phone", async ({ page }) => {
  await page.goto("/cuts/striploin/tests");
  await page.getByRole("checkbox", { name: NEWEST }).uncheck();
  // Looking needs no reason; recording does.
  await expect(await tryIt(page, "See what moves")).toContainText("Strip steak 10 oz");
  await page.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(told(page)).toContainText("Say why this test is left out, in a few words: the next reader will ask.");
  const why = page.getByLabel(`Why it is left out: ${NEWEST}`);
  await why.fill("…");
  await page.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(told(page)).toContainText("Say why this test is left out");
  await expect(why).toHaveValue("…");
  await why.fill("Two pieces, one of them another grade");
  await page.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(page.getByRole("region", { name: "What this change did" })).toContainText("Recorded as change");
  await expectAccessible(page);
  await expectNoSideways(page);
  await expect(row(page, "Tue 13 Oct 2026")).toContainText("left out: Two pieces, one of them another grade");
  await expect(page.locator(".say").first()).toContainText("It stands on one test: 67.6 % usable.");
  await page.getByRole("link", { name: "See it in the record" }).click();
  await expect(page.getByRole("main")).toContainText("butcher test of Tue 13 Oct 2026: Two pieces, one of them another grade");

  await page.goto("/cuts/striploin");
  await expect(page.getByText(/^It stands on this test since .* recorded by Sous chef in change \d+/)).toBeVisible();
  await page.getByText("Take it back", { exact: true }).first().click();
  await expect(page.getByText("It would stand again on the tests of Tue 2 Dec 2025 and Tue 13 Oct 2026, as before.")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  const back = page.locator("form").filter({ has: page.locator("[id^='take-back']") });
  await expect(await tryIt(back, "See what moves")).toContainText("Strip steak 10 oz");
  await back.getByRole("button", { name: "Take it back" }).click();
  await expect(page.getByText("Recorded as change").first()).toBeVisible();
  await page.goto("/cuts/striploin/tests");
  await expect(page.locator(".say").first()).toContainText("It stands on 2 tests, pooled by weight: 67.3 % usable.");
  await expect(row(page, "Tue 13 Oct 2026")).toContainText("behind it");
});

test("tests that nobody has decided about are pooled from a coming day, and that too is taken back", async ({ page }) => {
  await page.goto("/cuts/striploin/tests");
  await page.getByRole("checkbox", { name: "Butcher test, Tue 15 Sept 2026" }).or(page.getByRole("checkbox", { name: "Butcher test, Tue 15 Sep 2026" })).check();
  const form = page.locator("form").filter({ has: page.getByRole("button", { name: "Stand on these tests" }) });
  const day = new Date(Date.now() + 10 * 86_400_000).toISOString().slice(0, 10);
  await form.getByLabel("Applies from").fill(day);
  await form.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(page.getByText("It will apply by itself from").first()).toBeVisible();
  await page.goto("/cuts/striploin");
  await expect(page.getByText(/it will stand on 3 tests, by itself\./)).toBeVisible();
  await page.getByText("Take back what waits").click();
  await page.locator("details[open]").getByRole("button", { name: "Take it back" }).click();
  await expect(page).toHaveURL(/\/record\/\d+$/);
  await page.goto("/cuts/striploin");
  await expect(page.getByText(/it will stand on/)).toHaveCount(0);
});

test("what cannot be: no test at all, a test before it was done, an adoption with nothing before it", async ({ page }) => {
  await page.goto("/cuts/striploin/tests");
  for (const label of [NEWEST, "Butcher test, Tue 2 Dec 2025"]) {
    await page.getByRole("checkbox", { name: label }).uncheck();
    await page.getByLabel(`Why it is left out: ${label}`).fill("tub not tared");
  }
  await page.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(told(page)).toContainText("keep at least one");
  await expect(page.getByLabel(`Why it is left out: ${NEWEST}`)).toHaveValue("tub not tared");

  await page.goto("/cuts/striploin/tests");
  await page.getByRole("checkbox", { name: "Butcher test, Tue 20 Jan 2026" }).check();
  const form = page.locator("form").filter({ has: page.getByRole("button", { name: "Stand on these tests" }) });
  await form.getByLabel("Applies from").fill("2026-01-19");
  await form.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(told(page)).toContainText("The test was done on Tue 20 Jan 2026, so a cut can stand on it from that day");
  await form.getByLabel("Applies from").fill("2026-11-24");
  await page.getByRole("checkbox", { name: "Butcher test, Tue 20 Jan 2026" }).uncheck();
  await form.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(told(page)).toContainText("Nothing is different from what the book says already");

  await page.goto("/cuts/salmon-fillet");
  await page.getByText("Take it back", { exact: true }).first().click();
  await expect(page.getByText("It has stood on these tests for as long as it has been on the book")).toBeVisible();
  expect((await page.goto("/cuts/nowhere/tests"))?.status()).toBe(404);
});

test("a cook who sees no money sees weights and yields, and no price", async ({ browser, app }) => {
  const context = await browser.newContext({ baseURL: app.url });
  const cook = await context.newPage();
  await comeIn(cook, "Line cook", "cook");
  await cook.goto("/tests");
  await cook.getByText("All tests of one cut, side by side").click();
  await cook.getByRole("link", { name: "Tests behind Striploin, trimmed" }).click();
  await expect(row(cook, "Tue 13 Oct 2026")).toContainText("67.1");
  await expect(cook.locator(".say").first()).toContainText("67.3 % usable");
  await expect(cook.getByRole("main")).not.toContainText("$");
  await expect(cook.getByRole("main")).not.toContainText("15.31");
  await expect(cook.getByRole("button", { name: "Stand on these tests" })).toHaveCount(0);
  await expectAccessible(cook);
  expect((await cook.goto("/cuts/striploin"))?.status()).toBe(403);
  await context.close();
});

test("without a script a test is unticked, asked about, and comes back unticked", async ({ page, browser, app }) => {
  const context = await browser.newContext({ baseURL: app.url, javaScriptEnabled: false, storageState: await page.context().storageState() });
  const plain = await context.newPage();
  await plain.goto("/cuts/striploin/tests");
  await plain.getByRole("checkbox", { name: NEWEST }).uncheck();
  await plain.getByRole("button", { name: "Stand on these tests" }).click();
  await expect(plain.getByRole("alert").filter({ hasText: "Say why this test is left out" })).toBeVisible();
  await expect(plain.getByRole("checkbox", { name: NEWEST })).not.toBeChecked();
  await expect(plain.getByLabel(`Why it is left out: ${NEWEST}`)).toBeVisible();
  await context.close();
});
