import { describe, expect, test } from "vitest";
import { type Unit, exact, ratio } from "@/lib/measure";
import { leftToAccountFor } from "@/lib/yield";

const q = (amount: string, unit: Unit = "lb") => ({ amount: exact(amount), unit });
const told = (left: ReturnType<typeof leftToAccountFor>) => left && [`${left.amount.amount} ${left.amount.unit}`, left.tooMuch, ratio.toExact(left.weighed)];

describe("left to account for", () => {
  test("the whole less what was weighed, in the whole's unit", () => {
    expect(told(leftToAccountFor(q("13.5"), [q("2.125"), q("1.625"), q("14", "oz"), q("8.6875")]))).toEqual(["0.1875 lb", false, "71/72"]);
  });
  test("nothing weighed yet", () => expect(told(leftToAccountFor(q("12"), []))).toEqual(["12 lb", false, "0"]));
  test("parts heavier than the whole", () => expect(told(leftToAccountFor(q("12"), [q("12.5625")]))).toEqual(["0.5625 lb", true, "1.046875"]));
  test("without a whole, or with a part in another kind of unit, there is nothing to tell", () => {
    expect(leftToAccountFor(null, [q("1")])).toBeNull();
    expect(leftToAccountFor(q("12"), [q("1", "qt")])).toBeNull();
  });
});
