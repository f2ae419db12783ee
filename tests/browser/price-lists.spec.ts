/** A dealer's price list, from a file with semicolons and decimal commas to one change, and back: a column set right, a question answered, an item chosen, the ripple seen, recorded, the same file again, undone. And files that are none. */
import { deflateRawSync } from "node:zlib";
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, withoutScripts } from "./steps";

test.use({ installation: "price lists" });

interface Sent { readonly name: string; readonly mimeType: string; readonly buffer: Buffer }
const csv = (name: string, lines: readonly string[]): Sent => ({ name, mimeType: "text/csv", buffer: Buffer.from(`${lines.join("\r\n")}\r\n`, "latin1") });
const LINES = ["RIND;;;;;", "TM-1107;Roastbeef;10,85;11,20;LB;13 lb", "TM-1114;Rinderhack;5,35;53,50;LB;", "TM-1135;Hack;3,15;3,15;LB;", "TM-1149;Lammkeule;7,60;7,80;LB;", "TM-1149;Lammkeule;7,60;7,80;LB;", "SH-1;Shallots, peeled;14,00;14,75;CS;5 lb", "TM-1170;Entenkeulen;103,20;auf Anfrage;CS;"];
const list = (name: string, lines = LINES): Sent => csv(name, ["Tarrow Meats;;;;;", "Preisliste gültig ab 30.11.2026;;;;;", "Art.-Nr.;Ware;Preis 1;Preis 2;Einheit;Gebinde", ...lines]);

const choose = async (page: Page, file: Sent): Promise<void> => {
  await page.getByLabel("The file").setInputFiles(file);
  await page.getByRole("button", { name: "Read it", exact: true }).click();
};
const fate = (page: Page, name: RegExp) => page.getByRole("navigation", { name: "The lines, by what becomes of them" }).getByRole("link", { name });

test("from the file to one change, and back @phone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/dealers/tarrow");
  await page.getByRole("link", { name: "Read a price list" }).click();
  await expect(page.getByLabel("Whose list")).toHaveValue("tarrow");
  await expectAccessible(page);
  await choose(page, list("dezember.csv"));
  await expect(page).toHaveURL(/\/lists\/list-/);
  const address = new URL(page.url()).pathname;
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("dezember.csv");
  await expect(page.locator(".say").first()).toContainText("7 lines");
  await expect(page.getByLabel("The prices count from")).toHaveValue("2026-11-30");

  // The first of two prices is last month's: set right once.
  await page.getByText(/^Columns: code in A/).click();
  const layout = page.locator("details.list-layout");
  await expect(layout.getByLabel("Decimals are written")).toHaveValue(",");
  await layout.getByLabel("Price", { exact: true }).selectOption({ label: "D · Preis 2 · “11,20”" });
  await layout.getByRole("button", { name: "Read it this way" }).click();
  await expect(fate(page, /^1 waits for an answer/)).toBeVisible();
  for (const told of [/^1 cannot be read/, /^2 new prices/, /^1 the same as before/, /^1 twice in the list/, /^1 not bought here/]) await expect(fate(page, told)).toBeVisible();
  await expectNoSideways(page);
  await expectAccessible(page);

  // A point that slipped: the old price stands until somebody answers.
  await expect(page.getByText("is the point in its place in $53.50?")).toBeVisible();
  await page.getByLabel("Answer for Rinderhack, row 6").selectOption("$5.35 is meant");
  await page.getByRole("button", { name: "Keep these answers" }).click();
  await expect(fate(page, /^2 the same as before/)).toBeVisible();
  await fate(page, /^2 new prices/).click();
  await expect(page.getByRole("row", { name: /Beef striploin.*10.85 becomes 11.20/ })).toBeVisible();

  await fate(page, /^1 cannot be read/).click();
  await expect(page.getByText("“auf Anfrage” is no price: ask the dealer what it costs")).toBeVisible();

  // One that nobody matched: the likeliest items are offered, and none is taken by itself.
  await fate(page, /^1 not bought here/).click();
  const item = page.getByLabel("Which item is Shallots, peeled, row 10?");
  await expect(item).toHaveValue("");
  await item.selectOption({ index: 1 });
  expect(await item.locator("option:checked").textContent()).toContain("hallots");
  await page.getByRole("button", { name: "Keep these items" }).click();
  await expect(fate(page, /^1 new quote/)).toBeVisible();

  const ripple = page.locator("section", { has: page.getByRole("heading", { name: "What recording it would do" }) });
  await expect(ripple).toContainText("Told as if it applied today; it will apply from Mon 30 Nov 2026.");
  await expect(ripple.getByRole("link", { name: "Beef striploin" }).first()).toBeVisible();
  await page.getByRole("button", { name: "Record these 3 prices" }).click();
  await expect(page).toHaveURL(/\/record\/\d+$/);
  await expect(page.getByText("“Price list dezember.csv”")).toBeVisible();
  const change = page.url();

  // The same file again does nothing.
  await page.goto("/lists/new?dealer=tarrow");
  await choose(page, list("dezember.csv"));
  await expect(page).toHaveURL(new RegExp(`${address}\\?again=yes`));
  await expect(page.getByText("This file was recorded already, so nothing was done.")).toBeVisible();
  await expect(page.getByText("1 cannot be read")).toBeVisible();

  await page.goto(change);
  await page.getByRole("button", { name: "Undo this change" }).click();
  await expect(page).not.toHaveURL(change);
  await expect(page.getByText(/^“Undoes change \d+”$/)).toBeVisible();

  // The next list of the dealer is read by the same columns, wherever they stand.
  await page.goto("/lists/new?dealer=tarrow");
  await choose(page, csv("januar.csv", ["Preis 2;Preis 1;Ware;Art.-Nr.;Einheit;Gebinde", "11,30;10,85;Roastbeef;TM-1107;LB;13 lb"]));
  await expect(page.getByText(/^Columns: code in D, name in C, pack in F, price in A/)).toBeVisible();
  await page.getByRole("button", { name: "Drop this list" }).click();
  await expect(page).toHaveURL(/\/lists$/);
  await expectAccessible(page);
  await expectNoSideways(page);
});

/** A workbook whose sheet unpacks to far more than it may. */
function bomb(): Buffer {
  const packed = deflateRawSync(Buffer.alloc(230 * 1024 * 1024, 0x20), { level: 9 });
  const name = Buffer.from("xl/worksheets/sheet1.xml");
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0); local.writeUInt16LE(20, 4); local.writeUInt16LE(8, 8); local.writeUInt32LE(packed.length, 18); local.writeUInt32LE(230 * 1024 * 1024, 22); local.writeUInt16LE(name.length, 26);
  const central = Buffer.alloc(46);
  central.writeUInt32LE(0x02014b50, 0); central.writeUInt16LE(20, 6); central.writeUInt16LE(8, 10); central.writeUInt32LE(packed.length, 20); central.writeUInt32LE(230 * 1024 * 1024, 24); central.writeUInt16LE(name.length, 28);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0); end.writeUInt16LE(1, 8); end.writeUInt16LE(1, 10); end.writeUInt32LE(46 + name.length, 12); end.writeUInt32LE(30 + name.length + packed.length, 16);
  return Buffer.concat([local, name, packed, central, name, end]);
}

test("files that are no list are refused in a line and nothing is kept; without a script it goes the same way", async ({ page, browser, app }) => {
  await demoKitchen(page);
  await page.goto("/lists/new?dealer=tarrow");
  const alert = page.locator(".told[role=alert]");
  await page.getByRole("button", { name: "Read it", exact: true }).click();
  await expect(alert).toHaveText("Choose the file first.");
  const hostile: readonly Sent[] = [
    { name: "bomb.xlsx", mimeType: "application/octet-stream", buffer: bomb() },
    { name: "picture.csv", mimeType: "text/csv", buffer: Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 74, 70, 73, 70, 0, 1, 2, 3, 0, 0, 0, 0]) },
    { name: "cut.xml", mimeType: "text/xml", buffer: Buffer.from('<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><Catalogue>&b;') },
    csv("heads-alone.csv", ["Code;Name;Price"]),
    csv("empty.csv", [""]),
  ];
  for (const file of hostile) {
    await choose(page, file);
    await expect(alert, file.name).toHaveText(/\w.*[.?]$/);
    await expect(alert.getByRole("listitem"), file.name).toHaveCount(1);
    await expect(page).toHaveURL(/\/lists\/new/);
    await page.reload();
  }
  await page.goto("/lists");
  await expect(page.getByText("waits to be recorded")).toHaveCount(0);

  const plain = await withoutScripts(browser, app.url, "Chef");
  await plain.goto("/lists/new?dealer=tarrow");
  await choose(plain, csv("heads-alone.csv", ["Code;Name;Price"]));
  await expect(plain).toHaveURL(/\/lists\/new\?dealer=tarrow&told=yes/);
  await expect(plain.getByRole("alert")).toContainText("There is no line in this file");
  await choose(plain, csv("plain.csv", ["Code;Name;Price;UOM", "TM-1114;Ground chuck;5.45;LB"]));
  await expect(plain).toHaveURL(/\/lists\/list-/);
  await plain.getByLabel("The prices count from").fill("2026-11-20");
  await plain.getByRole("button", { name: "Count it from this day" }).click();
  await plain.getByRole("button", { name: "Record this price" }).click();
  await expect(plain).toHaveURL(/\/record\/\d+$/);
  await plain.context().close();
});
