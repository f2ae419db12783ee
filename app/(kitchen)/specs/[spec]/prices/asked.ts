/** What the address of a price chart asks for: the step between prices, how many, and which sizes. What cannot be read is told, and the usual taken. */
import type { PortionSpec } from "@/lib/book";
import { type Problem, type Quantity, type Ratio, bad, kindOf, parseMoney, parseNumber, parseQuantity, portionUnit, quantityText, ratio } from "@/lib/measure";
import { sensibleStep, sizesAround } from "@/lib/yield";
import type { Values } from "@/components/form";
import type { OpenKitchen } from "../../../open-kitchen";

export interface AskedChart {
  /** Money per unit of the price; null: the usual. */
  readonly step: Ratio | null;
  readonly rows: number;
  readonly sizes: readonly Quantity[];
  readonly values: Values;
  readonly problems: readonly Problem[];
  /** The same address again, for the paper and the spreadsheet. */
  readonly query: string;
}

const USUAL_ROWS = 15;
const [FEWEST, MOST] = [3, 31];
const MOST_SIZES = 10;
const STEPS_OF_SIZE = 3n;

export function readAsked(asked: Readonly<Record<string, string | readonly string[] | undefined>>, spec: PortionSpec, kitchen: OpenKitchen["kitchen"]): AskedChart {
  const one = (name: string): string => (typeof asked[name] === "string" ? asked[name].slice(0, 400).trim() : "");
  const values = { step: one("step"), rows: one("rows"), sizes: one("sizes") };
  const problems: Problem[] = [];
  const told = (path: string, found: readonly Problem[]): void => { problems.push(...found.map((problem) => ({ ...problem, path }))); };

  let step: Ratio | null = null;
  if (values.step !== "") {
    const read = parseMoney(values.step, kitchen);
    if (!read.ok) told("step", read.problems);
    else if (ratio.sign(ratio.fromExact(read.value.amount)) <= 0) told("step", bad("", "no-step", "The step between prices must be above zero.").problems);
    else step = ratio.fromExact(read.value.amount);
  }
  let rows = USUAL_ROWS;
  if (values.rows !== "") {
    const read = parseNumber(values.rows, kitchen);
    const count = read.ok && /^\d{1,4}$/.test(read.value) ? Number(read.value) : 0;
    if (count >= FEWEST && count <= MOST) rows = count;
    else told("rows", bad("", "rows", `Give how many prices as a whole number from ${FEWEST} to ${MOST}: so many fit one page.`).problems);
  }
  const usual = usualSizes(spec);
  const sizes: Quantity[] = [];
  const written = values.sizes.split(";").map((text) => text.trim()).filter((text) => text !== "");
  if (written.length > MOST_SIZES) told("sizes", bad("", "too-many", `At most ${MOST_SIZES} sizes fit one page.`).problems);
  else {
    for (const text of written) {
      const kind = kindOf(spec.size.unit);
      const read = parseQuantity(text, kitchen, { kinds: [kind], bare: portionUnit(kind, kitchen) });
      if (!read.ok) told("sizes", read.problems);
      else if (ratio.sign(ratio.fromExact(read.value.amount)) <= 0) told("sizes", bad("", "no-size", "A size must be above zero.").problems);
      else sizes.push(read.value);
    }
  }
  return {
    step, rows, sizes: sizes.length === 0 || problems.some(({ path }) => path === "sizes") ? usual : sizes,
    values: { ...values, sizes: values.sizes === "" ? usual.map((size) => quantityText(size, kitchen)).join("; ") : values.sizes, rows: values.rows === "" ? String(USUAL_ROWS) : values.rows },
    problems, query: new URLSearchParams(Object.entries(values).filter(([, text]) => text !== "")).toString(),
  };
}

function usualSizes(spec: PortionSpec): readonly Quantity[] {
  const step = sensibleStep(spec.size);
  return step === null ? [spec.size] : sizesAround(spec.size, step, STEPS_OF_SIZE);
}
