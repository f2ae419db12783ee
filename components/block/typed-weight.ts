/**
 * The weight that is being keyed in, as text: what each key makes of it, and its pieces for showing it large. No figure is
 * worked out here; lib/measure reads the text.
 */
import type { ScaleReading } from "@/lib/measure";

export type Key = { readonly press: "digit"; readonly digit: string } | { readonly press: "point" | "fraction" | "rub-out" } | { readonly press: "unit"; readonly unit: string };

const FRACTIONS = ["¼", "½", "¾"];
const LONGEST = 24;

/** The text after a key. `mark` is the kitchen's own decimal mark. */
export function press(text: string, key: Key, mark: string): string {
  switch (key.press) {
    case "digit": return keep(text, /[a-z]$/.test(text) ? `${text} ${key.digit}` : text + key.digit);
    case "point": return /[.,][\d]*$|[¼½¾]$/.test(text) ? text : keep(text, /\d$/.test(text) ? text + mark : /[a-z]$/.test(text) ? `${text} 0${mark}` : `${text}0${mark}`);
    case "fraction": {
      const last = FRACTIONS.indexOf(text.at(-1) ?? "");
      if (last < 0) return /[.,]\d*$/.test(text) ? text : keep(text, /[a-z]$/.test(text) ? `${text} ${FRACTIONS[0]}` : text + FRACTIONS[0]);
      return text.slice(0, -1) + (FRACTIONS[last + 1] ?? "");
    }
    case "unit": return /[\d¼½¾]$/.test(text) ? keep(text, `${text} ${key.unit}`) : text.replace(/[a-z]+$/, key.unit);
    case "rub-out": return text.replace(/ ?[a-z]+$|.$/u, "").trimEnd();
  }
}

const keep = (before: string, after: string): string => (after.length > LONGEST ? before : after);

/** The text as it is read: on a scale of pounds and ounces what follows the pounds is ounces, said or not. */
export function asRead(text: string, scale: ScaleReading | null): string {
  const tidy = text.trim().replace(/[.,]$/, "");
  return (scale === "lb and oz" || scale === null) && /lb [\d.,]*[\d¼½¾]$/.test(tidy) ? `${tidy} oz` : tidy;
}

/** "8 lb 11" as figures and units: [8][lb][11]. */
export function pieces(text: string): readonly { readonly text: string; readonly unit: boolean }[] {
  return (text.match(/[a-z]+|[^a-z\s]+/g) ?? []).map((piece) => ({ text: piece, unit: /^[a-z]/.test(piece) }));
}

/** The two unit keys beside the digits. */
export function unitKeys(scale: ScaleReading | null, measures: "us" | "metric"): readonly [string, string] {
  if (scale === "kg" || scale === "g") return ["kg", "g"];
  return scale === null && measures === "metric" ? ["kg", "g"] : ["lb", "oz"];
}
