/**
 * What cans of a named size usually hold, to offer where a price list names the size alone. The label decides: a can of
 * one size holds more of what is heavy than of what is light, so nothing is ever reckoned from these figures unasked.
 * Nominal net weights from S. Krumm, “Can sizes call for translation”, K-State Research and Extension, 26 August 2009.
 */
import { type Quantity, exact } from "@/lib/measure";

export interface CanSize {
  /** As the table has it: "No. 10". */
  readonly name: string;
  /** The container of a pack: "#10 can". */
  readonly container: string;
  /** Nominal net weight, least and most; the same where the table has one figure. */
  readonly from: Quantity;
  readonly to: Quantity;
}

export const CAN_SIZES_SOURCE = "Krumm, K-State Research and Extension, 2009";

export const CAN_SIZES: readonly CanSize[] = [
  can("No. 1 (picnic)", "#1", "10.5 oz", "12 oz"),
  can("No. 300", "#300", "14 oz", "16 oz"),
  can("No. 303", "#303", "16 oz", "17 oz"),
  can("No. 2", "#2", "20 oz", "20 oz"),
  can("No. 2½", "#2½", "26 oz", "30 oz"),
  can("No. 3 cylinder", "#3", "51 oz", "51 oz"),
  can("No. 5 squat", "#5", "4 lb", "4.5 lb"),
  can("No. 10", "#10", "6 lb", "7.3125 lb"),
];

/** What is published of a can of this container name, "#10 can"; null where nothing is. */
export function canSizeOf(container: string): CanSize | null {
  return CAN_SIZES.find((size) => size.container === container) ?? null;
}

function can(name: string, number: string, from: string, to: string): CanSize {
  return { name, container: `${number} can`, from: weight(from), to: weight(to) };
}

function weight(text: string): Quantity {
  const [amount = "", unit] = text.split(" ");
  return { amount: exact(amount), unit: unit === "lb" ? "lb" : "oz" };
}
