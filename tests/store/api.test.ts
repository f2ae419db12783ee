/**
 * The ways in for programs, held to the document that describes them: every route of the document answers, every answer is
 * as the document says, every route of the code is in it; whatever is sent is answered with a problem that says what is
 * wrong, and what is refused leaves the book as it was.
 */
import fs from "node:fs";
import path from "node:path";
import Ajv2020 from "ajv/dist/2020";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Visitor } from "@/lib/access";
import type { Store } from "@/lib/store";
import { readDemo } from "@/seed/read";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { takeOne } from "@/app/api/limits";
import { openApi } from "@/app/api/openapi";
import { ALL_ROUTES } from "@/app/api/routes";
import { CHEF, SOUS, from, kitchen, FACTS } from "./test-kitchen";

type Json = Readonly<Record<string, unknown>>;
type Handler = (request: Request, context: { params: Promise<Readonly<Record<string, string>> | undefined> }) => Promise<Response>;

let place: TestDatabase;
let store: Store;
let id: string;
const keys = { write: "", read: "", elsewhere: "" };
const owner = { name: "Owner", personId: "p", username: "o", sessionId: "s" } as Visitor;

beforeAll(async () => {
  place = await migratedDatabase();
  if ("url" in place.choice) process.env.DATABASE_URL = place.choice.url;
  else process.env.DATA_DIR = place.choice.folder;
  store = await (await import("@/lib/store")).openStore();
  const access = await (await import("@/lib/access")).openAccess();
  const demo = readDemo();
  id = await store.createKitchen(demo.kitchen, CHEF, demo.entries, "The demo kitchen");
  const other = await store.createKitchen({ ...kitchen, name: "Elsewhere" }, CHEF, from("2026-11-01", FACTS));
  for (const [which, of, may] of [["write", id, "write"], ["read", id, "read"], ["elsewhere", other, "write"]] as const) {
    const made = await access.makeProgramKey(owner, of, { name: `Till ${which}`, may });
    if (!made.ok) throw new Error("expected a key");
    keys[which] = made.value.key;
  }
});
afterAll(async () => {
  await store.close();
  await place.remove();
});

interface Asked {
  readonly method?: string;
  readonly key?: string | null;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
}
interface Told {
  readonly status: number;
  readonly headers: Headers;
  readonly body: Json;
}

/** Asks as the built app would: the file of the route is found by its path. */
async function ask(address: string, { method = "GET", key = keys.write, body, headers = {} }: Asked = {}): Promise<Told> {
  const url = new URL(`http://kitchen.example/api/v1${address}`);
  const parts = url.pathname.replace(/^\/api\/v1\/?/, "").split("/").filter((part) => part !== "");
  const route = find(parts);
  const { handler, params } = route === null ? { handler: undefined, params: {} } : { handler: ((await import(/* @vite-ignore */ route.file)) as Readonly<Record<string, Handler>>)[method], params: route.params };
  if (handler === undefined) throw new Error(`expected a handler for ${method} ${address}`);
  const request = new Request(url, {
    method, headers: { ...(key === null ? {} : { authorization: `Bearer ${key}` }), ...(body === undefined ? {} : { "content-type": "application/json" }), "x-trimledger-address": "203.0.113.9", ...headers },
    ...(body === undefined ? {} : { body: typeof body === "string" ? body : JSON.stringify(body) }),
  });
  // A route without parts is given nothing.
  const answer = await handler(request, { params: Promise.resolve(Object.keys(params).length === 0 ? undefined : params) });
  const told = await answer.json() as Json;
  expectDescribed(route?.template ?? "", method, answer, told);
  return { status: answer.status, headers: answer.headers, body: told };
}

const ROOT = path.resolve("app/api/v1");
const FILES = fs.readdirSync(ROOT, { recursive: true, encoding: "utf8" }).filter((file) => file.endsWith("route.ts")).map((file) => path.dirname(file) === "." ? "" : `/${path.dirname(file)}`);

function find(parts: readonly string[]): { readonly file: string; readonly template: string; readonly params: Readonly<Record<string, string>> } | null {
  for (const template of [...FILES].sort((a, b) => a.split("[").length - b.split("[").length)) {
    const steps = template.split("/").filter((step) => step !== "");
    if (steps.length !== parts.length || !steps.every((step, at) => step.startsWith("[") || step === parts[at])) continue;
    return { file: path.join(ROOT, template, "route.ts"), template, params: Object.fromEntries(steps.flatMap((step, at) => (step.startsWith("[") ? [[step.slice(1, -1), parts[at] ?? ""]] : []))) };
  }
  return null;
}

const document = openApi() as { readonly paths: Readonly<Record<string, Readonly<Record<string, { readonly responses: Readonly<Record<string, { readonly content: Readonly<Record<string, { readonly schema: Json }>> }>>; readonly requestBody?: Json }>>>> };
const ajv = new Ajv2020({ strict: false, allErrors: true });
ajv.addSchema(JSON.parse(JSON.stringify({ $id: "document", ...document })) as Json);

/** The answer is one that the document has, and of the shape that it says. */
function expectDescribed(template: string, method: string, answer: Response, body: Json): void {
  const at = template === "" ? "/" : template.replaceAll("[", "{").replaceAll("]", "}");
  const status = document.paths[at]?.[method.toLowerCase()]?.responses[String(answer.status)];
  const type = answer.headers.get("content-type")?.split(";")[0] ?? "";
  expect(status, `${method} ${at} ${answer.status} ${JSON.stringify(body).slice(0, 300)}`).toBeDefined();
  const schema = status?.content[type]?.schema;
  expect(schema, `${method} ${at} ${answer.status} ${type}`).toBeDefined();
  const held = JSON.parse(JSON.stringify(schema).replaceAll("#/components", "document#/components")) as Json;
  const valid = ajv.validate(held, body);
  expect(valid, `${method} ${at}: ${JSON.stringify(ajv.errors?.slice(0, 5))}`).toBe(true);
}

describe("the document", () => {
  test("is a schema that compiles, and has every route of the code and no other", () => {
    const inCode = FILES.map((file) => (file === "" ? "/" : file.replaceAll("[", "{").replaceAll("]", "}"))).sort();
    expect(Object.keys(document.paths).sort()).toEqual(inCode);
    for (const file of FILES) {
      const text = fs.readFileSync(path.join(ROOT, file, "route.ts"), "utf8");
      const methods = [...text.matchAll(/^export (?:const|function|async function) (GET|POST|PUT|PATCH|DELETE)\b/gm)].map(([, method]) => (method ?? "").toLowerCase()).sort();
      expect(Object.keys(document.paths[file === "" ? "/" : file.replaceAll("[", "{").replaceAll("]", "}")] ?? {}).sort(), file).toEqual(methods);
    }
    expect(document.paths["/changes"]?.["post"]?.requestBody).toBeDefined();
    const { schemas } = (document as unknown as { components: { schemas: Json } }).components;
    for (const name of Object.keys(schemas)) expect(() => ajv.getSchema(`document#/components/schemas/${name}`), name).not.toThrow();
    expect(JSON.stringify(document)).not.toMatch(/#\/\$defs|"\$schema"/);
  });

  test("is answered to whoever asks, and says nothing of a kitchen", async () => {
    const { body } = await ask("/openapi.json", { key: null });
    expect(body).toEqual(JSON.parse(JSON.stringify(document)));
  });
});

describe("reading", () => {
  test("every route of the document answers, as the document says", async () => {
    const live = await store.live(id);
    const someId = (kind: string): string => [...(live.book.shelves as unknown as Readonly<Record<string, ReadonlyMap<string, unknown>>>)[kind]?.keys() ?? []][0] ?? "";
    for (const route of ALL_ROUTES.filter(({ method }) => method === "GET")) {
      const kinds = /^\/(?:costs)/.test(route.path) ? ["item", "cut", "spec", "recipe", "dish"] : ["kitchen", "dealer", "item", "quote", "delivery", "test", "cut", "spec", "recipe", "dish", "menuPrice", "sales"];
      for (const kind of route.path.includes("{kind}") ? kinds : [""]) {
        if (route.path.includes("{id}") && someId(kind) === "") continue;
        const at = route.path.replace("{kind}", kind).replace("{id}", encodeURIComponent(someId(kind))).replace("{changeNo}", "1");
        expect((await ask(at, { key: keys.read })).status, at).toBe(200);
        if (route.problems.includes("not-known-yet")) expect((await ask(`${at}?on=2026-06-01`)).status === 200 || route.path.includes("{id}"), at).toBe(true);
      }
    }
  });

  test("the figures are those of the book, to the digit", async () => {
    const live = await store.live(id);
    const { costOf } = await import("@/lib/cascade");
    const { menuFigures } = await import("@/lib/menu");
    const dishes = (await ask("/dishes")).body["dishes"] as { id: string; foodCost: string | null; plateCost: { amount: string } }[];
    for (const figures of menuFigures(live.cascade)) {
      const told = dishes.find((dish) => dish.id === figures.id);
      expect([told?.foodCost, told?.plateCost.amount]).toEqual([figures.foodCost?.toFixed() ?? null, figures.plateCost.amount.toFixed()]);
    }
    const costs = (await ask("/costs/recipe")).body["costs"] as { id: string; cost: { amount: string } }[];
    expect(costs.map(({ id: of, cost }) => [of, cost.amount])).toEqual([...live.book.shelves.recipe.keys()].map((of) => [of, costOf(live.cascade, { kind: "recipe", id: of })?.amount.toFixed()]));
    const facts = (await ask("/book/test?limit=1000")).body["facts"] as { fact: unknown }[];
    expect(facts.map(({ fact }) => fact)).toEqual(JSON.parse(JSON.stringify([...live.book.shelves.test.values()])));
  });

  test("in pages, of one moment", async () => {
    const all: string[] = [];
    let after = "";
    for (let page = 0; page < 50; page += 1) {
      const { body } = await ask(`/book/quote?limit=37&afterChange=1${after}`);
      all.push(...(body["facts"] as { id: string }[]).map((one) => one.id));
      if (body["next"] === null) break;
      after = `&after=${encodeURIComponent(String(body["next"]))}`;
    }
    expect(all).toEqual([...(await store.bookAsOf(id, { on: (await store.live(id)).today, afterChange: 1 })).shelves.quote.keys()]);
  });

  test.each<[string, Asked, number, string]>([
    ["", { key: null }, 401, "no-key"],
    ["", { key: "tlk_nonsense" }, 401, "wrong-key"],
    ["", { key: null, headers: { authorization: "Basic abc" } }, 401, "no-key"],
    ["/book/quotes", {}, 404, "not-there"],
    ["/book/item/nowhere", {}, 404, "not-there"],
    [`/book/item/${"x".repeat(200)}`, {}, 404, "not-there"],
    ["/book/item/%25", {}, 404, "not-there"],
    ["/costs/quote", {}, 404, "not-there"],
    ["/costs/dish/nothing/history", {}, 404, "not-there"],
    ["/revisions/item/nothing", {}, 404, "not-there"],
    ["/record/0", {}, 404, "not-there"],
    ["/record/99999", {}, 404, "not-there"],
    ["/record/one", {}, 404, "not-there"],
    ["/book/item?on=2026-02-30", {}, 400, "bad-question"],
    ["/book/item?on=yesterday", {}, 400, "bad-question"],
    ["/book/item?limit=0.5", {}, 400, "bad-question"],
    ["/book/item?limit=5000", {}, 400, "bad-question"],
    ["/book/item?after=nothing", {}, 400, "bad-question"],
    ["/book/item?find=x", {}, 400, "bad-question"],
    ["/book/item?on=2026-01-01&on=2026-01-02", {}, 400, "bad-question"],
    ["/dishes?knownAt=2020-01-01T00:00:00Z", {}, 404, "not-known-yet"],
    ["/dishes?knownAt=now", {}, 400, "bad-question"],
    ["/record?before=-1", {}, 400, "bad-question"],
  ])("%s %j is answered with %i %s", async (address, asked, status, code) => {
    const { status: got, body, headers } = await ask(address, asked);
    expect([got, body["code"]]).toEqual([status, code]);
    expect(body["detail"]).toMatch(/^.{10,}[.…]|Programs\.$/su);
    if (status === 401) expect(headers.get("www-authenticate")).toBe("Bearer");
  });

  test("a key of another kitchen reads nothing of this one", async () => {
    const { body } = await ask("", { key: keys.elsewhere });
    expect((body["kitchen"] as Json)["name"]).toBe("Elsewhere");
    const [item] = (await store.live(id)).book.shelves.item.keys();
    expect((await ask(`/book/item/${item}`, { key: keys.elsewhere })).status).toBe(404);
    const sent = await ask("/changes", { method: "POST", key: keys.elsewhere, body: { entries: [{ kind: "item", id: item, fact: null }] } });
    expect([sent.status, sent.body["code"]]).toEqual([422, "refused"]);
  });
});

describe("writing", () => {
  const priced = async (amount: string): Promise<{ readonly kind: string; readonly id: string; readonly fact: Json; readonly revision: number }> => {
    const live = await store.live(id);
    // Of the dearest steak: dishes move with it.
    const item = live.book.shelves.cut.get(live.book.shelves.spec.get("strip-steak-10")?.cutId ?? "")?.of.id ?? "";
    const quote = [...live.book.shelves.quote.values()].find((one) => one.itemId === item && one.dealerId === live.book.shelves.item.get(item)?.dealerId);
    if (quote === undefined) throw new Error("expected a quote");
    return { kind: "quote", id: quote.id, fact: { ...quote, price: { amount } } as unknown as Json, revision: live.book.provenance.get(`quote:${quote.id}`)?.revision ?? 0 };
  };
  const entry = ({ kind, id: of, fact }: Awaited<ReturnType<typeof priced>>) => ({ kind, id: of, fact });

  test("tried: the ripple is told, and nothing recorded", async () => {
    const before = (await store.live(id)).changeNo;
    const { status, body } = await ask("/changes", { method: "POST", body: { try: true, entries: [entry(await priced("77.5"))] } });
    expect([status, body["tried"]]).toEqual([200, true]);
    expect(((body["ripple"] as Json)["dishes"] as unknown[]).length).toBeGreaterThan(0);
    expect((await store.live(id)).changeNo).toBe(before);
  });

  test("recorded in the name of the key, as it was tried", async () => {
    const body = { why: "from the till", entries: [entry(await priced("77.5"))] };
    const tried = await ask("/changes", { method: "POST", body: { ...body, try: true } });
    const told = await ask("/changes", { method: "POST", body });
    expect(told.status).toBe(201);
    expect(told.body["by"]).toBe("Till write (program)");
    expect(told.body["ripple"]).toEqual(tried.body["ripple"]);
    expect(told.headers.get("location")).toBe(`/api/v1/record/${String(told.body["changeNo"])}`);
    const [newest] = await store.record(id, { limit: 1 });
    expect([newest?.by, newest?.why]).toEqual(["Till write (program)", "from the till"]);
    expect((await ask(`/record/${String(told.body["changeNo"])}`)).body["ripple"]).toEqual(told.body["ripple"]);
  });

  test("sent twice under one key, also at once, it is recorded once and answered the same", async () => {
    const body = { entries: [entry(await priced("66.5"))] };
    const send = (more: Json = {}, key = "till-2026-11-26/1"): Promise<Told> => ask("/changes", { method: "POST", body: { ...body, ...more }, headers: { "idempotency-key": key } });
    const before = (await store.live(id)).changeNo;
    const told = await Promise.all([send(), send(), send()]);
    expect(told.map(({ status }) => status).sort()).toEqual([200, 200, 201]);
    expect((await store.live(id)).changeNo).toBe(before + 1);
    const [first] = told;
    for (const one of [...told, await send()]) expect(one.body).toEqual(first?.body);
    expect((await send()).headers.get("idempotency-replayed")).toBe("true");
    const other = await send({ why: "another" });
    expect([other.status, other.body["code"]]).toEqual([422, "another-call"]);
    expect((await send({}, "with a space")).status).toBe(400);
    // Another program may use the same key for its own.
    const elsewhere = await ask("/changes", { method: "POST", key: keys.elsewhere, body: { entries: [{ kind: "dealer", id: "d9", fact: { name: "Nine" } }] }, headers: { "idempotency-key": "till-2026-11-26/1" } });
    expect(elsewhere.status).toBe(201);
  });

  test("stale: told what was changed and by whom, and recorded once it has been seen", async () => {
    const seen = await priced("55");
    const live = await store.live(id);
    const committed = await store.commit(id, { entries: from(live.today, [{ kind: "quote", id: seen.id, after: { ...live.book.shelves.quote.get(seen.id), note: undefined, price: { amount: "54" } } as never }]), basedOn: { [`quote:${seen.id}`]: seen.revision }, who: SOUS, why: "" });
    expect(committed.ok).toBe(true);
    const send = (revision: number | null): Promise<Told> => ask("/changes", { method: "POST", body: { entries: [entry(seen)], basedOn: { [`quote:${seen.id}`]: revision } } });
    const told = await send(seen.revision);
    expect([told.status, told.body["code"]]).toEqual([409, "stale"]);
    const [stale] = told.body["stale"] as { by: string; revision: number; theirs: { price: Json }; mine: { price: Json } }[];
    expect([stale?.by, stale?.theirs.price["amount"], stale?.mine.price["amount"]]).toEqual(["Sous chef", "54", "55"]);
    expect((await send(null)).status).toBe(409);
    expect((await send(stale?.revision ?? 0)).status).toBe(201);
  });

  test("several facts at once, new ones that the app calls, a correction, a day to come, and what a person would type", async () => {
    const live = await store.live(id);
    const [dealer] = live.book.shelves.dealer.keys();
    const made = await ask("/changes", {
      method: "POST",
      body: { entries: [
        { kind: "item", id: "till-saffron", fact: { name: "Saffron", section: "Spices", specification: "", kind: "mass", dealerId: dealer } },
        { kind: "quote", id: "till-saffron-quote", fact: { itemId: "till-saffron", dealerId: dealer, pack: "1 oz", price: "12.50", per: "pack" } },
        { kind: "dealer", fact: { name: "New dealer" } },
      ] },
    });
    expect(made.status).toBe(201);
    const facts = made.body["facts"] as { kind: string; id: string; revision: number }[];
    expect(facts.map(({ kind, id: of }) => [kind, of.replace(/^dealer-.*/, "dealer-…")])).toEqual([["item", "till-saffron"], ["quote", "till-saffron-quote"], ["dealer", "dealer-…"]]);
    const quote = (await ask("/book/quote/till-saffron-quote")).body["fact"] as Json;
    expect(quote["price"]).toEqual({ amount: "12.50" });
    const corrected = await ask("/changes", { method: "POST", body: { why: "misread", entries: [{ kind: "quote", id: "till-saffron-quote", fact: { ...quote, price: { amount: "1/3" } }, replaces: facts[1]?.revision }] } });
    expect(corrected.status).toBe(201);
    const later = await ask("/changes", { method: "POST", body: { entries: [{ kind: "quote", id: "till-saffron-quote", fact: { ...quote, price: { amount: "13" } }, validFrom: "2199-01-01" }] } });
    expect(later.status).toBe(201);
    const revisions = (await ask("/revisions/quote/till-saffron-quote")).body["revisions"] as { validFrom: string; replacedBy: number | null }[];
    expect(revisions.map(({ validFrom, replacedBy }) => [validFrom === "2199-01-01", replacedBy !== null])).toEqual([[true, false], [false, false], [false, true]]);
    expect((await ask("/costs/item/till-saffron")).body["cost"]).toMatchObject({ per: "g", atLeast: false });
    const off = await ask("/changes", { method: "POST", body: { entries: [{ kind: "dealer", id: facts[2]?.id, fact: null }] } });
    expect(off.status).toBe(201);
  });

  test("the kitchen’s own settings as they were read, a target of the whole among them", async () => {
    const { body } = await ask("/book/kitchen");
    const fact = (body["facts"] as { fact: Json }[])[0]?.fact ?? {};
    const sent = await ask("/changes", { method: "POST", body: { entries: [{ kind: "kitchen", fact: { ...fact, target: "1" } }] } });
    expect(sent.status).toBe(201);
    expect(((await ask("/book/kitchen")).body["facts"] as { fact: Json }[])[0]?.fact).toEqual({ ...fact, target: "1" });
    expect((await ask("/changes", { method: "POST", body: { entries: [{ kind: "kitchen", fact }] } })).status).toBe(201);
  });

  test.each<[string, unknown, number, string, string]>([
    ["nothing", "", 400, "not-json", ""],
    ["half of it", `{"entries":[`, 400, "not-json", ""],
    ["a list", [], 400, "bad-shape", ""],
    ["null", null, 400, "bad-shape", ""],
    ["no entries", { entries: [] }, 400, "bad-shape", "entries"],
    ["more than is known", { entries: [{ kind: "item", fact: {} }], force: true }, 400, "bad-shape", ""],
    ["a kind that is none", { entries: [{ kind: "people", fact: {} }] }, 400, "bad-shape", "entries.0.kind"],
    ["a fact that is text", { entries: [{ kind: "item", fact: "x" }] }, 400, "bad-shape", "entries.0.fact"],
    ["no day", { entries: [{ kind: "item", fact: {}, validFrom: "soon" }] }, 400, "bad-shape", "entries.0.validFrom"],
    ["an item without a name", { entries: [{ kind: "item", id: "x", fact: { kind: "mass" } }] }, 422, "refused", "entries.0.fact.name"],
    ["a price below zero", { entries: [{ kind: "quote", id: "x", fact: { itemId: "i", dealerId: "d", pack: "1 lb", price: { amount: "-1" }, per: "lb" } }] }, 422, "refused", "entries.0.fact.price"],
    ["a reference to nothing", { entries: [{ kind: "quote", id: "x", fact: { itemId: "nowhere", dealerId: "nobody", pack: "1 lb", price: "1", per: "lb" } }] }, 422, "refused", "entries.0.fact.itemId"],
    ["what is not there taken off", { entries: [{ kind: "dish", id: "nothing", fact: null }] }, 422, "refused", "entries.0.id"],
    ["the settings taken off", { entries: [{ kind: "kitchen", fact: null }] }, 422, "refused", "entries.0.id"],
    ["a menu price without its dish", { entries: [{ kind: "menuPrice", fact: { gross: "10" } }] }, 422, "refused", "entries.0.id"],
    ["a week without its Monday", { entries: [{ kind: "sales", fact: { sold: [] } }] }, 422, "refused", "entries.0.id"],
    ["a week that begins on a Tuesday", { entries: [{ kind: "sales", id: "2026-11-24", fact: { sold: [] } }] }, 422, "refused", "entries.0.fact.id"],
    ["a fact twice", { entries: [{ kind: "dealer", id: "x", fact: { name: "A" } }, { kind: "dealer", id: "x", fact: { name: "B" } }] }, 422, "refused", "entries.1.id"],
    ["a correction of what is not there", { entries: [{ kind: "dealer", id: "x", fact: { name: "A" }, replaces: 1 }] }, 422, "refused", "entries.0.replaces"],
  ])("%s is refused", async (_, body, status, code, at) => {
    const before = (await store.live(id)).changeNo;
    for (const more of [{}, { try: true }]) {
      const told = await ask("/changes", { method: "POST", body: typeof body === "object" && body !== null && !Array.isArray(body) ? { ...body, ...more } : body });
      expect([told.status, told.body["code"]]).toEqual([status, code]);
      const problems = (told.body["problems"] ?? []) as { path: string; sentence: string }[];
      if (at !== "") expect(problems.map((one) => one.path)).toContain(at);
      for (const { sentence } of problems) expect(sentence).toMatch(/^.{4,}[.?]$/su);
    }
    expect((await store.live(id)).changeNo).toBe(before);
  });

  test("a key that only reads neither writes nor tries; another kind of body is not read", async () => {
    const body = { try: true, entries: [entry(await priced("5"))] };
    expect((await ask("/changes", { method: "POST", key: keys.read, body })).body["code"]).toBe("only-reads");
    const told = await ask("/changes", { method: "POST", body: JSON.stringify(body), headers: { "content-type": "text/plain" } });
    expect([told.status, told.body["code"]]).toEqual([415, "not-json-type"]);
  });

  test("law: whatever is sent, it is recorded, tried or refused as the document says", async () => {
    const anything = fc.record({
      why: fc.oneof(fc.string(), fc.jsonValue()), try: fc.constant(true),
      entries: fc.oneof(fc.jsonValue(), fc.array(fc.record({
        kind: fc.oneof(fc.constantFrom("item", "quote", "test", "cut", "dish", "sales", "kitchen", "__proto__"), fc.string()), id: fc.oneof(fc.string(), fc.constantFrom("__proto__", "a/b")),
        fact: fc.oneof(fc.jsonValue(), fc.dictionary(fc.constantFrom("name", "kind", "of", "lines", "price", "id", "target", "endings"), fc.jsonValue())), validFrom: fc.constantFrom("2026-11-25", "2026-02-30", ""), replaces: fc.oneof(fc.integer(), fc.double()),
      }, { requiredKeys: ["kind"] }), { maxLength: 3 })),
      basedOn: fc.jsonValue(),
    }, { requiredKeys: ["entries"] });
    await fc.assert(fc.asyncProperty(anything, async (body) => {
      const { status } = await ask("/changes", { method: "POST", body: JSON.stringify(body), key: keys.elsewhere });
      expect([200, 400, 422]).toContain(status);
    }), { numRuns: 80 });
  });
});

describe("keys", () => {
  test("an ended key opens nothing any more; the list tells no key and when each was used", async () => {
    const access = await (await import("@/lib/access")).openAccess();
    const made = await access.makeProgramKey(owner, id, { name: "Passing", may: "read" });
    if (!made.ok) throw new Error("expected a key");
    expect((await ask("", { key: made.value.key })).status).toBe(200);
    const listed = (await access.programKeys(id)).find((key) => key.id === made.value.id);
    expect([listed?.name, listed?.may, listed?.createdBy, listed?.lastUsedAt !== null, listed?.ended]).toEqual(["Passing", "read", "Owner", true, null]);
    expect(JSON.stringify(await access.programKeys(id))).not.toContain(made.value.key.slice(4));
    expect(await access.endProgramKey(owner, id, made.value.id)).toBe(true);
    expect(await access.endProgramKey(owner, id, made.value.id)).toBe(false);
    expect((await ask("", { key: made.value.key })).body["code"]).toBe("wrong-key");
    for (const name of ["", " ", "x".repeat(81), "Till read", "till READ"]) expect((await access.makeProgramKey(owner, id, { name, may: "read" })).ok, name).toBe(false);
    // An ended key's name is free again.
    expect((await access.makeProgramKey(owner, id, { name: "Passing", may: "write" })).ok).toBe(true);
  });

  test("more than so many requests a minute wait, each key by itself", () => {
    const now = Date.now();
    const waits = Array.from({ length: 125 }, () => takeOne("write", "somebody", now));
    expect(waits.filter((wait) => wait === 0)).toHaveLength(120);
    expect(takeOne("write", "somebody", now)).toBe(1);
    expect(takeOne("write", "another", now)).toBe(0);
    expect(takeOne("write", "somebody", now + 30_000)).toBe(0);
  });

  test("who tries keys is slowed down", async () => {
    let last: Told | undefined;
    for (let n = 0; n < 70; n += 1) last = await ask("", { key: `tlk_${"x".repeat(43)}`, headers: { "x-trimledger-address": "203.0.113.77" } });
    expect([last?.status, last?.body["code"]]).toEqual([429, "too-many"]);
    expect(Number(last?.headers.get("retry-after"))).toBeGreaterThan(0);
  });
});
