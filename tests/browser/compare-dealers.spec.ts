/** The cheapest asked price against the cheapest usable pound, what the tests can tell, another dealer tried; and a portion cut here or bought cut. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, tryIt } from "./steps";

test.use({ installation: "compare-dealers" });

test("dealers side by side, then make or buy", async ({ page }) => {
  test.setTimeout(120_000);
  await demoKitchen(page);
  await page.goto("/items/beef-striploin");
  await page.getByRole("link", { name: "Compare the dealers by what is left of their goods" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Beef striploin, boneless: dealers compared" })).toBeVisible();
  await expect(page.locator(".say").first()).toContainText("asks least");
  await expect(page.locator(".say").first()).toContainText("is cheapest as used");
  const side = page.getByRole("table", { name: /^2 dealers, the cheapest as used first/ });
  await expect(side.getByRole("row", { name: /^Tarrow Meat & Poultry bought from now/ })).toContainText("tests of their own");
  await expect(page.getByRole("listitem").filter({ hasText: "the tests cannot tell them apart" })).toContainText(/about \d+ tests of each would tell/);
  await expect(page.getByText("would be level with the cheapest at")).toBeVisible();
  await expectAccessible(page);
  for (const width of [390, 820, 1280]) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoSideways(page);
  }

  // By itself, without a dish.
  await page.getByLabel("On which dish").selectOption("none");
  await page.getByRole("button", { name: "Compare by these" }).click();
  await expect(page).toHaveURL(/dish=none/);
  await expect(page.getByRole("columnheader", { name: /The plate/ })).toHaveCount(0);

  // Bought from the other one: first what it does to the dishes, then recorded.
  const buy = page.locator("#buy");
  await buy.getByLabel("Buy it from").selectOption({ label: "Ossel & Wray, butchers" });
  await expect(await tryIt(buy)).toContainText("Pepper strip steak, gratin");
  await buy.getByRole("button", { name: "Record the dealer" }).click();
  await expect(buy.getByRole("status").filter({ hasText: /^Recorded as change \d+\.$/ })).toBeVisible();
  await page.reload();
  await expect(side.getByRole("row", { name: /^Ossel & Wray, butchers bought from now/ })).toBeVisible();

  // Make or buy: everything asked stands in the address.
  await page.goto("/specs/strip-steak-10");
  await page.getByRole("link", { name: "Make or buy" }).click();
  await page.getByLabel("Or a price").fill("17.20 / lb");
  await page.getByLabel("Minutes a piece").fill("twelve");
  await page.getByRole("button", { name: "Lay them side by side" }).click();
  await expect(page.getByLabel("Minutes a piece")).toHaveValue("twelve");
  await expect(page.locator(".memo")).toHaveCount(0);
  await page.getByLabel("Minutes a piece").fill("20");
  await page.getByLabel("What an hour costs").fill("24");
  await page.getByLabel("Wrap and disposal, a portion").fill("0.12");
  await page.getByLabel("By-products really used").fill("80");
  await page.getByLabel("A week of the machine").fill("40");
  await page.getByRole("button", { name: "Lay them side by side" }).click();
  const memo = page.locator(".memo");
  await expect(memo).toContainText("Strip steak 10 oz: make or buy");
  await expect(memo.getByRole("row", { name: /^Work/ })).toContainText("not counted");
  await expect(memo.getByRole("row", { name: /^An hour, with all that comes on top/ })).toContainText("Hours are not counted here: they cannot be cut.");
  await expect(memo.getByRole("row", { name: /^Price of Beef striploin, boneless/ })).toContainText("a pound");
  await expect(memo).toContainText("HACCP");
  await expect(memo).toContainText("Lean trim 80 %, as told");
  await expectAccessible(page);
  for (const width of [390, 820, 1280]) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoSideways(page);
  }

  // The same address is the same memo; it prints on one sheet of either paper.
  const address = page.url();
  await page.goto(`${address}&hours=yes`);
  await expect(memo.getByRole("row", { name: /^Work/ })).not.toContainText("not counted");
  for (const paper of ["letter", "a4"]) {
    await page.goto(`${address}&paper=${paper}`);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1);
  }
});
