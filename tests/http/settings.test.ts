/** What may be set about how the app is reached; what is set wrongly is told, not half believed. */
import { expect, test } from "vitest";
import { readSettings } from "../../app/server/settings.mjs";

const read = (env: Record<string, string>, terminal = false) => readSettings(env, { terminal });

test("nothing set", () => {
  expect(read({})).toEqual({ publicUrl: null, proxies: 0, log: "json" });
  expect(read({ PUBLIC_URL: " ", TRUST_PROXY: "", LOG: "" }, true)).toEqual({ publicUrl: null, proxies: 0, log: "pretty" });
});

test("everything set", () => {
  const { publicUrl, proxies, log } = read({ PUBLIC_URL: "https://Kitchen.example/", TRUST_PROXY: "2", LOG: "pretty" });
  expect([publicUrl?.origin, proxies, log]).toEqual(["https://kitchen.example", 2, "pretty"]);
});

test.each([
  [{ PUBLIC_URL: "kitchen.example" }, /PUBLIC_URL is "kitchen\.example", and should be the address people open/],
  [{ PUBLIC_URL: "https://kitchen.example/trim" }, /without a path/],
  [{ PUBLIC_URL: "ftp://kitchen.example" }, /PUBLIC_URL/],
  [{ TRUST_PROXY: "yes" }, /TRUST_PROXY is "yes", and should be how many proxies/],
  [{ TRUST_PROXY: "-1" }, /TRUST_PROXY/],
  [{ LOG: "loud" }, /LOG is "loud", and should be "pretty"/],
])("%o", (env, sentence) => {
  expect(() => read(env as unknown as Record<string, string>)).toThrow(sentence);
});
