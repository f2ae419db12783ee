/**
 * Sheets as a kitchen fills them in: `sheet("butcher", "30 lb", "5.00", [main("scaloppine", "18 lb"), ...])`. Weights and
 * rates are read by the same readers that people's typing goes through; a bare price is per unit of the billed weight, a
 * bare value per pound.
 */
import { type Checked, type Habits, type Quantity, type Rate, type Ratio, type Unit, Decimal, exact, parseQuantity, parseRate, ratio } from "@/lib/measure";
import type { Sheet, SheetKind, SheetPart } from "@/lib/yield";

export const US: Habits = { locale: "en-US", measures: "us", currency: "USD" };

export function won<T>(checked: Checked<T>): T {
  if (checked.ok) return checked.value;
  throw new Error(`expected no problems, got: ${checked.problems.map((problem) => `${problem.path} ${problem.code}: ${problem.sentence}`).join(" | ")}`);
}

/** The codes of a refusal; [] when nothing was refused. */
export function codes(checked: Checked<unknown>): readonly string[] {
  return checked.ok ? [] : checked.problems.map((problem) => problem.code);
}

export function sentences(checked: Checked<unknown>): string {
  return checked.ok ? "" : checked.problems.map((problem) => problem.sentence).join(" ");
}

export function quantity(text: string, bare: Unit = "lb"): Quantity {
  return won(parseQuantity(text, US, { kinds: ["mass", "volume", "count"], bare }));
}

export function rate(text: string, bare: Unit = "lb"): Rate {
  return won(parseRate(text, US, { bare }));
}

/** "3/4", "0.75" or "12" as an exact ratio. */
export function figure(text: string): Ratio {
  const [n = "", d = "1"] = text.split("/");
  return ratio.div(ratio.fromExact(exact(n)), ratio.fromExact(exact(d)));
}

export function show(value: Ratio, places = 12): string {
  return ratio.toDecimal(value).toDecimalPlaces(places).toString();
}

/** Rounded half-up, with trailing zeros. */
export function fixed(value: Ratio, places: number): string {
  return ratio.toDecimal(value).toFixed(places, Decimal.ROUND_HALF_UP);
}

/** Cut off, with trailing zeros, as some sources print. */
export function truncated(value: Ratio, places: number): string {
  return ratio.toDecimal(value).toFixed(places, Decimal.ROUND_DOWN);
}

const slug = (name: string): string => name.toLowerCase().replaceAll(" ", "-");

function part(role: SheetPart["role"], name: string, weight: string, more: Partial<SheetPart> = {}): SheetPart {
  return { key: slug(name), name, role, weight: quantity(weight), value: null, marketValue: null, furtherCost: null, pieces: [], ...more };
}

export function main(name: string, weight: string, more: { readonly market?: string; readonly further?: string; readonly pieces?: readonly string[] } = {}): SheetPart {
  return part("main", name, weight, {
    marketValue: more.market === undefined ? null : rate(more.market),
    furtherCost: more.further === undefined ? null : rate(more.further),
    pieces: (more.pieces ?? []).map((piece) => quantity(piece)),
  });
}

export function byProduct(name: string, weight: string, value: string | null): SheetPart {
  return part("by-product", name, weight, { value: value === null ? null : rate(value) });
}

export function discard(name: string, weight: string): SheetPart {
  return part("discard", name, weight);
}

export function purge(weight: string): SheetPart {
  return part("purge", "purge", weight);
}

export function sheet(
  kind: SheetKind, billed: string, price: string | null, parts: readonly SheetPart[],
  more: { readonly on?: string; readonly pieces?: string; readonly step?: string; readonly trimmed?: string; readonly cooked?: string } = {},
): Sheet {
  return {
    kind,
    on: more.on,
    pieces: exact(more.pieces ?? "1"),
    billed: quantity(billed),
    price: price === null ? null : rate(price, quantity(billed).unit),
    parts,
    cooking: kind === "cooking" ? { trimmed: quantity(more.trimmed ?? billed), cooked: quantity(more.cooked ?? billed) } : null,
    scaleStep: more.step === undefined ? null : quantity(more.step),
  };
}
