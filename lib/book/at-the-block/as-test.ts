/**
 * A sheet of the block as the test it becomes: the weights with tubs taken off, parts that were none left out. It goes
 * through the same schema as any other test (schema/block.ts), which says what is still wrong with it. Money is none of
 * the block's business: prices and what by-products are worth are put beside it by whoever records it.
 */
import { type Checked, type Habits, type Problem, type Quantity, netWeight } from "@/lib/measure";
import { type KnownAtTheBlock, type WeighedPart, type WeighedSheet, closingFirst } from "@/lib/yield";
import { type BlockPart, type BlockSheet, type Weighing, weightOf } from "./sheet";

/** The fields of a test that the block knows, ready for `readFact("test", …)`; money and adoption are not among them. */
export interface TestFromBlock {
  readonly kind: string;
  readonly of: string;
  readonly dealerId: string | null;
  readonly on: string;
  readonly cutter: string;
  readonly pieces: string;
  readonly billed: Quantity;
  readonly cooking: { readonly trimmed: Quantity; readonly cooked: Quantity } | null;
  readonly scaleStep: Quantity | null;
  readonly note: string;
  readonly parts: readonly { readonly key: string; readonly name: string; readonly role: BlockPart["role"]; readonly weight: Quantity; readonly pieces: readonly Quantity[] }[];
}

/** Problems: what has not been weighed yet, with the key of it as path; readings whose tub weighs too much. */
export function testFromBlock(sheet: BlockSheet, habits: Habits): Checked<TestFromBlock> {
  const { about } = sheet;
  if (about === null) return { ok: false, problems: [{ path: "about", code: "missing", sentence: "Say first what is being worked." }] };
  const problems: Problem[] = [];
  const read = (weighing: Weighing, what: string): Quantity | null => {
    const weight = weightOf(weighing, habits);
    if (weight === null) {
      problems.push({ path: weighing.key, code: "not-weighed", sentence: `${what} has not been weighed yet.` });
      return null;
    }
    if (!weight.ok) problems.push(...weight.problems.map((problem) => ({ ...problem, path: weighing.key, sentence: `${what}: ${problem.sentence}` })));
    return weight.ok ? weight.value : null;
  };
  const billed = read(sheet.wholes["@billed"], "The whole, as billed,");
  const cooking = about.test === "cooking" ? { trimmed: read(sheet.wholes["@trimmed"], "What went in to the heat"), cooked: read(sheet.wholes["@cooked"], "What came out of the heat") } : null;
  const parts = sheet.parts.filter((part) => part.none === null).map((part) => ({ part, weight: read(part, part.name) }));
  if (parts.length === 0) problems.push({ path: "parts", code: "missing", sentence: "Weigh at least one part: what it was worked for." });
  if (problems.length > 0 || billed === null) return { ok: false, problems };
  return {
    ok: true,
    value: {
      kind: about.test, of: about.of, dealerId: about.dealerId, on: about.on, cutter: about.cutter, pieces: String(about.pieces), billed,
      cooking: cooking?.trimmed && cooking.cooked ? { trimmed: cooking.trimmed, cooked: cooking.cooked } : null,
      scaleStep: about.step, note: sheet.note,
      parts: parts.flatMap(({ part, weight }) => (weight === null ? [] : [{ key: part.key, name: part.name, role: part.role, weight, pieces: piecesOf(part, habits) }])),
    },
  };
}

/** Each piece of a main part that was weighed by itself; whole portions are counted piece by piece. */
function piecesOf(part: BlockPart, habits: Habits): readonly Quantity[] {
  if (part.role !== "main" || part.readings.some(({ piece }) => !piece)) return [];
  return part.readings.flatMap((reading) => {
    const net = netWeight([reading], habits);
    return net.ok ? [net.value] : [];
  });
}

/** What has been weighed so far as a sheet whose balance can be struck; null while the whole has no weight. */
export function weighedSoFar(sheet: BlockSheet, habits: Habits): WeighedSheet | null {
  const { about } = sheet;
  const weight = (weighing: Weighing): Quantity | null => {
    const read = weightOf(weighing, habits);
    return read?.ok ? read.value : null;
  };
  const billed = weight(sheet.wholes["@billed"]);
  if (about === null || billed === null) return null;
  const trimmed = weight(sheet.wholes["@trimmed"]);
  const cooked = weight(sheet.wholes["@cooked"]);
  return {
    kind: about.test, on: about.on, pieces: `${about.pieces}` as WeighedSheet["pieces"], billed, scaleStep: about.step,
    cooking: trimmed !== null && cooked !== null ? { trimmed, cooked } : null,
    parts: sheet.parts.flatMap((part): readonly WeighedPart[] => {
      const read = weight(part);
      return read === null ? [] : [{ key: part.key, name: part.name, role: part.role, weight: read, marketValue: null, furtherCost: null, pieces: piecesOf(part, habits) }];
    }),
  };
}

/**
 * The readings that a figure keyed in for `key` may have, those first that would close the balance of what is weighed so
 * far. As they came while the whole has not been weighed. Nothing is chosen: a person still does.
 */
export function likeliestFirst<C extends { readonly quantity: Quantity }>(choices: readonly C[], sheet: BlockSheet, key: string, known: KnownAtTheBlock, habits: Habits): readonly C[] {
  const weighed = weighedSoFar(sheet, habits);
  const part = sheet.parts.find((one) => one.key === key);
  const first = choices[0];
  if (weighed === null || part === undefined || first === undefined) return choices;
  const others = weighed.parts.filter((one) => one.key !== key);
  const asKeyed: WeighedPart = { key, name: part.name, role: part.role, weight: first.quantity, marketValue: null, furtherCost: null, pieces: [] };
  return closingFirst(choices, { ...weighed, parts: [...others, asKeyed] }, `parts.${others.length}.weight`, known);
}
