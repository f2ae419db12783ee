/** The form of a yield test on paper, blank for the clipboard and filled in: one page each, on Letter and on A4, and for a cook without money. */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways } from "./steps";

test.use({ installation: "paper" });

/** Points of an inch's 72nd. */
const SIZES = { letter: [612, 792], a4: [594.96, 841.92] } as const;

/** The pages of what would be printed, each with its size. */
async function printed(page: Page): Promise<{ readonly pages: number; readonly size: readonly number[] }> {
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  const box = /\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]/.exec(pdf);
  return { pages: pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0, size: [Number(box?.[1]), Number(box?.[2])] };
}

const FORMS: readonly (readonly [what: string, address: string, says: readonly string[]])[] = [
  ["filled, a butcher test", "/tests/striploin-2026-01-20/paper", ["Butcher test: Beef striploin, boneless", "Purge in the bag", "left to account for, by difference", "Recorded by"]],
  ["filled, several usable parts and pieces", "/tests/chicken-2025-12-03/paper", ["Butcher test: Chicken, whole", "Carcass and leg bones"]],
  ["filled, at the heat", "/tests/pork-roast-2026-09-09/paper", ["Into the heat", "Out of the heat"]],
  ["blank, as the last test was", "/tests/paper?of=item:beef-striploin", ["Butcher test: Beef striploin, boneless", "Striploin, trimmed to 1/4 in fat", "Left to account for", "Lot or pack date"]],
  ["blank, of a cut that is cooked", "/tests/paper?of=cut:pork-loin&kind=cooking", ["Into the heat", "Roast loin, sliced"]],
  ["blank, of anything", "/tests/paper", ["What is worked", "All parts added"]],
];

test("one page each, of the size that was asked for", async ({ page }) => {
  test.setTimeout(180_000);
  await demoKitchen(page);
  for (const [what, address, says] of FORMS) {
    for (const paper of ["letter", "a4"] as const) {
      await test.step(`${what}, ${paper}`, async () => {
        await page.goto(`${address}${address.includes("?") ? "&" : "?"}paper=${paper}`);
        for (const words of says) await expect(page.locator(".paper")).toContainText(words);
        const { pages, size } = await printed(page);
        expect(pages, what).toBe(1);
        SIZES[paper].forEach((points, side) => { expect(Math.abs((size[side] ?? 0) - points)).toBeLessThan(1); });
      });
    }
  }
});

test("an American kitchen gets Letter unless it asks for A4; in print there is the form alone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto("/tests");
  await page.getByRole("link", { name: "a blank form on paper" }).click();
  await expect(page.getByRole("link", { name: "Letter" })).toHaveAttribute("aria-current", "page");
  await page.getByLabel("What will be worked").selectOption({ label: "Carrots, jumbo" });
  await page.getByRole("button", { name: "Show its form" }).click();
  await expect(page.locator(".paper h2")).toHaveText("Trim test: Carrots, jumbo");
  await page.getByRole("link", { name: "A4" }).click();
  await expect(page.locator(".paper-a4 h2")).toHaveText("Trim test: Carrots, jumbo");
  await page.emulateMedia({ media: "print" });
  await expect(page.locator(".print-bar, .index, form, h1").filter({ visible: true })).toHaveCount(0);
  await expect(page.locator(".paper footer")).toContainText("by Chef");
  // There is room for a pencil: at least 8 mm of 96/25.4 pixels.
  const heights = await page.locator(".paper tbody tr").evaluateAll((rows) => rows.map((row) => row.getBoundingClientRect().height));
  for (const height of heights) expect(height).toBeGreaterThanOrEqual(8 * 96 / 25.4);
});

test("the forms on the screen @phone", async ({ page }) => {
  await demoKitchen(page);
  for (const address of ["/tests/paper?of=item:beef-striploin", "/tests/striploin-2026-01-20/paper"]) {
    await page.goto(address);
    await expect(page.getByRole("button", { name: "Print" })).toBeVisible();
    await expectAccessible(page);
    await expectNoSideways(page);
  }
});

test("a cook who sees no money has none on paper either", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const context = await browser.newContext({ baseURL: app.url });
  const cook = await context.newPage();
  await comeIn(cook, "Line cook", "cook");
  for (const address of ["/tests/striploin-2026-01-20/paper", "/tests/paper?of=item:beef-striploin"]) {
    const answer = await cook.goto(address);
    expect(answer?.status()).toBe(200);
    await expect(cook.locator(".paper")).toContainText("Striploin, trimmed");
    expect(await cook.content()).not.toMatch(/\$\s?\d+\.\d/);
    await expect(cook.locator("main")).not.toContainText("$");
    await expect(cook.locator(".paper")).not.toContainText(/Worth|price/);
  }
  await context.close();
});

test("a test that is not there", async ({ page }) => {
  await demoKitchen(page);
  expect((await page.goto("/tests/nowhere/paper"))?.status()).toBe(404);
  await page.goto("/tests/paper?of=item:nowhere&kind=nonsense&paper=napkin");
  await expect(page.locator(".paper-letter h2")).toHaveText("Butcher test");
});
