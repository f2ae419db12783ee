/** An order for an event: from covers to whole packs by dealer, what is in the house taken off, how sure, two people at once, on paper and as a file. */
import type { Locator, Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, withoutScripts } from "./steps";

test.use({ installation: "orders" });

const dish = (page: Page, number: number): Locator => page.getByRole("group", { name: `dish ${number}`, exact: true });
const wanted = (page: Page, list: "What else is wanted" | "What is in the house already"): Locator => page.getByRole("group", { name: list }).getByRole("combobox", { name: "How much of what" }).first();
const rowOf = (page: Page, item: string): Locator => page.getByRole("row", { name: new RegExp(`^${item}`) }).first();

async function printed(page: Page): Promise<number> {
  return (await page.pdf({ preferCSSPageSize: true })).toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

test("an event is planned, what has to be bought follows, and the dealers’ sheets are printed", async ({ page, browser, baseURL }) => {
  test.setTimeout(120_000);
  await demoKitchen(page);
  await page.goto("/orders");
  await expect(page.getByText("Nobody has planned an order yet.")).toBeVisible();
  await page.getByRole("link", { name: "Plan an order" }).first().click();

  // What is wrong is told where it stands, and nothing typed is lost.
  await page.getByLabel("What it is for").fill("Harbour supper");
  await page.getByLabel("The day it is for").fill("2026-12-12");
  await dish(page, 1).getByLabel("Dish").fill("strip steak");
  await dish(page, 1).getByLabel("Covers").fill("-60");
  await wanted(page, "What else is wanted").fill("3 gal moonlight");
  await page.getByRole("button", { name: "Keep the order" }).click();
  const told = page.getByRole("alert").filter({ hasText: "Nothing was saved" });
  await expect(told).toContainText("Did you mean");
  await expect(told).toContainText("must be above zero");
  await expect(told).toContainText("moonlight");
  await expect(page.getByLabel("What it is for")).toHaveValue("Harbour supper");
  await expectAccessible(page);

  await dish(page, 1).getByLabel("Dish").fill("Pepper strip steak, gratin");
  await dish(page, 1).getByLabel("Covers").fill("60");
  await wanted(page, "What else is wanted").fill("3 gal heavy cream");
  await page.getByRole("button", { name: "Keep the order" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Harbour supper" })).toBeVisible();
  const order = new URL(page.url()).pathname;

  // 60 steaks by whole portions: 13.7 a piece make five pieces, by the yield and never by the factor.
  await expect(rowOf(page, "Beef striploin, boneless")).toContainText("catch weight");
  const cuts = page.getByRole("table", { name: /cuts? to make$/ });
  await expect(cuts.getByRole("row", { name: /^Striploin, trimmed/ })).toContainText("5 pieces");
  await expect(cuts.getByRole("row", { name: /^Striploin, trimmed/ })).toContainText("the mean of");
  await expect(page.getByText("60 × Strip steak 10 oz")).toBeVisible();
  await expect(page.getByRole("table", { name: /beside what was wanted/ })).toContainText("Lean trim");
  await expect(page.getByText("is bought beyond the need, because packs are whole.")).toBeVisible();
  await expectAccessible(page);
  for (const width of [390, 820, 1280]) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoSideways(page);
  }

  // Surer, and twenty steaks are cut already.
  await page.getByRole("link", { name: "Change the order" }).click();
  await wanted(page, "What is in the house already").fill("20 portions strip steak 10 oz");
  await page.getByLabel("How sure that what is cut suffices").selectOption("0.9");
  await page.getByRole("button", { name: "Keep the order" }).click();
  await expect(page.getByText("40 × Strip steak 10 oz")).toBeVisible();
  await expect(cuts.getByRole("row", { name: /^Striploin, trimmed/ })).toContainText("90 % sure");

  // On paper: a page for each dealer, or one of them alone.
  const dealers = await page.locator(".dealer-part").count();
  await page.getByRole("link", { name: "Order sheets to print" }).click();
  await expect(page.locator(".paper")).toHaveCount(dealers);
  await expect(page.locator(".paper").first()).toContainText("Harbour supper, Sat 12 Dec 2026");
  expect(await printed(page)).toBe(dealers);
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.getByRole("link", { name: "A4" }).click();
  await expect(page.locator(".paper-a4")).toHaveCount(dealers);

  const csv = await page.request.get(`${order}/sheet?as=csv`);
  expect(csv.headers()["content-type"]).toContain("text/csv");
  const lines = (await csv.text()).split("\r\n");
  expect(lines[0]).toContain("Dealer,Code,Item,Packs,Pack");
  expect(lines.some((line) => /^Tarrow.*Beef striploin, boneless/.test(line.replaceAll('"', "")))).toBe(true);
  const book = await page.request.get(`${order}/sheet?as=xlsx`);
  expect((await book.body()).subarray(0, 2).toString()).toBe("PK");

  // Somebody else changes it meanwhile, without a script: whoever comes second is told, and loses nothing.
  await page.goto(`${order}/edit`);
  const another = await browser.newContext({ ...(baseURL === undefined ? {} : { baseURL }) });
  await comeIn(await another.newPage(), "Sous chef", "sous chef");
  await another.close();
  const other = await withoutScripts(browser, baseURL ?? "", "Sous chef");
  await other.goto(`${order}/edit`);
  await other.locator("[name='dishes.0.covers']").fill("80");
  await other.getByRole("button", { name: "Keep the order" }).click();
  await expect(other.getByText("60 × Strip steak 10 oz")).toBeVisible();
  await page.getByLabel("Note").fill("Marquee, no gas");
  await page.getByRole("button", { name: "Keep the order" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "Sous chef changed “Harbour supper”" })).toBeVisible();
  await expect(page.getByLabel("Note")).toHaveValue("Marquee, no gas");
  await page.getByRole("button", { name: "Keep mine over theirs" }).click();
  await expect(page.locator(".order-note")).toHaveText("Marquee, no gas");
  await expect(page.getByText("40 × Strip steak 10 oz")).toBeVisible();

  // A dropped one can be taken up again.
  await page.getByRole("button", { name: "Drop the order" }).click();
  await expect(page.getByText("can be taken up again")).toBeVisible();
  await page.getByRole("button", { name: "Take it up again" }).click();
  await expect(page.getByRole("link", { name: "Change the order" })).toBeVisible();
  await page.goto("/orders");
  await expect(page.getByRole("row", { name: /^Harbour supper/ })).toContainText("Sat 12 Dec 2026");
  await expectAccessible(page);
  await expectNoSideways(page);
  await other.context().close();
});
