/** Cuts with the tests adopted for them, and portion specs, in tables. */
import {
  maybeQuantityColumns, maybeQuantityIn, maybeQuantityRow, maybeRateColumns, maybeRateIn, maybeRateRow, quantityColumns,
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
    }),
    tests: table("cut_test", { position: "int", test: "text" }),
  },
  (cut) => ({
    cut: [{
      name: cut.name, origin: keyOf(cut.of), part_key: cut.partKey, repricing: cut.repricing, joint: cut.joint,
      specification: cut.specification,
    }],
    tests: cut.testIds.map((id, position) => ({ position, test: keyOf({ kind: "test", id }) })),
  }),
  (id, rows) => {
    const cut = only(rows.cut);
    return {
      id, name: cut.name, of: refIn(cut.origin, ORIGINS), partKey: cut.part_key,
      testIds: rows.tests.map((adopted) => idIn(adopted.test)),
      repricing: cut.repricing === null ? null : wordIn(cut.repricing, REPRICINGS),
      joint: wordIn(cut.joint, JOINT_METHODS), specification: cut.specification,
    };
  },
);

export const specShape = shape(
  "spec",
  {
    spec: table("portion_spec", {
      cut: "text", name: "text", ...quantityColumns("size"), ...maybeQuantityColumns("tolerance"), thickness: "text",
      trim: "text", costing: "text", ...maybeRateColumns("end"),
    }),
  },
  (spec) => ({
    spec: [{
      cut: keyOf({ kind: "cut", id: spec.cutId }), name: spec.name, ...quantityRow("size", spec.size),
      ...maybeQuantityRow("tolerance", spec.tolerance), thickness: spec.thickness, trim: spec.trim, costing: spec.costing,
      ...maybeRateRow("end", spec.endValue),
    }],
  }),
  (id, rows) => {
    const spec = only(rows.spec);
    return {
      id, cutId: idIn(spec.cut), name: spec.name, size: quantityIn(spec, "size"), tolerance: maybeQuantityIn(spec, "tolerance"),
      thickness: spec.thickness, trim: spec.trim, costing: wordIn(spec.costing, COSTINGS), endValue: maybeRateIn(spec, "end"),
    };
  },
);
