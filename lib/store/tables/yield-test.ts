/** Yield tests in tables: what the scale read and what things were worth that day, part by part and piece by piece. */
import type { PartValue, TestPart, YieldTest } from "@/lib/book";
import {
  exactColumns, exactIn, exactRow, maybeQuantityColumns, maybeQuantityIn, maybeQuantityRow, maybeRateColumns, maybeRateIn,
  maybeRateRow, quantityColumns, quantityIn, quantityRow,
} from "./figures";
import { idIn, keyOf, maybeKey, only, refIn, shape, wordIn } from "./shape";
import { type RowOf, table } from "./table";

const TEST_KINDS = ["butcher", "trim", "cooking", "drained", "hydration"] as const;
const ROLES = ["main", "by-product", "discard", "purge"] as const;
const ORIGINS = ["item", "cut"] as const;
const WORTH = ["item", "recipe"] as const;

const TEST = table("yield_test", {
  test_kind: "text", origin: "text", dealer: "text?", on: "day", cutter: "text", ...exactColumns("pieces"),
  ...quantityColumns("billed"), ...maybeRateColumns("price"), ...maybeQuantityColumns("step"), follows: "text?", note: "text",
  cooking_method: "text?", cooking_temperature: "text?", cooking_end_point: "text?", cooking_time: "text?",
  ...maybeQuantityColumns("trimmed"), ...maybeQuantityColumns("cooked"),
});

const PART = table("yield_test_part", {
  position: "int", key: "text", name: "text", role: "text", ...quantityColumns("weight"),
  ...maybeRateColumns("value"), value_of: "text?", ...maybeRateColumns("market"), ...maybeRateColumns("further"),
});

const PIECE = table("yield_test_piece", { part: "int", position: "int", ...quantityColumns("weight") });

export const testShape = shape(
  "test",
  { test: TEST, parts: PART, pieces: PIECE },
  (test) => ({
    test: [{
      test_kind: test.kind, origin: keyOf(test.of), dealer: maybeKey("dealer", test.dealerId), on: test.on, cutter: test.cutter,
      ...exactRow("pieces", test.pieces), ...quantityRow("billed", test.billed), ...maybeRateRow("price", test.price),
      ...maybeQuantityRow("step", test.scaleStep), follows: maybeKey("test", test.followsTestId), note: test.note,
      cooking_method: test.cooking?.method ?? null, cooking_temperature: test.cooking?.temperature ?? null,
      cooking_end_point: test.cooking?.endPoint ?? null, cooking_time: test.cooking?.time ?? null,
      ...maybeQuantityRow("trimmed", test.cooking?.trimmed ?? null), ...maybeQuantityRow("cooked", test.cooking?.cooked ?? null),
    }],
    parts: test.parts.map((part, position) => ({
      position, key: part.key, name: part.name, role: part.role, ...quantityRow("weight", part.weight),
      ...maybeRateRow("value", part.value?.kind === "typed" ? part.value.rate : null),
      value_of: part.value === null || part.value.kind === "typed" ? null : keyOf(part.value),
      ...maybeRateRow("market", part.marketValue), ...maybeRateRow("further", part.furtherCost),
    })),
    pieces: test.parts.flatMap((part, at) => part.pieces.map((weight, position) => ({
      part: at, position, ...quantityRow("weight", weight),
    }))),
  }),
  (id, rows) => {
    const test = only(rows.test);
    return {
      id, kind: wordIn(test.test_kind, TEST_KINDS), of: refIn(test.origin, ORIGINS),
      dealerId: test.dealer === null ? null : idIn(test.dealer), on: test.on, cutter: test.cutter,
      pieces: exactIn(test, "pieces"), billed: quantityIn(test, "billed"), price: maybeRateIn(test, "price"),
      parts: rows.parts.map((part) => partOf(part, rows.pieces)),
      cooking: cookingOf(test), scaleStep: maybeQuantityIn(test, "step"),
      followsTestId: test.follows === null ? null : idIn(test.follows), note: test.note,
    };
  },
);

function partOf(part: RowOf<typeof PART>, pieces: readonly RowOf<typeof PIECE>[]): TestPart {
  return {
    key: part.key, name: part.name, role: wordIn(part.role, ROLES), weight: quantityIn(part, "weight"),
    value: valueOf(part), marketValue: maybeRateIn(part, "market"), furtherCost: maybeRateIn(part, "further"),
    pieces: pieces.filter((piece) => piece.part === part.position).map((piece) => quantityIn(piece, "weight")),
  };
}

function valueOf(part: RowOf<typeof PART>): PartValue | null {
  if (part.value_of !== null) return refIn(part.value_of, WORTH);
  const rate = maybeRateIn(part, "value");
  return rate === null ? null : { kind: "typed", rate };
}

function cookingOf(test: RowOf<typeof TEST>): YieldTest["cooking"] {
  const trimmed = maybeQuantityIn(test, "trimmed");
  const cooked = maybeQuantityIn(test, "cooked");
  if (trimmed === null || cooked === null) return null;
  return {
    method: test.cooking_method ?? "", temperature: test.cooking_temperature ?? "",
    endPoint: test.cooking_end_point ?? "", time: test.cooking_time ?? "", trimmed, cooked,
  };
}
