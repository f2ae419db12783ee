/** Cuts with the tests adopted for them, those left out and a borrowed yield, and portion specs, in tables. */
import type { BorrowedYield } from "@/lib/book";
import type { Exact } from "@/lib/measure";
import {
  maybeExactColumns, maybeExactIn, maybeExactRow, maybeQuantityColumns, maybeQuantityIn, maybeQuantityRow, maybeRateColumns, maybeRateIn, maybeRateRow, quantityColumns,
  quantityIn, quantityRow,
} from "./figures";
import { idIn, keyOf, only, refIn, shape, wordIn } from "./shape";
import { table } from "./table";

const ORIGINS = ["item", "cut"] as const;
const REPRICINGS = ["by-factor", "by-products-at-own-price"] as const;
const JOINT_METHODS = ["sales-value", "net-realizable", "weight"] as const;
const COSTINGS = ["by-weight", "whole"] as const;

export const cutShape = shape(
  "cut",
  {
    cut: table("cut", {
      name: "text", origin: "text", part_key: "text", repricing: "text?", joint: "text", specification: "text",
      ...maybeExactColumns("borrowed"), borrowed_what: "text?", borrowed_source: "text?", borrowed_on: "day?",
    }),
    tests: table("cut_test", { position: "int", test: "text" }),
    leftOut: table("cut_left_out", { position: "int", test: "text", reason: "text" }),
  },
  (cut) => ({
    cut: [{
      name: cut.name, origin: keyOf(cut.of), part_key: cut.partKey, repricing: cut.repricing, joint: cut.joint,
      specification: cut.specification,
      ...maybeExactRow("borrowed", cut.borrowed?.share ?? null), borrowed_what: cut.borrowed?.what ?? null, borrowed_source: cut.borrowed?.source ?? null,
      borrowed_on: cut.borrowed?.on ?? null,
    }],
    tests: cut.testIds.map((id, position) => ({ position, test: keyOf({ kind: "test", id }) })),
    leftOut: cut.leftOut.map(({ testId, reason }, position) => ({ position, test: keyOf({ kind: "test", id: testId }), reason })),
  }),
  (id, rows) => {
    const cut = only(rows.cut);
    return {
      id, name: cut.name, of: refIn(cut.origin, ORIGINS), partKey: cut.part_key,
      testIds: rows.tests.map((adopted) => idIn(adopted.test)),
      leftOut: rows.leftOut.map(({ test, reason }) => ({ testId: idIn(test), reason })),
      borrowed: borrowedIn(maybeExactIn(cut, "borrowed"), cut.borrowed_what, cut.borrowed_source, cut.borrowed_on),
      repricing: cut.repricing === null ? null : wordIn(cut.repricing, REPRICINGS),
      joint: wordIn(cut.joint, JOINT_METHODS), specification: cut.specification,
    };
  },
);

function borrowedIn(share: Exact | null, what: string | null, source: string | null, on: string | null): BorrowedYield | null {
  return share === null || what === null || source === null || on === null ? null : { share, what, source, on };
}

export const specShape = shape(
  "spec",
  {
    spec: table("portion_spec", {
      cut: "text", name: "text", ...quantityColumns("size"), ...maybeQuantityColumns("tolerance"), thickness: "text",
      trim: "text", costing: "text", ...maybeRateColumns("end"), ...maybeExactColumns("pieces"),
      ...maybeQuantityColumns("mean"), ...maybeExactColumns("weighed"), weighed_on: "day?",
    }),
  },
  (spec) => ({
    spec: [{
      cut: keyOf({ kind: "cut", id: spec.cutId }), name: spec.name, ...quantityRow("size", spec.size),
      ...maybeQuantityRow("tolerance", spec.tolerance), thickness: spec.thickness, trim: spec.trim, costing: spec.costing,
      ...maybeRateRow("end", spec.endValue), ...maybeExactRow("pieces", spec.pieces),
      ...maybeQuantityRow("mean", spec.meanCut?.weight ?? null), ...maybeExactRow("weighed", spec.meanCut?.count ?? null), weighed_on: spec.meanCut?.on ?? null,
    }],
  }),
  (id, rows) => {
    const spec = only(rows.spec);
    const mean = maybeQuantityIn(spec, "mean");
    return {
      id, cutId: idIn(spec.cut), name: spec.name, size: quantityIn(spec, "size"), tolerance: maybeQuantityIn(spec, "tolerance"),
      thickness: spec.thickness, trim: spec.trim, costing: wordIn(spec.costing, COSTINGS), endValue: maybeRateIn(spec, "end"),
      pieces: maybeExactIn(spec, "pieces"),
      meanCut: mean === null || spec.weighed_on === null ? null : { weight: mean, count: maybeExactIn(spec, "weighed"), on: spec.weighed_on },
    };
  },
);
