/** The choices of a cut: how a new dealer's price reaches it, and how joint cost is shared among several usable parts. */
import type { Choice } from "@/components/form";

export const REPRICING: readonly Choice[] = [
  { value: "", label: "As the by-products suggest" },
  { value: "by-factor", label: "By the factor, as the textbooks do" },
  { value: "by-products-at-own-price", label: "By-products at their own price" },
];

export const JOINT: readonly Choice[] = [
  { value: "sales-value", label: "By what each would cost bought ready trimmed" },
  { value: "net-realizable", label: "The same, less further work" },
  { value: "weight", label: "By weight" },
];
