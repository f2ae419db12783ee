/** What a delivery comes to, and what its schema refuses. Invented figures, worked by hand. */
import { describe, expect, test } from "vitest";
import { type Delivery, deliveryTotal, lineValue, readFact } from "@/lib/book";
import { ratio } from "@/lib/measure";
import { us } from "../measure/habits";

const line = { itemId: "loin", billed: "54.2 lb", price: "7.10", per: "lb" };
const input = { id: "d", dealerId: "dealer", number: "R-1", on: "2026-11-20", lines: [line] };

function read(more: object): Delivery {
  const delivery = readFact("delivery", { ...input, ...more }, us);
  if (!delivery.ok) throw new Error(delivery.problems[0]?.sentence);
  return delivery.value;
}
function wrong(more: object): readonly string[] {
  const delivery = readFact("delivery", { ...input, lines: [{ ...line, ...more }] }, us);
  return delivery.ok ? [] : delivery.problems.map(({ path, sentence }) => `${path}: ${sentence}`);
}

describe("a delivery", () => {
  test("a catch weight is billed by what it weighs, a case by how many there are", () => {
    const { lines } = read({ lines: [line, { itemId: "salt", packs: "3", billed: "120 lb", price: "18.60", per: "pack" }] });
    expect(lines.map((one) => ratio.toDecimal(lineValue(one)).toString())).toEqual(["384.82", "55.8"]);
  });

  test("the total is as printed where it was read off, else as reckoned", () => {
    expect(ratio.toDecimal(deliveryTotal(read({ lines: [{ ...line, amount: "384.00" }, line] }))).toString()).toBe("768.82");
  });

  test("the price is told in what was billed, packs where it is by the pack, received in the same kind", () => {
    expect(wrong({ per: "L" })).toEqual(["lines.0.per: What was billed is told in lb, so the price cannot be per L: give both in the same kind of unit."]);
    expect(wrong({ per: "pack" })).toEqual(["lines.0.packs: The price is for a pack: say how many packs were billed."]);
    expect(wrong({ received: "3 L" })).toEqual(["lines.0.received: What was billed is told in lb: tell what was received in the same kind of unit."]);
    expect(wrong({ billed: "0 lb" })).toEqual(["lines.0.billed: What was billed must be above zero."]);
  });
});
