/** What npm prints about advisories, read: told from no answer at all. The reports are cut short, otherwise as npm 10 and 11 print them. */
import { expect, test } from "vitest";
import { readAudit } from "./audit.mjs";

const counts = (high: number, moderate: number) => ({ vulnerabilities: { info: 0, low: 0, moderate, high, critical: 0, total: high + moderate }, dependencies: { prod: 90, dev: 200, total: 290 } });

test("nothing known against any package", () => {
  expect(readAudit(JSON.stringify({ auditReportVersion: 2, vulnerabilities: {}, metadata: counts(0, 0) }))).toEqual({ serious: [], others: 0 });
});

test("a serious advisory is told with its package, its title and where to read it; lesser ones are counted", () => {
  const report = { auditReportVersion: 2, metadata: counts(2, 1), vulnerabilities: {
    parser: { name: "parser", severity: "high", range: "<2.1.0", fixAvailable: true, via: [{ title: "A long search in parser", url: "https://example.org/advisories/1", severity: "high", range: "<2.1.0" }] },
    reader: { name: "reader", severity: "high", range: "*", fixAvailable: false, via: ["parser"] },
    other: { name: "other", severity: "moderate", range: "<1.0.0", fixAvailable: true, via: [{ title: "Small", url: "https://example.org/advisories/2" }] },
  } };
  expect(readAudit(JSON.stringify(report))).toEqual({ serious: [
    "parser <2.1.0 (high): A long search in parser https://example.org/advisories/1.",
    "reader * (high): through parser. No newer version mends it yet.",
  ], others: 1 });
});

test.each([
  ["a mirror without advisories", JSON.stringify({ message: "405 Method Not Allowed - POST https://registry.example.org/-/npm/v1/security/advisories/bulk", statusCode: 405, error: { summary: "", detail: "" } }), /^405 Method Not Allowed/],
  ["no network", JSON.stringify({ message: "request to https://registry.example.org/ failed, reason: getaddrinfo ENOTFOUND", error: { summary: "", detail: "" } }), /ENOTFOUND/],
  ["an older npm", JSON.stringify({ error: { code: "ENOAUDIT", summary: "Your configured registry may not support audit requests.", detail: "" } }), /may not support audit/],
  ["nothing printed", "", /no report/],
  ["something else", "null", /answers no audits/],
])("%s is no answer, neither good nor bad", (_name, printed, why) => {
  expect(readAudit(printed)).toEqual({ unanswered: expect.stringMatching(why) });
});

test("an answer that did not come in time", () => {
  expect(readAudit("{}", "no answer within 60 s")).toEqual({ unanswered: "no answer within 60 s" });
});
