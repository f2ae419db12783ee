/**
 * Deliveries: what the demo's dealers billed and what is claimed of it; an invoice from a UBL file, weighed at the door, its
 * prices taken over with the ripple shown; the same paper a second time; cartons by their GS1 codes; a letter to the dealer.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, line, tryIt, withoutScripts } from "./steps";

test.use({ installation: "deliveries" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Chef"); });

const INVOICE = readFileSync(join(import.meta.dirname, "../exchange/fixtures/invoice.xml"), "utf8")
  .replace("Valley Meats", "Tarrow Meat &amp; Poultry").replace("<b:Name>Beef short loin</b:Name>", "<b:Name>Striploin bnls</b:Name>").replace("<b:ID>180</b:ID>", "<b:ID>TM-1107</b:ID>")
  .replaceAll("7.10", "11.95").replace("131.35", "221.08").replace("Chicken stock", "Slab bacon, sliced").replaceAll("41.77", "84.00");

const filling = (page: Page) => page.locator("details.fill");

test("an invoice comes as a file, is weighed, and its prices become the dealer’s; the same paper again is asked about", async ({ page }) => {
  await page.goto("/deliveries");
  await expect(page.locator(".say").first()).toContainText("One delivery came short of what was billed: $16.55 to be claimed");
  await expectAccessible(page);
  await page.getByRole("link", { name: "Record a delivery" }).click();
  await expect(page.getByText("your local food code says", { exact: false }).first()).toBeVisible();
  await expectAccessible(page);

  // What is no invoice is told for what it is; what was typed below stays.
  await line(page, 1).getByLabel("Item").fill("Ground pork");
  await line(page, 1).getByLabel("Billed, in all").fill("20 lb");
  await line(page, 1).getByLabel("Price").fill("3.15");
  await filling(page).locator("input[type=file]").setInputFiles({ name: "invoice.pdf", mimeType: "application/pdf", buffer: Buffer.from("%PDF-1.7") });
  await filling(page).getByRole("button", { name: "Fill in the lines" }).click();
  await expect(filling(page).getByRole("alert")).toContainText("This is a PDF");
  await filling(page).locator("input[type=file]").setInputFiles({ name: "VM.xml", mimeType: "text/xml", buffer: Buffer.from(INVOICE) });
  await filling(page).getByRole("button", { name: "Fill in the lines" }).click();
  await expect(page.getByRole("status").filter({ hasText: "Invoice VM-20417 of Tarrow Meat & Poultry: 2 lines were read." })).toBeVisible();
  await expect(line(page, 1).getByLabel("Item")).toHaveValue("Ground pork");
  await expect(line(page, 2).getByLabel("Item")).toHaveValue("Beef striploin, boneless");
  await expect(line(page, 2).getByLabel("Billed, in all")).toHaveValue("18.50 lb");
  await expect(line(page, 2).getByLabel("Lot")).toHaveValue("L4711");
  await expect(line(page, 3).getByLabel("Billed, in all")).toHaveValue("15 lb");
  await expect(page.getByLabel("Its number")).toHaveValue("VM-20417");

  await line(page, 2).getByLabel("Received").fill("17 lb 12 oz");
  await page.getByLabel("Day on the paper", { exact: true }).fill("2026-11-24");
  await page.getByLabel("Take these prices over").check();
  const ripple = await tryIt(page);
  await expect(ripple).toContainText("Beef striploin, boneless");
  await page.getByRole("button", { name: "Record this delivery" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Invoice VM-20417" })).toBeVisible();
  await expect(page.locator(".say").first()).toContainText("One line came short: $8.96 to be claimed of the dealer, which is not yield. One line is dearer than quoted");
  const row = page.getByRole("row").filter({ hasText: "Beef striploin, boneless" }).first();
  await expect(row).toContainText("12 oz short");
  await expect(row).toContainText("dearer by 1.10 / lb than quoted (10.85)");
  await expectAccessible(page);
  await page.goto("/items/beef-striploin");
  await expect(page.locator(".say").first()).toContainText("$11.95");

  // The same paper once more: asked, and nothing half saved.
  await page.goto("/deliveries/new");
  await filling(page).locator("input[type=file]").setInputFiles({ name: "VM.xml", mimeType: "text/xml", buffer: Buffer.from(INVOICE) });
  await filling(page).getByRole("button", { name: "Fill in the lines" }).click();
  await expect(line(page, 1).getByLabel("Item")).toHaveValue("Beef striploin, boneless");
  await line(page, 1).getByLabel("Total of the line").fill("221.18");
  await page.getByRole("button", { name: "Record this delivery" }).click();
  const asked = page.getByRole("status").filter({ hasText: "to be sure of first" });
  await expect(asked).toContainText("price times quantity is 221.08, the paper says 221.18");
  await expect(asked).toContainText("This line of invoice VM-20417 is already entered, on Tue 24 Nov 2026");
});

test("cartons are scanned, a table is read without a script, and the claim is a letter that fits the paper", async ({ page, browser, baseURL }) => {
  await page.goto("/deliveries/new?dealer=tarrow");
  await filling(page).getByLabel("Codes of cartons").fill("(01)90614141000015(3202)001340(10)C1(17)261210\n(01)90614141000016");
  await filling(page).getByRole("button", { name: "Fill in the lines" }).click();
  await expect(filling(page).getByRole("alert")).toContainText("Carton 2: The item number “90614141000016” does not hold");
  await filling(page).getByLabel("Codes of cartons").fill("(01)90614141000015(3202)001340(10)C1(17)261210\n(01)90614141000015(3202)001310(10)C2(17)261208");
  await filling(page).getByRole("button", { name: "Fill in the lines" }).click();
  await expect(page.getByText("no item of the book is known by that")).toBeVisible();
  await expect(line(page, 1).getByLabel("Billed, in all")).toHaveValue("26.5 lb");
  await expect(line(page, 1).getByLabel("Use by")).toHaveValue("2026-12-08");
  await page.getByRole("button", { name: "Record this delivery" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "Nothing was saved" })).toContainText("Say which item was billed");
  await line(page, 1).getByLabel("Item").fill("Lamb leg, bone-in");
  await line(page, 1).getByLabel("Price").fill("7.60");
  await line(page, 1).getByLabel("for", { exact: true }).selectOption("lb");
  await page.getByLabel("Its number").fill("31299");
  await page.getByRole("button", { name: "Record this delivery" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Invoice 31299" })).toBeVisible();
  await expect(page.getByText("lot C1, C2", { exact: false })).toBeVisible();
  await page.getByRole("link", { name: "Correct it" }).click();
  await line(page, 1).getByLabel("Received").fill("26 lb 8 oz");
  await page.getByRole("button", { name: "Record the correction" }).click();
  await expect(page.locator(".say").first()).toContainText("Nothing to claim");

  await page.goto("/deliveries/claims/tarrow");
  const letter = page.getByRole("region", { name: "The letter" });
  await expect(letter).toContainText("billed 26.4 lb, received 24 lb 14 oz");
  await expect(letter).toContainText("billed at 4.45 / lb, quoted 4.35");
  await expectAccessible(page);

  const plain = await withoutScripts(browser, baseURL ?? "", "Chef");
  await plain.goto("/deliveries/new");
  await plain.locator("details.fill select[name=dealerId]").selectOption("tarrow");
  await plain.locator("details.fill input[type=file]").setInputFiles({ name: "bill.csv", mimeType: "text/csv", buffer: Buffer.from("Item;Code;Cases;Weight lb;Price;Per;Total\nStriploin;TM-1107;1;13,2;10,85;lb;143,22\n") });
  await plain.locator("details.fill button[type=submit]").click();
  await expect(plain.getByText("One line was read")).toBeVisible();
  await expect(plain.locator("input[name='lines.0.item']")).toHaveValue("Beef striploin, boneless");
  await expect(plain.locator("input[name='lines.0.billed']")).toHaveValue("13.2 lb");
  await plain.context().close();
});

test("the pages of a delivery are no wider than the screen @phone @tablet", async ({ page }) => {
  for (const address of ["/deliveries", "/deliveries/new", "/deliveries/tarrow-31207", "/deliveries/tarrow-31207/edit", "/deliveries/claims/tarrow"]) {
    await page.goto(address);
    await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
    await expectNoSideways(page);
    // The others are looked at in the stories above.
    if (address.endsWith("31207") || address.endsWith("edit")) await expectAccessible(page);
  }
});
