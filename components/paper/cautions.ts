/** The cautions of the block in one line of a form. They defer to the local food code, and claim no authority of their own. */
import type { TestKind } from "@/lib/book";

const KNIFE = "Cut-resistant glove, stable board, sharp knife. Keep what you are not weighing at 41 °F / 5 °C or below; clean scale and tubs between species, raw poultry last.";

const CAUTIONS: Readonly<Record<TestKind, string>> = {
  butcher: `${KNIFE} Nobody under age runs or cleans a power slicer, saw or grinder. Trim for the grinder: note its source and lot.`,
  trim: KNIFE,
  cooking: "Hot fat and pans: dry cloths, room to put down. Cook to what your food code asks for this food, taken in the thickest part; hold at 135 °F / 57 °C or above while you weigh.",
  drained: "Mind the edges of opened cans. What is opened is kept cold and covered.",
  hydration: "Hot water: drain away from you. Cool what is kept quickly, and keep it cold.",
};

export function paperCaution(kind: TestKind): string {
  return `${CAUTIONS[kind]} Labels tell allergens; this form does not. Your local food code and licensed practice come first.`;
}
