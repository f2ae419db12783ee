/** A page read as a browser without a script reads it: its words, and what each form would send. */
import { describe, expect, test } from "vitest";
import { Jar } from "./client";
import { formsOf, textOf } from "./page";

const html = `<!DOCTYPE html><html><head><title>Not said</title></head><body><script>var a = "<form>";</script>
<h1>Butter &amp; <em>cream</em></h1><p>$<!-- -->4.20<!-- --> a pound</p>
<form action="" encType="multipart/form-data" method="POST"><input type="hidden" name="$ACTION_2:0" value="{&quot;id&quot;:&quot;7&quot;}"/>
<button type="submit" name="intent" value="try" class="unseen">Try it</button>
<input type="text" id="price-price" name="price" value="4.20"/><input name="locked" disabled="" value="x"/>
<input type="checkbox" name="box" checked="" value="yes"/><input type="checkbox" name="other"/>
<select name="per"><option value="lb">a pound</option><option selected="">oz</option></select><select name="first"><option value="a">A</option><option value="b">B</option></select>
<textarea name="why">
two
lines</textarea><button type="button">Not one</button><button type="submit" name="intent" value="record">Record <!-- -->it</button></form>
<form action="/find"><input name="q" value=""/></form></body></html>`;

describe("a page without a script", () => {
  test("says its words, a line a block, without markup", () => {
    expect(textOf(html).split("\n").slice(0, 2)).toEqual(["Butter & cream", "$4.20 a pound"]);
    expect(textOf(html)).not.toMatch(/Not said|var a/);
  });

  test("has forms that send what stands in them", () => {
    const [form, find] = formsOf(html);
    expect(form).toMatchObject({ method: "POST", multipart: true, action: "" });
    expect(form?.controls.map(({ name, sends }) => [name, ...sends])).toEqual([
      ["$ACTION_2:0", '{"id":"7"}'], ["price", "4.20"], ["box", "yes"], ["other"], ["per", "oz"], ["first", "a"], ["why", "two\nlines"],
    ]);
    expect(form?.buttons).toEqual([{ label: "Try it", name: "intent", value: "try" }, { label: "Record it", name: "intent", value: "record" }]);
    expect(form?.ids.has("price-price")).toBe(true);
    expect(find).toMatchObject({ method: "GET", action: "/find", controls: [{ name: "q", sends: [""] }] });
  });
});

test("a jar keeps what it is given until that is over", () => {
  const jar = new Jar();
  jar.take("session=abc=def; Path=/; HttpOnly; Max-Age=3600");
  jar.take("kitchen=one; Path=/");
  const copy = jar.copy();
  jar.take("kitchen=; Max-Age=0");
  expect([jar.header(), jar.get("kitchen"), copy.header()]).toEqual(["session=abc=def", undefined, "session=abc=def; kitchen=one"]);
});
