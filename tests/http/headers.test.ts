/** What every answer says to the browser, and what the app may believe of a request it is given. */
import { describe, expect, test } from "vitest";
import { aroundApp } from "./around-app";

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$/;

describe("every answer", () => {
  test("says what a browser may do with it", async () => {
    const { headers } = await (await aroundApp()).ask("/dishes");
    expect(headers).toMatchObject({
      "x-content-type-options": "nosniff",
      "referrer-policy": "same-origin",
      "cross-origin-opener-policy": "same-origin",
      "cross-origin-resource-policy": "same-origin",
      "x-frame-options": "DENY",
      "cache-control": "no-store",
    });
    expect(headers["permissions-policy"]).toMatch(/^camera=\(self\), .*microphone=\(\)/);
    expect(headers["x-powered-by"]).toBeUndefined();
  });

  test("carries a policy of its own, with a nonce that never comes again", async () => {
    const app = await aroundApp();
    const policies = [await app.ask("/"), await app.ask("/"), await app.ask("/%")].map(({ headers }) => String(headers["content-security-policy"]));
    const nonces = policies.map((policy) => /script-src 'self' 'nonce-([A-Za-z0-9+/]{22}==)' 'strict-dynamic';/.exec(policy)?.[1]);
    expect(new Set(nonces).size).toBe(3);
    expect(nonces).not.toContain(undefined);
    for (const [n, policy] of policies.entries()) {
      expect(policy).toContain(`style-src 'self' 'nonce-${nonces[n] ?? ""}';`);
      expect(policy.replace("style-src-attr 'unsafe-inline'", "")).not.toMatch(/unsafe|https?:|\*/);
      for (const part of ["default-src 'self'", "object-src 'none'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'", "connect-src 'self'", "img-src 'self' data: blob:"]) expect(policy.split("; ")).toContain(part);
    }
  });

  test("only a developer's build may evaluate code", async () => {
    const { headers } = await (await aroundApp({ dev: true })).ask("/");
    expect(headers["content-security-policy"]).toContain("'unsafe-eval'");
  });

  test("keeps people on TLS where they came by it, and only there", async () => {
    const strict = async (env: Record<string, string>, headers = {}) => (await (await aroundApp({ env })).ask("/", { headers })).headers["strict-transport-security"];
    expect(await strict({})).toBeUndefined();
    expect(await strict({}, { "x-forwarded-proto": "https" })).toBeUndefined();
    expect(await strict({ TRUST_PROXY: "1" }, { "x-forwarded-proto": "https" })).toBe("max-age=31536000");
    expect(await strict({ PUBLIC_URL: "https://kitchen.example" })).toBe("max-age=31536000");
    expect(await strict({ PUBLIC_URL: "http://kitchen.example", TRUST_PROXY: "1" }, { "x-forwarded-proto": "https" })).toBeUndefined();
  });
});

describe("the app is given", () => {
  test("a number, the same as the answer's, whatever the client calls itself", async () => {
    const app = await aroundApp();
    const { headers } = await app.ask("/", { headers: { "x-request-id": "mine" } });
    expect(headers["x-request-id"]).toMatch(uuid);
    expect(app.seen[0]?.headers["x-request-id"]).toBe(headers["x-request-id"]);
  });

  test("the policy that the answer carries, so that Next finds the nonce", async () => {
    const app = await aroundApp();
    const { headers } = await app.ask("/", { headers: { "content-security-policy": "script-src 'nonce-mine'", "content-security-policy-report-only": "script-src 'nonce-mine'", "x-nonce": "mine" } });
    expect(app.seen[0]?.headers["content-security-policy"]).toBe(headers["content-security-policy"]);
    expect(JSON.stringify(app.seen[0]?.headers)).not.toContain("mine");
  });

  test("nothing that only we may say, when a client says it", async () => {
    const app = await aroundApp();
    await app.ask("/dishes?find=veal&_rsc=1a2b", {
      headers: {
        "x-trimledger-address": "1.2.3.4", "x-trimledger-inside": "a guess", "x-trimledger-whatever": "x", "x-middleware-next": "1", "x-middleware-subrequest": "middleware",
        "x-invoke-path": "/x", "x-forwarded-host": "evil.example", "x-forwarded-for": "1.2.3.4", forwarded: "for=1.2.3.4", "x-real-ip": "1.2.3.4", "x-matched-path": "/x",
        "x-prerender-revalidate": "x", cookie: "kept=1", rsc: "1",
      },
    });
    const given = app.seen[0]?.headers ?? {};
    expect(given).toMatchObject({
      "x-trimledger-address": "127.0.0.1", "x-trimledger-scheme": "http", "x-trimledger-path": "/dishes?find=veal",
      "x-forwarded-host": `127.0.0.1:${app.port}`, "x-forwarded-for": "127.0.0.1", "x-forwarded-proto": "http", cookie: "kept=1", rsc: "1",
    });
    for (const name of ["x-trimledger-whatever", "x-middleware-next", "x-middleware-subrequest", "x-invoke-path", "forwarded", "x-real-ip", "x-matched-path", "x-prerender-revalidate"]) expect(given[name]).toBeUndefined();
    expect(given["x-trimledger-inside"]).not.toBe("a guess");
  });

  test("our public address, where there is one", async () => {
    const app = await aroundApp({ env: { PUBLIC_URL: "https://kitchen.example/" } });
    await app.ask("/");
    expect(app.seen[0]?.headers).toMatchObject({ "x-forwarded-host": "kitchen.example", "x-forwarded-proto": "https", "x-trimledger-scheme": "https" });
  });
});

describe("where a request comes from", () => {
  const from = async (proxies: string, forwarded: string | undefined) => {
    const app = await aroundApp({ env: { TRUST_PROXY: proxies } });
    await app.ask("/", { headers: forwarded === undefined ? {} : { "x-forwarded-for": forwarded } });
    return app.seen[0]?.headers["x-trimledger-address"];
  };

  test.each([
    ["0", "9.9.9.9", "127.0.0.1", "nobody's word is taken without a proxy"],
    ["1", "9.9.9.9", "9.9.9.9", "one proxy wrote the last entry"],
    ["1", "6.6.6.6, 9.9.9.9", "9.9.9.9", "what stands before it the client wrote"],
    ["2", "6.6.6.6, 9.9.9.9, 10.0.0.7", "9.9.9.9", "two proxies: the last but one"],
    ["2", "9.9.9.9", "9.9.9.9", "one of them sets the list afresh"],
    ["1", "[2001:db8::1]:4711", "2001:db8::1", "with brackets and port"],
    ["1", "9.9.9.9:4711", "9.9.9.9", "with a port"],
    ["1", "::ffff:9.9.9.9", "9.9.9.9", "in IPv6 clothing"],
    ["1", "unknown", "127.0.0.1", "an entry that is no address"],
    ["1", undefined, "127.0.0.1", "nobody stood between"],
  ])("TRUST_PROXY=%s, X-Forwarded-For: %s gives %s: %s", async (proxies, forwarded, address, _why) => {
    expect(await from(proxies, forwarded)).toBe(address);
  });
});

test("where a browser's router says it stands is handed on only as far as it can be read", async () => {
  const app = await aroundApp();
  const good = encodeURIComponent(JSON.stringify(["", { children: ["__PAGE__", {}] }]));
  for (const told of [good, "[]", "%", "x".repeat(50), "null"]) await app.ask("/dishes", { headers: { "next-router-state-tree": told } });
  expect(app.seen.map(({ headers }) => headers["next-router-state-tree"])).toEqual([good, undefined, undefined, undefined, undefined]);
});
