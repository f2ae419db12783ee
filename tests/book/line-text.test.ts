/** Lines as they are written on a card: what is understood, what is asked, what is refused; and that what it writes it reads. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Change, type LineKind, labelOf, lineAnswers, lineSaid, lineText, readLine } from "@/lib/book";
import { type Quantity, UNIT_NAMES, exact, parseQuantity, ratio } from "@/lib/measure";
import { generateBook } from "../bench/generate";
import { bookOf as book, cut, density, eachWeight, item, kitchen, recipe, spec } from "../menu/small-books";

const named = <C extends Change>(change: C, name: string): Change => ({ ...change, after: { ...change.after, name } }) as Change;

const small = book([
  named(item("cream", "volume"), "Heavy cream"), named(item("milk", "volume", { density: density("1.03") }), "Milk"),
  named(item("carrots"), "Carrots"), named(cut("peeled", { kind: "item", id: "carrots" }, []), "Carrots, peeled"),
  named(item("leeks"), "Leeks"), named(cut("white", { kind: "item", id: "leeks" }, []), "White of leek"),
  named(item("salt"), "Kosher salt"), named(item("eggs", "count"), "Eggs"), named(item("onion", "mass", { eachWeight: eachWeight("6 oz") }), "Onion"),
  named(item("ramekin", "count"), "6 oz ramekin"), named(item("tin"), "tin"), named(item("sixtin"), "6 oz tin"), named(item("love"), "of love"),
  named(item("loin"), "Strip loin"), named(cut("cleaned", { kind: "item", id: "loin" }, []), "Strip, cleaned"), named(spec("loin9", "cleaned", "9 oz"), "Strip loin 9 oz"),
  named(recipe("stock", ["4 qt"], ["item carrots 2 lb"]), "Chicken stock"), named(recipe("puree", ["2 lb"], ["item carrots 2 lb"]), "Carrot purée"),
  named(item("butter"), "Butter"), named(recipe("butter2", ["2 lb"], ["item carrots 2 lb"]), "Butter"),
]);

function told(text: string, habits = kitchen): string {
  const answer = readLine(small, text, habits);
  if (answer.is === "understood") return lineSaid(small, answer.line, habits);
  return answer.is === "question" ? `${answer.code}? ${answer.choices.map((choice) => choice.text).join(" | ")}` : `${answer.code}: ${answer.sentence}`;
}

describe("understood", () => {
  test.each([
    ["2 1/4 cup heavy cream", "2 1/4 cups of Heavy cream, as purchased"],
    ["2¼ cups of HEAVY   CREAM", "2 1/4 cups of Heavy cream, as purchased"],
    ["3 lb 6 oz carrots, peeled", "3 lb 6 oz of Carrots, peeled, edible portion"],
    ["3 lb 6 oz carrots peeled", "3 lb 6 oz of Carrots, peeled, edible portion"],
    ["250g kosher salt", "250 g of Kosher salt, as purchased"],
    ["kosher salt, 10 g", "10 g of Kosher salt, as purchased"],
    ["Kosher salt (10 g)", "10 g of Kosher salt, as purchased"],
    ["kosher salt – 10 g", "10 g of Kosher salt, as purchased"],
    ["2 portions strip loin 9 oz", "2 portions of Strip loin 9 oz"],
    ["1 strip loin 9 oz", "1 portion of Strip loin 9 oz"],
    ["12 eggs", "12 each of Eggs, as purchased"], ["a dozen eggs", "1 dozen of Eggs, as purchased"], ["eggs 3", "3 each of Eggs, as purchased"],
    ["2 onion", "2 each of Onion, as purchased"],
    ["1 qt chicken stock", "1 qt of Chicken stock, part of the recipe"],
    ["8 oz carrot puree", "8 oz of Carrot purée, part of the recipe"],
    ["3 lb carrots, as purchased", "3 lb of Carrots, as purchased"], ["3 lb carrots AP", "3 lb of Carrots, as purchased"], ["carrots, AP, 3 lb", "3 lb of Carrots, as purchased"],
    ["8 oz milk", "8 oz of Milk, as purchased"], ["8 oz heavy cream by weight", "8 oz of Heavy cream, as purchased"], ["8 fl oz heavy cream", "8 fl oz of Heavy cream, as purchased"],
    ["2 6 oz ramekin", "2 each of 6 oz ramekin, as purchased"],
    ["3 lb of 6 oz tin", "3 lb of 6 oz tin, as purchased"],
  ])("%s", (text, says) => { expect(told(text)).toBe(says); });

  test("in a kitchen of another country's marks", () => {
    expect(told("0,5 kg kosher salt", { ...kitchen, locale: "de-DE", measures: "metric" })).toBe("0,5 kg of Kosher salt, as purchased");
  });
});

describe("asked", () => {
  test("an item, where a cut of it is called by the same words", () => {
    expect(told("3 lb carrots")).toBe("as-purchased-or-edible-portion? 3 lb Carrots, as purchased | 3 lb Carrots, peeled");
    expect(told("3 lb leeks")).toBe("3 lb of Leeks, as purchased");
    expect(told("3 lb carrots EP")).toBe("not-the-whole-name? 3 lb Carrots, peeled");
  });

  test("ounces of what is measured by volume", () => {
    expect(told("8 oz heavy cream")).toBe("which-ounce? 8 fl oz Heavy cream | 8 oz Heavy cream, by weight");
    expect(told("4 oz chicken stock")).toBe("which-ounce? 4 fl oz Chicken stock | 4 oz Chicken stock, by weight");
    expect(told("4 oz cream")).toBe("not-the-whole-name? 4 oz Heavy cream");
  });

  test("a name that several things have, and one that only nearly matches", () => {
    expect(told("1 lb butter")).toBe("several-so-named? 1 lb Butter (as purchased) | 1 lb Butter (recipe)");
    expect(told("10 g salt")).toBe("not-the-whole-name? 10 g Kosher salt");
    expect(told("2 onions")).toBe("not-the-whole-name? 2 each Onion");
  });

  test("a text that is a line in two ways", () => {
    expect(told("3 lb 6 oz tin")).toBe("two-readings? 3 lb 6 oz of tin | 3 lb of 6 oz tin");
    expect(told("strip loin 9 oz")).toBe("two-readings? 9 oz Strip loin | 1 portion Strip loin 9 oz");
  });
});

describe("refused, with what would be right", () => {
  test.each([
    ["", "missing: Say how much of what goes in, such as 2 1/4 cup heavy cream."],
    ["carrots", "quantity-missing: How much of Carrots? Write the quantity first, such as 2 lb Carrots."],
    ["250 g", "name-missing: “250 g” does not say of what: write the name behind it, such as 250 g carrots."],
    ["2 heavy cream", "unit-missing: “2” has no unit, and Heavy cream is not counted: write one, such as 2 qt Heavy cream."],
    ["3 lb unicorn", "not-found: Nothing in the book is called “unicorn”: write the name of an item, a cut, a portion or a recipe, or add it to the items first."],
    ["xyzzy", "not-a-line: “xyzzy” cannot be read: write how much, then of what in the book, such as 2 1/4 cup heavy cream."],
    ["1/0 cup heavy cream", "zero-denominator: “1/0” divides by zero: the number under the stroke has to be 1 or more."],
  ])("%s", (text, says) => { expect(told(text)).toBe(says); });

  test("a unit that is not known", () => { expect(told("2 stones carrots")).toMatch(/^unknown-unit: “stones” in “2 stones” is not a unit known here/); });
});

describe("while it is typed", () => {
  const answers = (text: string): string[] => lineAnswers(small, text, kitchen, 12).map((choice) => choice.text);

  test("the names that answer, each as the line it would make", () => {
    expect(answers("3 lb carr")).toEqual(["3 lb Carrots, peeled", "3 lb Carrot purée", "3 lb Carrots, as purchased"]);
    expect(answers("2 c crea")).toEqual(["2 c Heavy cream"]);
    expect(answers("chick")).toEqual(["Chicken stock, "]);
    expect(answers("3 lb")).toEqual([]);
  });
});

describe("whatever is typed", () => {
  const anyLine = fc.oneof(
    fc.string({ maxLength: 400, unit: "grapheme" }),
    fc.array(fc.constantFrom("1", "2 1/4", "3 lb", "6 oz", "of", ",", "carrots", "heavy cream", "butter", "strip loin 9 oz", "AP", "EP", "by weight", "(10 g)", "- 3", "1e9", "½", "#", "a dozen", "𝟛", "\u0000", "less", "+"), { maxLength: 12 }).map((words) => words.join(" ")),
  );

  test("it answers, what it understood reads back as itself, and each choice leads on", () => {
    fc.assert(fc.property(anyLine, (text) => {
      const answer = readLine(small, text, kitchen);
      lineAnswers(small, text, kitchen, 12);
      if (answer.is === "problem") expect(answer.sentence).toMatch(/[.?]$/);
      else if (answer.is === "question") {
        expect(answer.choices.length).toBeGreaterThan(0);
        for (const choice of answer.choices) expect(readLine(small, choice.text, kitchen).is, `${text} → ${choice.text}`).not.toBe("problem");
      } else {
        const again = readLine(small, lineText(small, answer.line, kitchen), kitchen);
        expect(again.is === "understood" && again.line.of).toEqual(answer.line.of);
        expect(again.is === "understood" && ratio.compare(ratio.fromExact(again.line.quantity.amount), ratio.fromExact(answer.line.quantity.amount))).toBe(0);
      }
    }), { numRuns: 1500 });
  });

  test("every line of everything in the book, in every unit, is written so that it reads as itself", () => {
    const all = (["item", "cut", "spec", "recipe"] as const).flatMap((kind: LineKind) => [...small.shelves[kind].keys()].map((id) => ({ kind, id })));
    const amounts = fc.oneof(fc.integer({ min: 1, max: 5000 }).map(String), fc.tuple(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 1, max: 999 })).map(([whole, part]) => `${whole}.${String(part).padStart(3, "0")}`), fc.constantFrom("1/3", "7/3", "9/4", "1/64"));
    fc.assert(fc.property(fc.constantFrom(...all), amounts, fc.constantFrom(...UNIT_NAMES), fc.constantFrom("en-US", "en-GB", "de-DE", "fr-FR"), (of, amount, unit, locale) => {
      const habits = { ...kitchen, locale };
      const quantity: Quantity = { amount: exact(amount), unit };
      const text = lineText(small, { of, quantity }, habits);
      const read = readLine(small, text, habits);
      expect(read.is === "understood" ? read.line.of : { text, read }).toEqual(of);
      expect(read.is === "understood" && read.line.quantity.unit).toBe(unit);
      // What is handed on to the schemas is the quantity alone, which reads as the same.
      const alone = read.is === "understood" ? parseQuantity(read.line.quantityTyped, habits, { kinds: ["mass", "volume", "count"] }) : null;
      expect(alone?.ok === true && ratio.compare(ratio.fromExact(alone.value.amount), ratio.fromExact(quantity.amount))).toBe(0);
    }), { numRuns: 1500 });
  });

  test("hostile texts and a group's book are answered within a second", () => {
    const large = generateBook({ name: "group", items: 10_000, tests: 800, specs: 1_500, recipes: 6_000, dishes: 3_000 });
    const [first] = large.shelves.item.values();
    readLine(large, `1 lb ${first?.name ?? ""}`, kitchen);
    const started = performance.now();
    for (const text of ["1 ".repeat(5000), "(".repeat(5000), "1 lb ".repeat(60), "-".repeat(300), "of ".repeat(100), "a, ".repeat(100), "½".repeat(300), `${"1 lb + ".repeat(40)}${first?.name ?? ""}`]) {
      const each = performance.now();
      readLine(large, text, kitchen);
      lineAnswers(large, text, kitchen, 12);
      expect(performance.now() - each).toBeLessThan(1000);
    }
    expect(performance.now() - started).toBeLessThan(4000);
    expect(first === undefined ? "" : labelOf(large, { kind: "item", id: first.id })).not.toBe("");
  });
});
