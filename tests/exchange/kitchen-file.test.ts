/**
 * The whole kitchen as a document: its JSON Schema stands in docs/ as it is made here, and any reader of JSON Schema judges
 * a file as we do. `WRITE=1 npx vitest run tests/exchange/kitchen-file` writes it anew.
 */
import fs from "node:fs";
import Ajv2020 from "ajv/dist/2020";
import { expect, test } from "vitest";
import { fileBegins, fileEnds, fileLines, kitchenFileJsonSchema, readKitchenFile, readTold } from "@/lib/exchange";
import { readDemo } from "@/seed/read";

const PLACE = "docs/kitchen-file.schema.json";
const schema = JSON.parse(JSON.stringify(kitchenFileJsonSchema())) as Record<string, unknown>;

test("the schema in docs/ is the one that the code makes", () => {
  const text = `${JSON.stringify(schema, null, 2)}\n`;
  if (process.env.WRITE === "1") fs.writeFileSync(PLACE, text);
  expect(fs.readFileSync(PLACE, "utf8")).toBe(text);
});

const demo = readDemo();
const revisions = [{ change: { kind: "kitchen", id: "kitchen", after: { id: "kitchen", ...demo.kitchen } }, validFrom: "2026-01-01" }, ...demo.entries]
  .map(({ change: { kind, id, after }, validFrom }, at) => ({ revision: at + 1, kind, id, name: id, validFrom, replaces: null, fact: after }));
const change = { no: 1, at: "2026-11-25T09:30:00.000Z", by: "Chef", why: "", revisions };
const text = `${fileBegins({ exportedAt: "2026-11-26T00:00:00.000Z", kitchen: { id: "k", name: "K" } })}${fileLines([change], true)}${fileEnds({ tryouts: [], layouts: [], orderPlans: [] })}`;

test("the demo’s facts are as the schema says, and what is not is not", () => {
  const validate = new Ajv2020({ strict: false }).compile(schema);
  expect(validate(JSON.parse(text)), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
  const other = JSON.parse(text) as { changes: { revisions: { fact: Record<string, unknown> }[] }[] };
  (other.changes[0]?.revisions[0] as { fact: Record<string, unknown> }).fact["target"] = 0.3;
  expect(validate(other)).toBe(false);
});

test("every fact of the demo is read as it was told, to the letter", () => {
  const file = readKitchenFile(text);
  if (!file.ok) throw new Error(JSON.stringify(file.problems));
  for (const { kind, fact } of file.value.changes[0]?.revisions ?? []) {
    const read = readTold(kind, fact, demo.kitchen);
    expect(read.ok && read.value).toEqual(fact);
  }
});

test("a share of one is the whole, and is nobody’s 1 %", () => {
  const fact = { id: "d", gross: { amount: "10" }, taxRate: null, target: "1" };
  const read = readTold("menuPrice", fact, demo.kitchen);
  expect(read.ok && read.value).toEqual(fact);
  const third = readTold("menuPrice", { ...fact, target: "1/3", taxRate: "0.0333333333333333333333333333333" }, demo.kitchen);
  expect(third.ok && [third.value.target, third.value.taxRate]).toEqual(["1/3", "0.0333333333333333333333333333333"]);
});

test("a file made elsewhere is written over several lines, with a mark at its beginning", () => {
  expect(readKitchenFile(`\uFEFF${JSON.stringify(JSON.parse(text), null, 2)}`).ok).toBe(true);
});
