/**
 * By-products used again in the house: trim that the cut is credited with and the burger is charged for at one price, held
 * to what is used; and a worth that goes round in a circle, explained and solved.
 */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, lineField, tryIt } from "./steps";

test.use({ installation: "by-products" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Chef"); });

test("trim becomes a by-product of the house: its price moves the steak and the burger, its credit is held to use", async ({ page }) => {
  await page.goto("/by-products");
  await expect(page.getByRole("row").filter({ hasText: "Pork back ribs and chine" }).first()).toContainText("staff meal");
  await expect(page.getByText("Worth something, but it goes nowhere").first()).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.getByRole("link", { name: /^Make Lean trim .*Striploin, trimmed/ }).click();
  await page.getByLabel("Name of the by-product").fill("Beef lean trim");
  await expect(page.getByRole("combobox", { name: "It takes the place of" })).toHaveValue("Ground chuck");
  await page.getByLabel("Less the work still to be done").fill("0.60");
  await page.getByLabel("Into what").fill("Burger grind");
  const ripple = await tryIt(page);
  await expect(ripple).toContainText("Striploin, trimmed");
  await page.getByRole("button", { name: "Make it a by-product of the house" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Beef lean trim" })).toBeVisible();
  await expect(page.getByText("No recipe or dish of this book takes it")).toBeVisible();
  const own = page.url();

  // The burger takes an ounce of it in the place of an ounce of chuck.
  await page.goto("/dishes/burger/edit");
  await expect(lineField(page, 1)).toHaveValue(/Ground chuck/);
  await lineField(page, 1).fill("7 oz ground chuck");
  await page.getByRole("button", { name: /^Add an? (line|component|part)/ }).first().click();
  const last = page.getByRole("combobox", { name: "How much of what" }).last();
  await last.fill("1 oz beef lean trim");
  await page.getByRole("button", { name: /^Record/ }).first().click();
  await expect(page).toHaveURL(/\/dishes\/burger$/);

  await page.goto(own);
  await expect(page.getByRole("row").filter({ hasText: "Burger, alpine cheese, fries" })).toContainText("lb");
  await expect(page.getByText("nobody has counted its use, so all of it is credited")).toBeVisible();
  await page.getByRole("radio", { name: "a fixed price" }).check();
  await page.getByLabel("A market’s price, or the fixed one").fill("2.00");
  await page.getByLabel("Where that price comes from").fill("decided at the pass");
  const moved = await tryIt(page);
  await expect(moved).toContainText("Strip steak 10 oz");
  await expect(moved).toContainText("Burger, alpine cheese, fries");
  await page.getByRole("button", { name: "Record how it is passed on" }).click();
  await expect(page.getByText(/^Recorded as change/).first()).toBeVisible();

  // Held to its use: credit and charge are the same number from then on.
  await page.goto(own);
  await page.getByRole("link", { name: "Put the week’s figures into the form below" }).click();
  await expect(page.getByLabel("Comes off", { exact: true })).not.toHaveValue("");
  await tryIt(page);
  await page.getByRole("button", { name: "Record how it is passed on" }).click();
  await expect(page.getByText(/^Recorded as change/).first()).toBeVisible();
  await page.goto(own);
  await expect(page.getByText("credited and charged with the same number")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.goto("/figure/cut/striploin");
  await expect(page.getByText(/are used: [\d.]+ % of the credit/)).toBeVisible();
  await page.goto("/figure/item/pork-back-ribs");
  await expect(page.getByText("made in the house, transfer price").first()).toBeVisible();
  await page.goto("/by-products");
  const reconciled = page.getByRole("table").filter({ hasText: "What cuts are credited with" }).or(page.getByRole("table").filter({ hasText: "Unused, at 0" })).first();
  await expect(reconciled.getByRole("row").filter({ hasText: "Beef lean trim" })).toContainText("0.00");
});

test("a part worth what it earns in something made of its own cut: the way round, the ways out, the price that solves it", async ({ page }) => {
  await page.goto("/by-products/loop");
  await page.getByLabel("The part").selectOption({ label: "Wing tips and middle joints off Chicken breast, wing joint on, Chicken leg, boned" });
  await page.getByLabel("Is worth what this costs").selectOption({ label: "Chicken and leek filling" });
  await page.getByRole("button", { name: "Try it", exact: true }).click();
  const ways = page.getByRole("group", { name: "A worth that goes round in a circle" });
  await expect(ways).toContainText("Chicken and leek filling → Chicken leg, boned → Chicken and leek filling");
  await expect(ways).toContainText(/\$\d+\.\d{4} \/ lb/);
  await expectAccessible(page);
  await expectNoSideways(page);
  await ways.getByRole("radio", { name: "what a market pays" }).check();
  await ways.getByRole("button", { name: "Try it that way" }).click();
  await expect(page.getByText("Say which market pays that").first()).toBeVisible();
  await ways.getByRole("radio", { name: "the price at which it is worth just what it earns" }).check();
  const ripple = await tryIt(page, "Try it that way");
  await expect(ripple).toContainText("Wing tips");
  await page.getByRole("button", { name: "Record what it is worth" }).click();
  await expect(page).toHaveURL(/\/by-products$/);
  await page.getByRole("link", { name: "Wing tips and middle joints", exact: true }).click();
  await expect(page.locator(".of").first()).toContainText("worked out together (Chicken and leek filling → Chicken leg, boned → Chicken and leek filling)");
  await expectAccessible(page);
});
