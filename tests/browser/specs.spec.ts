/** Portions: the usual tolerance offered, what is given away, sizes that divide the piece well, the card for the station, and prices by size. */
import fs from "node:fs";
import type { Page } from "@playwright/test";
import { readWorkbook, reckon } from "../exchange/read-workbook";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, tryIt } from "./steps";

test.use({ installation: "specs" });

async function pages(page: Page): Promise<number> {
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  return pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

test("a portion says what it gives away, which sizes divide well, and what another size does to the menu @phone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/specs/lamb-steak-7");
  await expect(page.getByText(/: 1\/4 oz with each portion, 3\.6 % of it, which is \$0\.17 a portion/)).toBeVisible();
  const sizes = page.getByRole("table", { name: /Counted out on the 2 pieces/ });
  await expect(sizes.getByRole("row", { name: /7 1\/2 oz divides well/ })).toContainText("22");
  await expect(sizes.getByRole("row", { name: /7 oz as it is/ })).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.getByLabel("Size, before cooking").fill("7 1/2");
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table", { name: "The portion, before and after" })).toContainText("7 1/4 oz → becomes 7 1/2 oz");
  await expect(ripple).toContainText("The mean weight of 7 1/4 oz was weighed when the size was 7 oz, so it falls away");
  await expect(ripple).toContainText("The size goes from 7 oz to 7 1/2 oz: the weight promised on the menu must follow.");
  await expect(ripple.getByRole("note").getByRole("link", { name: "Lamb leg steak, white beans" })).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
});

test("the usual tolerance is offered and never filled in; a mean under it is a promise broken; a new size takes the mean with it", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/cuts/striploin/specs/new");
  await page.getByLabel("Name of the portion").fill("Strip steak 12 oz");
  await page.getByLabel("Size, before cooking").fill("12");
  await expect(page.getByLabel("May be under or over by")).toHaveValue("");
  await page.getByRole("button", { name: "Take the usual ± 3/4 oz" }).click();
  await expect(page.getByLabel("May be under or over by")).toHaveValue("3/4 oz");
  await page.getByLabel("Thickness").fill("1 1/4 in");
  await expect(page.getByText("Usually ± 1/4 in")).toBeVisible();
  await page.getByLabel("Mean weight as cut").fill("11");
  await page.getByLabel("How many were weighed").fill("8");
  await page.getByRole("button", { name: "Record this portion" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Strip steak 12 oz" })).toBeVisible();
  await expect(page.getByRole("alert").filter({ hasText: "A promise broken, not a saving." })).toContainText("1 oz (8.3 %) under the size, and more than the tolerance of 3/4 oz allows");
  const atEleven = await page.locator(".say").first().innerText();

  // The size follows what is cut: the mean of the old size goes, and the cost of 11 oz stays.
  await page.getByLabel("Size, before cooking").fill("11 oz");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.locator(".of").first()).toContainText("11 oz ± 3/4 oz");
  await expect(page.getByLabel("Mean weight as cut")).toHaveValue("");
  expect(await page.locator(".say").first().innerText()).toBe(atEleven);
  await page.goto("/record");
  await page.getByRole("link", { name: /Strip steak 12 oz/ }).first().click();
  await expect(page.locator("main, .sheet").first()).toContainText("Mean weight as cut");

  await page.goto("/specs/shrimp-4");
  await page.getByLabel("Mean weight as cut").fill("1 cup");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "Nothing was saved" })).toBeVisible();
  await expect(page.getByLabel("Mean weight as cut")).toHaveValue("1 cup");
});

test("the card for the station: one page on either paper, no money, for a cook too @phone", async ({ page, isMobile }) => {
  await demoKitchen(page);
  await page.goto("/specs/shrimp-4/card");
  for (const words of ["Shrimp 4 oz", "from 3 3/4 oz to 4 1/4 oz", "5, 0.8 oz each", "13 from 3 lb 6 oz", "No broken ones"]) await expect(page.locator(".station-card")).toContainText(words);
  await expectAccessible(page);
  await expectNoSideways(page);
  if (isMobile) return;
  for (const paper of ["letter", "a4"]) {
    await page.goto(`/specs/strip-steak-10/card?paper=${paper}`);
    expect(await pages(page)).toBe(1);
  }
  await comeIn(page, "Cook", "cook");
  await page.goto("/specs/strip-steak-10/card");
  await expect(page.locator(".station-card")).toContainText("14 from 8 lb 14 oz");
  await expect(page.locator("body")).not.toContainText("$");
  expect((await page.goto("/specs/strip-steak-10/prices"))?.status()).toBe(403);
  expect((await page.request.get("/specs/strip-steak-10/prices/sheet")).status()).toBe(403);
});

test("portions by price: on the screen, on one page, and as a workbook that reckons @phone", async ({ page, isMobile }) => {
  await demoKitchen(page);
  await page.goto("/cuts/lamb-leg");
  await page.getByRole("link", { name: "by price and size: Lamb leg steak 7 oz" }).click();
  const today = page.getByRole("row").filter({ has: page.getByRole("rowheader", { name: /today$/ }) });
  await expect(today).toContainText("4.93");
  await expect(page.getByRole("columnheader", { name: /as cut/ })).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.getByLabel("Step between prices").fill("0.25");
  await page.getByLabel("How many prices").fill("5");
  await page.getByLabel("Sizes").fill("6 oz; 8 oz");
  await page.getByRole("button", { name: "Show the chart" }).click();
  await expect(page).toHaveURL(/step=0\.25&rows=5/);
  await expect(page.getByRole("rowheader")).toHaveText(["7.10", "7.35", "7.60 today", "7.85", "8.10"]);
  if (isMobile) return;

  const download = page.waitForEvent("download");
  await page.getByRole("link", { name: "As a spreadsheet" }).click();
  const file = await download;
  expect(file.suggestedFilename()).toBe("Lamb-leg-steak-7-oz-by-price.xlsx");
  const sheets = readWorkbook(fs.readFileSync(await file.path()));
  const [name = "", sheet] = [...sheets][0] ?? [];
  const row = [...(sheet ?? [])].find(([, cell]) => cell.text === "today")?.[0].slice(1) ?? "";
  // Price, today, the cut, then 6, 7, 7 1/4 and 8 oz.
  expect(reckon(sheets, name, `F${row}`).toFixed(2)).toBe("4.93");
  expect(reckon(sheets, name, `F${row}`, { [`${name}!A${row}`]: 8.1 })).toBeGreaterThan(4.93);

  for (const paper of ["letter", "a4"]) {
    await page.goto(`/specs/lamb-steak-7/prices?rows=31&sizes=5;5.5;6;6.5;7;7.5;8;8.5;9;9.5&paper=${paper}`);
    expect(await pages(page)).toBe(1);
  }
  await page.goto("/specs/lamb-steak-7/prices?step=none&rows=1000&sizes=1+cup");
  await expect(page.getByRole("alert").filter({ hasText: "Give how many prices as a whole number from 3 to 31" })).toBeVisible();
  await expect(page.getByLabel("Sizes")).toHaveValue("1 cup");
  await expect(page.locator(".price-paper tbody tr")).toHaveCount(15);
});
