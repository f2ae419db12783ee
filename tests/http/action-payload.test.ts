/** What a server action is called with: what React sends passes, what it never would is refused before anything takes it apart. */
import type { IncomingMessage } from "node:http";
import { describe, expect, test } from "vitest";
import { refusalOfAction } from "../../app/server/action-payload.mjs";

/** Actions that take a state and a form, a form alone, nothing: the first two digits of their ids say so. */
const ID = "60cce44d60116a1dda9daab39a380c201e463d5480";
const FORM_ALONE = "40a8703ad71797eb2c44e17fff2912d094c2696fa9";
const NOTHING = "00393602e06ae24611141036913b175a87c263027d";
type Field = readonly [string, string];

async function answer(fields: readonly Field[], headers: Readonly<Record<string, string>> = {}, method = "POST"): Promise<string> {
  const form = new FormData();
  for (const [name, value] of fields) form.append(name, value);
  const sent = new Response(form);
  return told(Buffer.from(await sent.arrayBuffer()), { "content-type": sent.headers.get("content-type") ?? "", ...headers }, method);
}
async function told(body: Buffer, headers: Readonly<Record<string, string>>, method = "POST"): Promise<string> {
  const refusal = await refusalOfAction({ method, headers } as unknown as IncomingMessage, body);
  return refusal === null ? "passes" : `${refusal.status} ${refusal.code}`;
}
const inForm = (bound: string, more: readonly Field[] = []): readonly Field[] => [["$ACTION_REF_1", ""], ["$ACTION_1:0", JSON.stringify({ id: ID, bound: "$@1" })], ["$ACTION_1:1", bound], ["$ACTION_KEY", "ka1"], ["price", "4.75"], ...more];
const call = { "next-action": ID };

describe("passes", () => {
  test.each<[string, readonly Field[]]>([
    ["a form sent without a script", inForm('[{"status":"editing"}]')],
    ["with text that begins with a dollar, and something that stands in it twice", inForm('[{"values":{"price":"$$4.75"},"problems":[{"path":"a"},"$1:0:problems:0"],"told":"$undefined"}]')],
    ["an action without anything bound to it", [[`$ACTION_ID_${FORM_ALONE}`, ""], ["kitchen", "k"]]],
    ["an action that takes nothing", [[`$ACTION_ID_${NOTHING}`, ""]]],
    ["a form that calls nothing", [["find", "butter"]]],
  ])("%s", async (_name, fields) => { expect(await answer(fields)).toBe("passes"); });
  test.each<[string, readonly Field[]]>([
    ["with text of any name", [["1_price", "4.75"], ["1___proto__", "x"], ["0", '["$undefined","$K1"]']]],
    ["without fields", [["0", '[null,"$K1"]']]],
    ["with a state that says things twice", [["1_price", "4.75"], ["0", '[{"status":"refused","problems":[],"values":{"a":"$$1"},"again":"$0:0:values"},"$K1"]']]],
  ])("a call with a state and a form, %s", async (_name, fields) => { expect(await answer(fields, call)).toBe("passes"); });
  test("a call with a form alone, and one with nothing", async () => {
    expect(await answer([["1_kitchen", "k"], ["0", '["$K1"]']], { "next-action": FORM_ALONE })).toBe("passes");
    expect(await answer([["0", '["$K1"]']], { "next-action": NOTHING })).toBe("passes");
    expect(await told(Buffer.from("[]"), { "next-action": NOTHING, "content-type": "text/plain;charset=UTF-8" })).toBe("passes");
  });
  test("what calls no action, whatever it is", async () => {
    expect(await told(Buffer.from("{"), { "content-type": "application/json" })).toBe("passes");
    expect(await told(Buffer.from("name=a&price=4"), { "content-type": "application/x-www-form-urlencoded" })).toBe("passes");
  });
});

describe("is refused", () => {
  test.each<[string, readonly Field[]]>([
    ["bound state that is no JSON", inForm("[")], ["no list", inForm("{}")], ["a reference to what is not there", inForm('["$1:5"]')], ["a reference to a part that is not there", inForm('["$7"]')],
    ["a server reference", inForm('["$F1"]')], ["a promise", inForm('["$@1"]')], ["a prototype", inForm('[{"__proto__":{"a":1}}]')], ["a way through a prototype", inForm('[{"a":"$1:0:constructor"}]')],
    ["deeper than any state", inForm("[".repeat(500) + "]".repeat(500))], ["two actions", inForm("[null]", [[`$ACTION_ID_${FORM_ALONE}`, ""]])], ["a part twice", inForm("[null]", [["$ACTION_1:1", "[null]"]])], ["no state where one is taken", inForm("[]")], ["two states", inForm("[null,null]")], ["an action that takes a state, without one", [[`$ACTION_ID_${ID}`, ""]]],
    ["an id that is none", [["$ACTION_ID_x", ""]]], ["a state without its action", [["$ACTION_1:1", "[]"]]], ["an unknown part", [["$ACTION_EVIL", "1"]]],
  ])("%s in a form", async (_name, fields) => { expect(await answer(fields)).toBe("400 form"); });
  test.each<[string, readonly Field[]]>([
    ["without arguments", [["1_price", "4"]]], ["without a form", [["0", "[]"]]], ["with a form in the place of the state", [["0", '["$K1"]']]], ["with one argument more", [["0", '[null,null,"$K1"]']]], ["with arguments that are no JSON", [["0", "$K1"]]], ["with a stream", [["0", '["$R1","$K1"]']]],
    ["with a huge number", [["0", `["$n${"9".repeat(9000)}","$K1"]`]]], ["with its arguments twice", [["0", '[null,"$K1"]'], ["0", '[null,"$K1"]']]],
  ])("a call %s", async (_name, fields) => { expect(await answer(fields, call)).toBe("400 form"); });
  test("a body that is not what it says", async () => {
    const cut = Buffer.from("------x\r\nContent-Disposition: form-data; name=\"0\"\r\n\r\n[");
    for (const type of ["multipart/form-data", "multipart/form-data; boundary=", "multipart/form-data; boundary=other", "multipart/form-data; boundary=----x", "text/plain", "x"]) expect(await told(cut, { ...call, "content-type": type })).toBe("400 form");
    expect(await told(Buffer.from(`%24ACTION_ID_${ID}=`), { "content-type": "application/x-www-form-urlencoded" })).toBe("400 form");
  });
  test("a call of what is no action", async () => {
    for (const id of ["x", "__proto__", "", "0".repeat(41)]) expect(await answer([["0", '[null,"$K1"]']], { "next-action": id })).toBe("400 form");
  });
  test("a call by another method", async () => {
    for (const method of ["PUT", "PATCH", "DELETE"]) expect(await told(Buffer.alloc(0), call, method)).toBe("400 form");
  });
});
