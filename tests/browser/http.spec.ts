/**
 * What the app's own server promises around the pages, seen from a real browser: a policy that no page breaks and that
 * nothing injected gets past; plain words for an address that cannot be read and for a page that fails; and what is
 * written down.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import type { Page } from "@playwright/test";
import { PrismaPg } from "@prisma/adapter-pg";
import { startPostgres } from "../machine.mjs";
import { type RunningApp, expect, expectAccessible, startApp, test } from "./app";
import { PASSWORD, demoKitchen } from "./steps";

test.use({ installation: "http" });

/** What the browser refused on this page's behalf, and what it complained of. */
async function complaintsOf(page: Page): Promise<string[]> {
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || /Content.Security.Policy/i.test(message.text())) complaints.push(`${page.url()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`${page.url()}: ${error.message}`));
  await page.exposeFunction("complainOf", (complaint: string) => { complaints.push(complaint); });
  await page.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI, sourceFile, lineNumber, sample }) => {
      (window as unknown as { complainOf(complaint: string): void }).complainOf(`${location.pathname}: ${violatedDirective} ${blockedURI} ${sourceFile}:${lineNumber} ${sample}`);
    });
  });
  return complaints;
}

/** The kind of page an address leads to: the things that a list holds stand for one another. */
const kindOf = (href: string): string => (href.split(/[?#]/)[0] ?? "").split("/").map((part, n) => (n < 2 || /^(new|edit|price|specs|result)$/.test(part) ? part : ":id")).join("/");

/** What is taken away as a file is no page. */
const linksOf = (page: Page): Promise<string[]> => page.locator("a[href^='/']:not([download]):not([href^='/out/']):not([href^='/api/']):not([href$='sheet']):not([href*='/sheet?'])").evaluateAll((links) => links.map((link) => link.getAttribute("href") ?? ""));

test("no page breaks the policy, opened by its address or by a link", async ({ page }) => {
  test.setTimeout(180_000);
  await demoKitchen(page);
  const complaints = await complaintsOf(page);

  const seen = new Map<string, string>();
  const next = ["/dishes", "/kitchens", "/kitchens/new", "/nowhere", "/dishes/nothing-of-this-id"];
  for (let href = next.shift(); href !== undefined; href = next.shift()) {
    if (seen.has(kindOf(href))) continue;
    seen.set(kindOf(href), href);
    const answer = await page.goto(href);
    expect(answer?.status() === 404, `${href}: ${answer?.status() ?? ""}`).toBe(/nowhere|nothing-of-this-id/.test(href));
    const policy = answer?.headers()["content-security-policy"] ?? "";
    const nonce = /'nonce-([^']+)'/.exec(policy)?.[1];
    // As the server sent it; what Next's scripts load later they vouch for.
    const scripts = [...((await answer?.text()) ?? "").matchAll(/<script\b[^>]*>/g)].map(([tag]) => /nonce="([^"]+)"/.exec(tag)?.[1]);
    expect(scripts.length, href).toBeGreaterThan(0);
    expect(new Set(scripts), href).toEqual(new Set([nonce]));
    next.push(...(await linksOf(page)).filter((link) => !seen.has(kindOf(link))));
  }
  expect(seen.size).toBeGreaterThan(15);
  // A page that is not there is itself a complaint of the browser's; nothing else is.
  expect(complaints.filter((complaint) => !/nowhere|nothing-of-this-id/.test(complaint) || /policy|directive|-src/i.test(complaint))).toEqual([]);

  await page.goto("/dishes");
  for (const name of ["Items", "Tests", "Recipes", "Dishes"]) {
    await page.getByRole("link", { name, exact: true }).first().click();
    await expect(page.getByRole("heading", { level: 1 })).toContainText(name === "Tests" ? /tests/i : name);
  }
  expect(complaints.filter((complaint) => !/nowhere|nothing-of-this-id/.test(complaint))).toEqual([]);
});

test("what somebody smuggles into a page does not run", async ({ page }) => {
  await demoKitchen(page);
  const complaints = await complaintsOf(page);
  await page.route("**/dishes", async (route) => {
    const answer = await route.fetch();
    const nonce = /'nonce-([^']+)'/.exec(answer.headers()["content-security-policy"] ?? "")?.[1] ?? "";
    const smuggled = `
      <script>window.ranScript = true</script>
      <script nonce="AAAAAAAAAAAAAAAAAAAAAA==">window.ranOldNonce = true</script>
      <script src="/icon.svg"></script>
      <script src="data:text/javascript,window.ranData=true"></script>
      <style>h1 { display: none }</style>
      <img src="/nothing.png" onerror="window.ranHandler = true" alt="">
      <iframe srcdoc="<script>parent.ranFrame = true</script>"></iframe>
      <base href="http://elsewhere.invalid/">
      <a id="trap" href="javascript:window.ranLink = true">x</a>
      <script nonce="${nonce}">
        window.ranOurs = true;
        try { new Function("window.ranText = true")(); } catch { window.refusedText = true; }
        document.getElementById("trap").click();
      </script>`;
    await route.fulfill({ response: answer, body: (await answer.text()).replace(/<body[^>]*>/, (tag) => `${tag}${smuggled}`) });
  });
  await page.goto("/dishes");
  await expect(page.getByRole("heading", { level: 1, name: "Dishes" })).toBeVisible();
  await page.waitForTimeout(500);
  const ran = await page.evaluate(() => Object.keys(window).filter((name) => /^(ran|refused)[A-Z]/.test(name)));
  // Only what carries the answer's own nonce, and even that makes no code of text.
  expect(ran.sort()).toEqual(["ranOurs", "refusedText"]);
  expect(await page.evaluate(() => document.baseURI)).not.toContain("elsewhere");
  expect(complaints.join("\n")).toMatch(/script-src/);
});

test("nobody frames the app, and nothing is sent elsewhere", async ({ page, app }) => {
  await page.goto("/");
  const answer = await page.request.get("/sign-in");
  expect(answer.headers()).toMatchObject({ "x-frame-options": "DENY", "referrer-policy": "same-origin", "cross-origin-opener-policy": "same-origin" });
  expect(answer.headers()["cache-control"]).toContain("no-store");
  const gone = await page.evaluate(() => fetch("http://elsewhere.invalid/").then(() => "sent", () => "refused"));
  expect(gone).toBe("refused");
  expect(app.said()).toContain("Trimledger is at");
});

test("an address that cannot be read gets plain words @phone", async ({ page }) => {
  const complaints = await complaintsOf(page);
  const answer = await page.goto("/dishes/%E0%A4%A");
  expect(answer?.status()).toBe(400);
  await expect(page.getByRole("heading", { level: 1, name: "The address cannot be read" })).toBeVisible();
  await expect(page.getByText(String(answer?.headers()["x-request-id"]).slice(0, 8))).toBeVisible();
  await expectAccessible(page);
  expect(complaints.filter((complaint) => !complaint.includes("400"))).toEqual([]);
});

test("a change that comes from another page is turned away", async ({ page, app }) => {
  await demoKitchen(page);
  for (const headers of [{}, { origin: "http://elsewhere.example" }, { origin: app.url, "sec-fetch-site": "cross-site" }]) {
    const answer = await page.request.post("/dishes", { headers, data: "a=1" });
    expect(answer.status()).toBe(403);
    expect(await answer.text()).toContain("this app’s own pages only");
  }
});

test("machines may ask whether it lives and whether it is ready, without signing in", async ({ request }) => {
  const alive = await request.get("/healthz");
  expect([alive.status(), await alive.json()]).toEqual([200, { alive: true }]);
  const ready = await request.get("/readyz");
  expect([ready.status(), await ready.json()]).toEqual([200, { ready: true }]);
});

test("the log tells who asked for what, and nothing that was typed", async ({ page, app }) => {
  await demoKitchen(page);
  await page.goto("/dishes?find=a-word-of-mine");
  await expect.poll(() => app.said()).toMatch(/"method":"GET","path":"\/dishes","status":200/);
  expect(app.said()).not.toContain("a-word-of-mine");
  expect(app.said()).not.toContain(PASSWORD);
  for (const cookie of await page.context().cookies()) expect(app.said()).not.toContain(cookie.value);
});

test.describe("when the database fails", () => {
  let server: Awaited<ReturnType<typeof startPostgres>>;
  let app: RunningApp;
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-browser-failing-"));

  test.beforeAll(async () => {
    test.setTimeout(120_000);
    server = await startPostgres();
    if (!("missing" in server)) app = await startApp(folder, { DATABASE_URL: server.url });
  });
  test.afterAll(async () => {
    if ("missing" in server) return;
    await app.stop();
    await server.stop();
    fs.rmSync(folder, { recursive: true });
  });
  test.beforeEach(() => {
    test.skip("missing" in server, "there is no PostgreSQL on this machine");
  });

  test("the page gives a number, and the log tells the cause under it", async ({ browser }) => {
    test.setTimeout(120_000);
    if ("missing" in server) return;
    const context = await browser.newContext({ baseURL: app.url });
    const page = await context.newPage();
    await demoKitchen(page);
    const connection = await new PrismaPg({ connectionString: server.url }).connect();
    await connection.executeScript("ALTER TABLE kitchen RENAME TO kitchen_away");

    const answer = await page.goto("/dishes");
    await expect(page.getByRole("button", { name: "Try again" })).toBeVisible();
    const number = await page.locator(".quiet", { hasText: "this number" }).locator("b").textContent() ?? "";
    const id = String(answer?.headers()["x-request-id"]);
    expect(number.slice(0, 8)).toBe(id.slice(0, 8));
    expect(await page.content()).not.toContain("kitchen_away");
    await expectAccessible(page);
    await expect.poll(() => app.said().split("\n").some((line) => line.includes(id) && line.includes('"stack"') && line.includes(number.slice(9)))).toBe(true);

    await connection.executeScript("ALTER TABLE kitchen_away RENAME TO kitchen");
    await connection.dispose();
    await page.getByRole("button", { name: "Try again" }).click();
    await page.goto("/dishes");
    await expect(page.getByRole("heading", { level: 1, name: "Dishes" })).toBeVisible();
    await context.close();
  });

  test("it is not ready, and says why without a word too many", async ({ request }) => {
    if ("missing" in server) return;
    const connection = await new PrismaPg({ connectionString: server.url }).connect();
    await connection.executeScript("DELETE FROM _prisma_migrations WHERE migration_name = (SELECT max(migration_name) FROM _prisma_migrations)");
    const behind = await request.get(`${app.url}/readyz`);
    expect([behind.status(), await behind.json()]).toEqual([503, { ready: false, why: "1 of its migrations is not applied" }]);
    await connection.dispose();

    await server.stop();
    const gone = await request.get(`${app.url}/readyz`);
    expect(gone.status()).toBe(503);
    const told = (await gone.json()) as { readonly why: string };
    expect(told.why).toMatch(/^the database (cannot be asked$|did not answer)/);
    expect((await request.get(`${app.url}/healthz`)).status()).toBe(200);
  });
});
