/** The owner's questions: where the menu stands against target, what moved it since a day, at what cost a week, and who changed what. */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways } from "./steps";

test.use({ installation: "since" });

test("the menu since a day: split by its causes, each change by itself, and who made it @phone @tablet", async ({ page }) => {
  await demoKitchen(page, "Owner", "owner");
  await page.goto("/dishes");
  await expect(page.locator(".say, .answer, main p").first()).toBeVisible();
  await page.getByRole("link", { name: "What moved it" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(/^Since /);
  await expect(page.locator("main")).toContainText(/went from [\d.]+ % to [\d.]+ %, against [\d.]+ %: (up|down|no move)/);

  const causes = page.getByRole("table", { name: /by its causes/ });
  const before = await causes.getByRole("row", { name: /^Prices/ }).innerText();
  await page.goto("/items");
  await page.getByRole("link", { name: "Cod fillet", exact: true }).click();
  const price = page.getByLabel(/^New price for/);
  const now = Number(await price.inputValue());
  await price.fill((now * 1.1).toFixed(2));
  await page.getByRole("button", { name: "Record this price" }).click();
  await expect(page.getByRole("region", { name: "What this change did" })).toBeVisible();

  await page.goto("/since");
  await expect(causes.getByRole("row", { name: /^Prices/ })).not.toHaveText(before);
  const single = page.getByRole("table", { name: /that moved the menu, largest first/ });
  await expect(single.getByRole("row", { name: /Cod fillet/ })).toContainText("Owner");
  await expectAccessible(page);
  await expectNoSideways(page);

  // The parts are the whole, as far as two decimals can tell.
  const points = await causes.locator("tbody tr").evaluateAll((rows) => rows.map((row) => Number((row.querySelectorAll("td, th")[1]?.textContent ?? "").replace("−", "-"))));
  const whole = /: (up|down) ([\d.]+) points?/.exec(await page.locator("main").innerText());
  const sum = points.reduce((total, part) => total + part, 0);
  expect(Math.abs(sum - Number(whole?.[2] ?? 0) * (whole?.[1] === "down" ? -1 : 1))).toBeLessThan(0.09);

  await page.getByLabel("Since", { exact: true }).fill("1995-01-01");
  await page.getByRole("button", { name: "Look from that day" }).click();
  await expect(page.locator("main")).toContainText(/cannot be costed|No sales are recorded/);
  await page.goto("/since?from=nonsense");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(/^Since /);
});
