/** What is turned away before the app sees it, and what is let through. */
import { describe, expect, test } from "vitest";
import { aroundApp, until } from "./around-app";

const asBrowser = { accept: "text/html,application/xhtml+xml" };

describe("an address that cannot be read", () => {
  test.each(["/dishes/%E0%A4%A", "/dishes/%", "/dishes/%zz", "/dishes/%FF", "/a%00b", "/dishes?find=a%00"])("%s is answered with a page that says so", async (path) => {
    const app = await aroundApp();
    const { status, text, headers } = await app.ask(path, { headers: asBrowser });
    expect(status).toBe(400);
    expect(headers["content-type"]).toBe("text/html; charset=utf-8");
    expect(text).toContain("The address cannot be read");
    expect(text).toContain(String(headers["x-request-id"]).slice(0, 8));
    expect(app.seen).toEqual([]);
  });

  test("one that is longer than any the app gives", async () => {
    const app = await aroundApp();
    const { status, text } = await app.ask(`/dishes?find=${"a".repeat(5000)}`);
    expect(status).toBe(414);
    expect(text).toContain("at most 4,096");
    expect(app.seen).toEqual([]);
  });

  test("one for another server", async () => {
    const app = await aroundApp();
    expect((await app.ask("http://elsewhere.example/dishes")).status).toBe(400);
  });

  test("what somebody types into a search is read leniently", async () => {
    const app = await aroundApp();
    expect((await app.ask("/dishes?find=100%")).status).toBe(200);
    expect((await app.ask("/dishes/caf%C3%A9")).status).toBe(200);
  });
});

test("the page of a refusal is whole in itself", async () => {
  const app = await aroundApp({ env: { PUBLIC_URL: "https://kitchen.example" } });
  const { text, headers } = await app.ask("/dishes/%", { headers: asBrowser });
  const nonce = /'nonce-([^']+)'/.exec(String(headers["content-security-policy"]))?.[1] ?? "";
  expect(text).toContain(`<style nonce="${nonce}">`);
  expect(text).not.toMatch(/<link(?! rel="icon")|<script|src=/);
});

test("and escapes what it tells of the request", async () => {
  const app = await aroundApp();
  const { status, text } = await app.ask("/dishes", { method: "POST", headers: { ...asBrowser, host: 'a"onload=x&b' } });
  expect(status).toBe(403);
  expect(text).toContain("a&quot;onload=x&amp;b");
  expect((await app.ask("/dishes", { headers: { ...asBrowser, host: "a<b>" } })).status).toBe(400);
});

test("methods that nobody uses", async () => {
  const app = await aroundApp();
  for (const method of ["OPTIONS", "TRACE", "PROPFIND", "PURGE"]) {
    const { status, headers } = await app.ask("/dishes", { method });
    expect([method, status]).toEqual([method, 405]);
    expect(headers["allow"]).toBe("GET, HEAD, POST, PUT, PATCH, DELETE");
  }
  expect(app.seen).toEqual([]);
});

test("files are only read", async () => {
  const app = await aroundApp();
  for (const path of ["/icon.svg", "/icon.svg?x", "/block-worker.js", "/_next/static/chunks/a.js", "/healthz", "/readyz"]) {
    const { status, headers } = await app.ask(path, { method: "POST" });
    expect([path, status]).toEqual([path, 405]);
    expect(headers["allow"]).toBe("GET, HEAD");
  }
  expect(app.seen).toEqual([]);
});

describe("a body over the limit", () => {
  const mebibyte = 1024 * 1024;

  test("is refused by what it says of its length, before it is sent", async () => {
    const app = await aroundApp();
    const back = await app.raw(`POST /dishes HTTP/1.1\r\nHost: 127.0.0.1:${app.port}\r\nOrigin: ${app.origin}\r\nContent-Length: ${mebibyte + 1}\r\nExpect: 100-continue\r\nConnection: close\r\n\r\n`);
    expect(back).toMatch(/^HTTP\/1\.1 413 /);
    expect(back).not.toContain("100 Continue");
    expect(app.seen).toEqual([]);
  });

  test("is refused by what it turns out to be, when its length is not said", async () => {
    const app = await aroundApp();
    const { status, text } = await app.send("/dishes", "a".repeat(mebibyte + 1), { chunked: true });
    expect(status).toBe(413);
    expect(text).toContain("At most 1 MiB");
    expect(app.seen).toEqual([]);
  });

  test("up to the limit it comes through whole, said or not", async () => {
    const app = await aroundApp();
    const body = "a".repeat(mebibyte);
    expect((await app.send("/dishes", body)).status).toBe(200);
    expect((await app.send("/dishes", body, { chunked: true })).status).toBe(200);
    expect(app.seen.map((seen) => seen.body === body)).toEqual([true, true]);
    expect(app.seen[1]?.headers["content-length"]).toBe(String(mebibyte));
    expect(app.seen[1]?.headers["transfer-encoding"]).toBeUndefined();
  });

  test("photos have more room, and a limit too", async () => {
    const app = await aroundApp();
    expect((await app.send("/photos", Buffer.alloc(5 * mebibyte))).status).toBe(200);
    expect((await app.send("/photos", Buffer.alloc(12 * mebibyte + 1), { chunked: true })).status).toBe(413);
    expect((await app.send("/photos-of-mine", Buffer.alloc(5 * mebibyte), { chunked: true })).status).toBe(413);
  });

  test("a price list has room for its 20 MiB at the one address that takes it", async () => {
    const app = await aroundApp();
    expect((await app.send("/lists/file", Buffer.alloc(20 * mebibyte + 1000))).status).toBe(200);
    const over = await app.send("/lists/file", Buffer.alloc(21 * mebibyte), { chunked: true });
    expect([over.status, over.text]).toEqual([413, expect.stringContaining("At most 20 MiB")]);
    for (const other of ["/lists", "/lists/file/more", "/lists/list-1/record"]) expect((await app.send(other, Buffer.alloc(2 * mebibyte), { chunked: true })).status, other).toBe(413);
  });

  test("a client that waits to be told gets told", async () => {
    const app = await aroundApp();
    const back = await app.raw(`POST /dishes HTTP/1.1\r\nHost: 127.0.0.1:${app.port}\r\nOrigin: ${app.origin}\r\nContent-Length: 2\r\nExpect: 100-continue\r\nConnection: close\r\n\r\nhi`);
    expect(back).toMatch(/^HTTP\/1\.1 100 Continue\r\n\r\nHTTP\/1\.1 200 /);
    expect(app.seen[0]?.body).toBe("hi");
  });
});

describe("a body that never comes to its end", () => {
  test("is no request: the app does not see half of it", async () => {
    const app = await aroundApp({ limits: { headersTimeout: 300, requestTimeout: 300, checks: 50 } });
    const began = Date.now();
    const back = await app.raw(`POST /dishes HTTP/1.1\r\nHost: 127.0.0.1:${app.port}\r\nOrigin: ${app.origin}\r\nContent-Length: 100\r\n\r\nonly this`);
    expect(back).toMatch(/^HTTP\/1\.1 408 /);
    expect(Date.now() - began).toBeLessThan(3_000);
    expect(app.seen).toEqual([]);
    const line = await until(() => app.lines()[0]);
    expect(line).toMatchObject({ path: "/dishes", status: null, cut: true });
  });

  test("nor are headers that dawdle", async () => {
    const app = await aroundApp({ limits: { headersTimeout: 200, requestTimeout: 300, checks: 50 } });
    expect(await app.raw("GET / HTTP/1.1\r\nHost: a\r\nX-Slow: ")).toMatch(/^HTTP\/1\.1 408 /);
  });
});

test("what is no HTTP at all is answered in words and cut", async () => {
  const app = await aroundApp();
  expect(await app.raw("give me the dishes\r\n\r\n")).toMatch(/^HTTP\/1\.1 400 [\s\S]*cannot be read/);
  expect(await app.raw(`GET / HTTP/1.1\r\nHost: a\r\nX-Long: ${"a".repeat(20_000)}\r\n\r\n`)).toMatch(/^HTTP\/1\.1 431 /);
});

describe("a change is taken from our own pages only", () => {
  test.each(["POST", "PUT", "PATCH", "DELETE"])("%s from another origin, from none, or from one that cannot be read", async (method) => {
    const app = await aroundApp();
    for (const headers of [{}, { origin: "http://elsewhere.example" }, { origin: "null" }, { origin: "rubbish" }, { origin: `https://127.0.0.1:${app.port}` }, { origin: `http://127.0.0.1:${app.port + 1}` }]) {
      const { status, text } = await app.ask("/dishes", { method, headers });
      expect([headers, status]).toEqual([headers, 403]);
      expect(text).toContain(`Open ${app.origin}`);
    }
    expect(app.seen).toEqual([]);
    expect((await app.ask("/dishes", { method, headers: { origin: app.origin } })).status).toBe(200);
  });

  test("whatever a browser says of a page elsewhere, its word is taken", async () => {
    const app = await aroundApp();
    expect((await app.send("/dishes", "a=1", { headers: { "sec-fetch-site": "cross-site" } })).status).toBe(403);
    expect((await app.send("/dishes", "a=1", { headers: { "sec-fetch-site": "same-site" } })).status).toBe(403);
    expect((await app.send("/dishes", "a=1", { headers: { "sec-fetch-site": "same-origin" } })).status).toBe(200);
  });

  test("a link from elsewhere may be followed", async () => {
    const app = await aroundApp();
    expect((await app.ask("/dishes", { headers: { "sec-fetch-site": "cross-site", origin: "http://elsewhere.example" } })).status).toBe(200);
  });

  test("with PUBLIC_URL that is our origin, whatever Host says", async () => {
    const app = await aroundApp({ env: { PUBLIC_URL: "https://Kitchen.example:443" } });
    const host = "127.0.0.1:3000";
    expect((await app.ask("/dishes", { method: "POST", headers: { host, origin: "https://kitchen.example" } })).status).toBe(200);
    expect((await app.ask("/dishes", { method: "POST", headers: { host, origin: `http://${host}` } })).status).toBe(403);
    expect((await app.ask("/dishes", { method: "POST", headers: { host: "evil.example", origin: "http://evil.example" } })).status).toBe(403);
  });

  test("behind a proxy the scheme is the one that people speak", async () => {
    const forwarded = { host: "kitchen.example", "x-forwarded-proto": "https", origin: "https://kitchen.example" };
    expect((await (await aroundApp({ env: { TRUST_PROXY: "1" } })).ask("/dishes", { method: "POST", headers: forwarded })).status).toBe(200);
    // Without a proxy of ours anybody may write that header.
    expect((await (await aroundApp()).ask("/dishes", { method: "POST", headers: forwarded })).status).toBe(403);
  });

  test("a key in the Authorization header does not stand in for an origin where no route takes one", async () => {
    const app = await aroundApp();
    expect((await app.ask("/dishes", { method: "POST", headers: { authorization: "Bearer abc" } })).status).toBe(403);
  });
});

describe("a program with a key of its own", () => {
  const key = { authorization: "Bearer tlk_abc" };

  test("need not come from our pages, where routes take a key and no cookie", async () => {
    const app = await aroundApp();
    for (const headers of [key, { ...key, origin: "http://elsewhere.example" }, { ...key, "sec-fetch-site": "cross-site" }]) {
      expect((await app.ask("/api/v1/changes", { method: "POST", headers })).status).toBe(200);
    }
    expect(app.seen.map(({ headers }) => headers.authorization)).toEqual([key.authorization, key.authorization, key.authorization]);
  });

  test("does with a cookie beside it, without a key, and anywhere else", async () => {
    const app = await aroundApp();
    for (const [path, headers] of [["/api/v1/changes", { ...key, cookie: "session=1" }], ["/api/v1/changes", {}], ["/api/v1/changes", { cookie: "session=1" }], ["/api/v10/changes", key], ["/api", key], ["/x/api/v1/changes", key], ["//api/v1/changes", key], ["/out/kitchen.json", key]] as const) {
      expect([path, (await app.ask(path, { method: "POST", headers })).status]).toEqual([path, 403]);
    }
    expect(app.seen).toEqual([]);
  });

  test("its key stands in no log", async () => {
    const secret = `tlk_${"aB3-_".repeat(9)}`;
    const app = await aroundApp({ app: () => Promise.reject(new Error(`no key ${secret}`)) });
    await app.ask(`/api/v1/book/${secret}`, { headers: { authorization: `Bearer ${secret}` } });
    expect(app.lines()).toHaveLength(2);
    expect(app.written()).not.toContain("aB3-_aB3");
  });
});

test("a whole kitchen’s file has room, and a limit too", async () => {
  const app = await aroundApp();
  const mebibyte = 1024 * 1024;
  expect((await app.send("/kitchens/file", Buffer.alloc(20 * mebibyte))).status).toBe(200);
  const { status, text } = await app.send("/kitchens/file", Buffer.alloc(65 * mebibyte));
  expect([status, text]).toEqual([413, expect.stringContaining("At most 64 MiB")]);
});

test("once the database is gone, everybody is told why", async () => {
  const app = await aroundApp({ gone: () => "The database stopped working. Nothing that was saved is lost." });
  const { status, text, headers } = await app.ask("/dishes", { headers: asBrowser });
  expect(status).toBe(503);
  expect(headers["retry-after"]).toBe("10");
  expect(text).toContain("Nothing that was saved is lost.");
  expect(app.seen).toEqual([]);
});

test("an app that fails is answered for", async () => {
  const app = await aroundApp({ app: () => Promise.reject(new Error("no such thing")) });
  const { status, text, headers } = await app.ask("/dishes", { headers: asBrowser });
  expect(status).toBe(500);
  expect(text).toContain("The fault is ours");
  expect(text).not.toContain("no such thing");
  expect(app.lines()[0]).toMatchObject({ level: "error", request: headers["x-request-id"], err: { message: "no such thing" } });
});

test("HEAD is answered without a body, refused or not", async () => {
  const app = await aroundApp();
  expect(await app.ask("/dishes/%", { method: "HEAD" })).toMatchObject({ status: 400, text: "" });
});

test.each(["/_global-error", "/_not-found", "/%5Fglobal-error", "//_global-error/x"])("%s, which the framework keeps for itself, is no page", async (path) => {
  const app = await aroundApp();
  expect((await app.ask(path)).status).toBe(404);
  expect(app.seen).toEqual([]);
});
