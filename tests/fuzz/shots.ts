/**
 * Requests that no page of ours sends: to every address the built app answers, with paths, questions, headers, cookies,
 * forms and action payloads that are wrong in every way; sent as they are, by sessions of every role and by nobody.
 */
import fs from "node:fs";
import http from "node:http";
import path from "node:path";
import fc from "fast-check";
import type { PageForm } from "../http/page";
import { BAD_NAMES, figureLike, hostileText } from "./hostile";

export interface Shot {
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Buffer | null;
}

export interface Answered {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly body: string;
  readonly ms: number;
}

const agent = new http.Agent({ keepAlive: true, maxSockets: 4 });

/** Sends it as it is, and waits for the last byte. Rejects when there is no whole answer within `patience` milliseconds. */
export function fire(origin: string, { method, path: to, headers, body }: Shot, patience = 20_000): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const began = performance.now();
    const { hostname, port } = new URL(origin);
    const request = http.request({ hostname, port, method, path: to, agent, headers: { ...headers, ...(body === null ? {} : { "content-length": String(body.length) }) } }, (answer) => {
      const pieces: Buffer[] = [];
      answer.on("data", (piece: Buffer) => pieces.push(piece));
      answer.once("end", () => { resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: Buffer.concat(pieces).toString(), ms: performance.now() - began }); });
      answer.once("error", reject);
    });
    request.setTimeout(patience, () => { request.destroy(new Error(`no whole answer within ${patience} ms`)); });
    request.once("error", reject);
    request.end(body ?? undefined);
  });
}

interface Built {
  /** Addresses as the app's folders spell them: "/items/[item]/edit". */
  readonly routes: readonly string[];
  readonly actions: readonly { readonly id: string; readonly name: string }[];
}

/** What was built: its routes and the ids of its server actions. */
export function readBuilt(root: string): Built {
  const read = <T>(file: string): T => JSON.parse(fs.readFileSync(path.join(root, ".next", file), "utf8")) as T;
  const routes = Object.values(read<Record<string, string>>("app-path-routes-manifest.json"));
  const { node } = read<{ node: Record<string, { exportedName?: string; filename?: string }> }>("server/server-reference-manifest.json");
  return { routes: [...new Set(routes)].sort(), actions: Object.entries(node).map(([id, { exportedName = "", filename = "" }]) => ({ id, name: `${filename} ${exportedName}` })).sort((a, b) => (a.name < b.name ? -1 : 1)) };
}

export interface Known {
  readonly built: Built;
  readonly origin: string;
  /** Addresses of pages there are, by links on pages. */
  readonly pages: readonly string[];
  /** Forms of those pages, as they came to somebody who may fill them in. */
  readonly forms: readonly { readonly page: string; readonly form: PageForm }[];
  /** Ids that stand in the book. */
  readonly ids: readonly string[];
}

const printable = (text: string): string => encodeURIComponent(text.replace(/[\ud800-\udfff]/g, "\ufffd"));
const QUESTIONS = ["on", "find", "before", "to", "from", "of", "item", "cut", "dish", "dealer", "sort", "page", "section", "quote", "replaces", "adopt", "follows", "role", "_rsc", "nxtP", "__nextDefaultLocale", ...BAD_NAMES];
const DAYS = ["2026-11-01", "1900-01-01", "2200-12-31", "2026-02-30", "0000-00-00", "today", "99999-12-31"];

/** Text for an address, however it is escaped. */
const segment = (ids: readonly string[]): fc.Arbitrary<string> => fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...ids).map(printable) },
  { weight: 3, arbitrary: hostileText(300).map(printable) },
  { weight: 1, arbitrary: fc.constantFrom("%", "%zz", "%E0%A4%A", "%00", "%2e%2e%2f", "..", ".", "%252f", "a".repeat(900), "%F0%9F%A5%A9", "[item]", "1e9", "-1", "0", "99999999999999999999", "__proto__", "constructor") },
);

function address(known: Known): fc.Arbitrary<string> {
  const filled = fc.constantFrom(...known.built.routes).chain((route) => {
    const parts = route.split("/").slice(1);
    return fc.tuple(...parts.map((part) => (part.startsWith("[") ? segment(known.ids) : fc.constant(part)))).map((drawn) => `/${drawn.join("/")}`);
  });
  const beside = fc.array(segment(known.ids), { minLength: 1, maxLength: 5 }).map((parts) => `/${parts.join("/")}`);
  const framework = fc.tuple(fc.constantFrom("/_next/static/", "/_next/image", "/_next/data/", "/_next/", "/.well-known/", "/api/", "/api/auth/", "/__nextjs_original-stack-frame"), segment(known.ids)).map((parts) => parts.join(""));
  const place = fc.oneof({ weight: 5, arbitrary: fc.constantFrom(...known.pages) }, { weight: 8, arbitrary: filled }, { weight: 2, arbitrary: beside }, { weight: 1, arbitrary: framework }, { weight: 1, arbitrary: fc.constantFrom("//", "/\\", "/%2f", "/;", "/dishes/", "//dishes", "/DISHES", "/_next/image?url=%2Ficon.svg&w=64&q=75", "/_next/image?url=http://127.0.0.1/&w=64&q=1") });
  const answer = fc.oneof(fc.constantFrom(...DAYS), fc.constantFrom(...known.ids), hostileText(300)).map(printable);
  const question = fc.array(fc.tuple(fc.constantFrom(...QUESTIONS).map(printable), answer), { maxLength: 4 }).map((pairs) => pairs.map((pair) => pair.join("=")).join("&"));
  return fc.tuple(place, fc.oneof({ weight: 2, arbitrary: fc.constant("") }, { weight: 3, arbitrary: question })).map(([where, asked]) => (asked === "" ? where : `${where}${where.includes("?") ? "&" : "?"}${asked}`)).filter((one) => one.length < 6_000);
}

const latin = (text: string): string => text.replace(/[^\x20-\x7e\xa0-\xff]/g, "?");
const HEADERS: readonly (readonly [string, readonly string[]])[] = [
  ["rsc", ["1", "0", "x"]],
  ["next-router-state-tree", ["%5B%22%22%2C%7B%7D%5D", "[]", "%", "%7B", encodeURIComponent(JSON.stringify(["", { children: ["__PAGE__", {}] }])), encodeURIComponent("[".repeat(500)), "x".repeat(4_000), "null", "%22a%22"]],
  ["next-router-prefetch", ["1", "2", "x"]], ["next-router-segment-prefetch", ["/_tree", "/_index", "../..", "x"]], ["next-url", ["/", "//x", "%", "x".repeat(500)]], ["next-hmr-refresh", ["1"]],
  ["accept", ["*/*", "text/x-component", "application/json", ""]], ["accept-language", ["de", "x".repeat(1_000), "*;q=0"]], ["accept-encoding", ["gzip", "br", "identity;q=0", "x"]],
  ["if-none-match", ["*", "W/\"x\""]], ["range", ["bytes=0-1", "bytes=9-1", "x"]], ["x-forwarded-host", ["evil.example", "", "a b"]], ["x-forwarded-proto", ["https", "javascript"]], ["x-middleware-subrequest", ["middleware:middleware:middleware"]],
  ["x-trimledger-inside", ["x"]], ["x-trimledger-path", ["//evil.example"]], ["x-request-id", ["x".repeat(300)]], ["authorization", ["Bearer x", "Basic ::"]], ["x-http-method-override", ["DELETE"]], ["content-type", ["text/plain", "application/json"]],
  ["referer", ["http://evil.example/"]], ["sec-fetch-site", ["cross-site", "same-origin", "x"]], ["next-action", ["x", "0".repeat(42), "__proto__"]], ["x-nextjs-data", ["1"]], ["purpose", ["prefetch"]], ["upgrade-insecure-requests", ["1"]],
];
const headers = fc.array(fc.constantFrom(...HEADERS).chain(([name, values]) => fc.oneof({ weight: 4, arbitrary: fc.constantFrom(...values) }, { weight: 1, arbitrary: hostileText(200).map(latin) }).map((value) => [name, value.trim()] as const)), { maxLength: 3 })
  .map((pairs): Record<string, string> => Object.fromEntries(pairs));

/** The cookie as it is, without, or with something else put to it. */
const cookied = (cookie: string): fc.Arbitrary<Record<string, string>> => fc.oneof(
  { weight: 10, arbitrary: fc.constant(cookie) },
  { weight: 1, arbitrary: fc.constantFrom("kitchen=__proto__", "kitchen=%00", "kitchen=", "=", ";;;", "a".repeat(3_000), "kitchen=%E0%A4%A; kitchen=b").map((more) => [cookie, more].filter((one) => one !== "").join("; ")) },
  { weight: 1, arbitrary: hostileText(100).map((text) => cookie.replace(/=([^;]*)/, () => `=${latin(text).replaceAll(";", "")}`)) },
).map((value): Record<string, string> => (value.trim() === "" ? {} : { cookie: value }));

/** Opening any address. */
export function looking(known: Known, cookie: string): fc.Arbitrary<Shot> {
  return fc.tuple(fc.constantFrom("GET", "GET", "GET", "GET", "HEAD"), address(known), headers, cookied(cookie)).map(([method, to, more, jar]) => ({ method, path: to, headers: { accept: "text/html", ...more, ...jar }, body: null }));
}

type Field = readonly [string, string | Buffer];

/** A form's fields as a multipart body; names and values go in as they are. */
function multipart(fields: readonly Field[], boundary = "----trimledger"): Buffer {
  return Buffer.concat([...fields.flatMap(([name, value]) => [
    Buffer.from(`--${boundary}\r\nContent-Disposition: form-data; name="${name.replace(/["\r\n]/g, "_")}"${Buffer.isBuffer(value) ? '; filename="a.jpg"\r\nContent-Type: image/jpeg' : ""}\r\n\r\n`), Buffer.from(value as string), Buffer.from("\r\n"),
  ]), Buffer.from(`--${boundary}--\r\n`)]);
}

const FIELD_NAMES = ["lines.0.of", "lines.0.text", "lines.99999.of", "lines.blank", "parts.0.weight", "parts.0.blank", "parts.blank", "parts.1e9.weight", "__proto__.polluted", "a.__proto__.b", "constructor.prototype.x", "id", "from", "why", "intent", "basedOn", "basedOnTheirs", "replaces", "validFrom", "quoteId", "a.".repeat(200), ".", "..", "lines", "lines.0", "keep.x", "person", "session", "role", "token", "kitchen"];

/** A form of a page, with some of its fields left out, doubled, filled with anything, and some put to it. */
export function sending(known: Known, cookie: string): fc.Arbitrary<Shot> {
  const value = fc.oneof({ weight: 4, arbitrary: figureLike }, { weight: 3, arbitrary: hostileText(2_000) }, { weight: 2, arbitrary: fc.constantFrom(...known.ids, ...DAYS, "try", "record", "over", "new", "", "{}", "[]", "null", '{"item:butter":1}', '{"__proto__":1}', "x".repeat(200_000)) });
  return fc.constantFrom(...known.forms).chain(({ page, form }) => {
    const sent: Field[] = [...form.controls.flatMap(({ name, sends }) => sends.map((one): Field => [name, one])), ...form.buttons.slice(0, 1).filter(({ name }) => name !== "").map(({ name, value: said }): Field => [name, said])];
    const fate = fc.oneof({ weight: 1, arbitrary: fc.constant("gone") }, { weight: 1, arbitrary: fc.constant("twice") }, { weight: 4, arbitrary: value.map((to) => ({ to })) }, { weight: 1, arbitrary: fc.constant("file") });
    // One or two things about it wrong, so that many a form gets further than its first field.
    return fc.tuple(
      fc.array(fc.tuple(fc.nat({ max: Math.max(0, sent.length - 1) }), fate), { maxLength: 2 }).map((spoilt) => new Map(spoilt)), fc.nat({ max: 9 }).map((drawn) => drawn === 0),
      fc.array(fc.tuple(fc.constantFrom(...FIELD_NAMES, ...BAD_NAMES), value), { maxLength: 1 }), fc.constantFrom("try", "record", "record", "over", "", "x"), fc.boolean(), headers, cookied(cookie),
    ).map(([fates, spoilTheAction, more, intent, encoded, extra, jar]): Shot => {
      const fields = [...sent.flatMap((field, index): Field[] => {
        const [name, said] = field;
        const end = name.startsWith("$") && !spoilTheAction ? "kept" : fates.get(index) ?? "kept";
        if (name === "intent") return [["intent", intent]];
        if (typeof end === "object") return [[name, end.to]];
        return end === "gone" ? [] : end === "twice" ? [field, field] : end === "file" ? [[name, Buffer.from([0xff, 0xd8, 0, 1])]] : [[name, said]];
      }), ...more];
      const { "content-type": _type, ...rest } = extra;
      const common = { accept: "text/html", origin: known.origin, ...rest, ...jar };
      if (encoded && !form.multipart) return { method: "POST", path: page, headers: { ...common, "content-type": "application/x-www-form-urlencoded" }, body: Buffer.from(fields.map(([name, said]) => `${printable(name)}=${printable(String(said))}`).join("&")) };
      return { method: "POST", path: page, headers: { ...common, "content-type": "multipart/form-data; boundary=----trimledger" }, body: multipart(fields) };
    });
  });
}

/** Payloads as React's own encoding has them, and as it never would. */
const REPLY = ["$undefined", "$K1", "$K", "$F1", "$F0", "$T", "$Q1", "$W1", "$i1", "$B1", "$@1", "$@0", "$D2026-13-45", "$n99999999999999999999", "$n", "$h1", "$h", "$S", "$1", "$0", "$-0", "$NaN", "$Infinity", "$$", "$", "$1:__proto__", "$1:constructor:constructor", "$A1", "$R1", "$r1", "$X1", "$x1", "$Z", "$l1"];

/** Server actions called straight, with arguments of any shape. */
export function calling(known: Known, cookie: string): fc.Arbitrary<Shot> {
  const id = fc.oneof({ weight: 8, arbitrary: fc.constantFrom(...known.built.actions.map((action) => action.id)) }, { weight: 1, arbitrary: fc.constantFrom("x", "0".repeat(42), "7f".repeat(21), "__proto__", "constructor", "ff") });
  const leaf = fc.oneof(fc.constantFrom(...REPLY), hostileText(200), fc.constantFrom<unknown>(null, true, 0, -1, 1e308, {}, []));
  const argument = fc.letrec<{ tree: unknown }>((tie) => ({ tree: fc.oneof({ maxDepth: 3 }, leaf, fc.array(tie("tree"), { maxLength: 3 }), fc.dictionary(fc.constantFrom("status", "values", "problems", "then", ...BAD_NAMES), tie("tree"), { maxKeys: 3 })) })).tree;
  const json = fc.oneof(fc.array(argument, { maxLength: 3 }).map((args) => JSON.stringify(args)), fc.constantFrom('["$undefined","$K1"]', '[{"status":"idle"},"$K1"]', "[", "", "null", "{}", '"$K1"', "[".repeat(5_000), `${"[".repeat(2_000)}${"]".repeat(2_000)}`, '[{"__proto__":{"polluted":1}}]', "$K1", "\0"));
  const fields = fc.tuple(json, fc.array(fc.tuple(fc.constantFrom(...FIELD_NAMES, "intent", "name", "price"), fc.oneof(figureLike, hostileText(300))), { maxLength: 5 }), fc.boolean(), fc.constantFrom("1", "2", "0", "x"))
    .map(([root, more, inOrder, prefix]): Field[] => {
      const sent: Field[] = more.map(([name, value]) => [`${prefix}_${name}`, value]);
      return inOrder ? [...sent, ["0", root]] : [["0", root], ...sent];
    });
  const whole = fields.map((sent) => ({ type: "multipart/form-data; boundary=----trimledger", body: multipart(sent) }));
  const broken = fc.tuple(fields, fc.constantFrom("multipart/form-data", "multipart/form-data; boundary=", "multipart/form-data; boundary=other", 'multipart/form-data; boundary="', "multipart/mixed; boundary=----trimledger", "application/x-www-form-urlencoded", "text/plain", "text/plain;charset=UTF-8", "application/json", "x", "application/octet-stream", "multipart/form-data; boundary=" + "b".repeat(200)), fc.integer({ min: 0, max: 400 }), fc.boolean())
    .map(([sent, type, cut, truncate]) => ({ type, body: truncate ? multipart(sent).subarray(0, cut) : multipart(sent) }));
  const plain = json.map((text) => ({ type: "text/plain;charset=UTF-8", body: Buffer.from(text) }));
  // Without a script the action's id and its bound arguments travel in the form.
  const inForm = fc.tuple(id, json, fc.constantFrom("$ACTION_ID_", "$ACTION_REF_", "$ACTION_1:", "$ACTION_KEY", "1_$ACTION_ID_")).map(([action, bound, prefix]) => ({
    type: "multipart/form-data; boundary=----trimledger",
    body: multipart(prefix === "$ACTION_REF_" ? [["$ACTION_REF_1", ""], ["$ACTION_1:0", JSON.stringify({ id: action, bound: "$@1" })], ["$ACTION_1:1", bound], ["$ACTION_KEY", "k1"]] : [[`${prefix}${action}`, ""], ["$ACTION_KEY", bound]]),
  }));
  const body = fc.oneof({ weight: 4, arbitrary: whole.map((one) => ({ ...one, byHeader: true })) }, { weight: 2, arbitrary: broken.map((one) => ({ ...one, byHeader: true })) }, { weight: 1, arbitrary: plain.map((one) => ({ ...one, byHeader: true })) }, { weight: 2, arbitrary: inForm.map((one) => ({ ...one, byHeader: false })) }, { weight: 1, arbitrary: broken.map((one) => ({ ...one, byHeader: false })) });
  return fc.tuple(fc.oneof({ weight: 4, arbitrary: fc.constantFrom(...known.pages) }, { weight: 1, arbitrary: address(known) }), id, body, headers, cookied(cookie), fc.constantFrom("POST", "POST", "POST", "POST", "PUT", "PATCH", "DELETE")).map(([to, action, { type, body: sent, byHeader }, extra, jar, method]): Shot => ({
    method, path: to, body: sent,
    headers: { accept: byHeader ? "text/x-component" : "text/html", origin: known.origin, ...extra, ...(byHeader ? { "next-action": action } : {}), "content-type": type, ...jar },
  }));
}
