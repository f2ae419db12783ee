/**
 * The slips of one typed weight: what the scale may have shown instead, one correction for each way in which figures go
 * wrong between the scale and the sheet. Ounces behind a decimal point, one unit for another, two digits swapped, the
 * point in the wrong place, a digit dropped or typed twice. Whether a correction makes sense is not asked here: the
 * balance of the whole sheet judges it (slips.ts).
 */
import { type Quantity, type Ratio, type ScaleReading, type Unit, isExact, ratio } from "@/lib/measure";
import { quantityInBase } from "./sheet";

/** The slips that a single weight can have; those of tubs and of forgotten parts are of the sheet. */
export type FigureSlip =
  | "ounces-as-decimals" | "decimals-as-ounces" | "wrong-unit" | "digits-swapped" | "decimal-point" | "digit-dropped" | "digit-doubled";

export interface Correction {
  readonly slip: FigureSlip;
  readonly wouldBe: Quantity;
}

/** How the figure stood on the sheet: pounds with ounces, or one number. null: a fraction or a sum, whose digits nobody mistypes alike. */
type Form = { readonly kind: "pair"; readonly pounds: string; readonly ounces: string } | { readonly kind: "number"; readonly digits: string } | null;

const PAIR = /^(\d+) ?(?:lbs?\.?|#|pounds?|-)? ?(?:,|and|&)? ?(\d+(?:[.,]\d+)?) ?(?:ozs?\.?|ounces?)?$/i;

/** The form a weight was typed in; told by its amount where what was typed is not kept. */
export function formOf(told: Quantity): Form {
  const typed = told.typed?.trim();
  if (typed !== undefined && /[/+½⅓⅔¼¾⅛⅜⅝⅞]|less/i.test(typed)) return null;
  const pair = told.unit === "lb" && typed !== undefined && !/^[\d.,]+\s*\D*$/.test(typed) ? PAIR.exec(typed.replace(/\s+/g, " ")) : null;
  if (pair) return { kind: "pair", pounds: pair[1] ?? "0", ounces: (pair[2] ?? "0").replace(",", ".") };
  return told.amount.includes("/") || told.amount.startsWith("-") ? null : { kind: "number", digits: told.amount };
}

/** Units that stand for one another on a scale's display or a sheet's heading. */
const CONFUSED: Readonly<Partial<Record<Unit, readonly Unit[]>>> = { lb: ["kg", "oz"], kg: ["lb", "g"], oz: ["lb", "g"], g: ["kg", "oz"] };

/**
 * Every correction of a weight. `scale`: how the scale reads, null where nobody said; `step`: its step in base units
 * where the sheet's figures keep to it, else null. Corrected digits keep to the step, since a scale shows nothing between.
 */
export function correctionsOf(told: Quantity, scale: ScaleReading | null, step: Ratio | null): readonly Correction[] {
  const form = formOf(told);
  if (form === null) return [];
  const found: Correction[] = [];
  const own = quantityInBase(told);
  const take = (slip: FigureSlip, wouldBe: Quantity | null): void => {
    if (wouldBe === null) return;
    const weight = quantityInBase(wouldBe);
    if (ratio.sign(weight) <= 0 || ratio.compare(weight, own) === 0) return;
    if (slip !== "wrong-unit" && step !== null && ratio.div(weight, step).d !== 1n) return;
    found.push({ slip, wouldBe });
  };
  if (form.kind === "number") {
    for (const unit of CONFUSED[told.unit] ?? []) take("wrong-unit", quantity(form.digits, unit));
    if (told.unit === "lb") take("ounces-as-decimals", ouncesBehindPoint(form.digits));
    for (const digits of swapped(form.digits)) take("digits-swapped", quantity(digits, told.unit));
    for (const digits of moved(form.digits)) take("decimal-point", quantity(digits, told.unit));
    for (const digits of doubled(form.digits)) take("digit-doubled", quantity(digits, told.unit));
    for (const digits of dropped(form.digits)) take("digit-dropped", quantity(digits, told.unit));
    return found;
  }
  const { pounds, ounces } = form;
  if (scale !== "lb and oz") take("decimals-as-ounces", /^\d{1,2}$/.test(ounces) ? quantity(`${pounds}.${ounces}`, "lb") : null);
  for (const digits of swapped(pounds)) take("digits-swapped", pairOf(digits, ounces));
  for (const digits of swapped(ounces)) take("digits-swapped", pairOf(pounds, digits));
  if (pounds !== ounces && /^\d+$/.test(ounces)) take("digits-swapped", pairOf(ounces, pounds));
  for (const digits of doubled(pounds)) take("digit-doubled", pairOf(digits, ounces));
  for (const digits of doubled(ounces)) take("digit-doubled", pairOf(pounds, digits));
  for (const digits of dropped(pounds)) take("digit-dropped", pairOf(digits, ounces));
  for (const digits of dropped(ounces)) take("digit-dropped", pairOf(pounds, digits));
  return found;
}

function quantity(digits: string, unit: Unit): Quantity | null {
  const canonical = digits.replace(/^0+(?=\d)/, "").replace(/^\./, "0.").replace(/\.$/, "");
  return isExact(canonical) ? { amount: canonical, unit } : null;
}

/** 18 and 6 as 18 lb 6 oz; null where the ounces make a pound. */
function pairOf(pounds: string, ounces: string): Quantity | null {
  const oz = quantity(ounces, "oz");
  const lb = quantity(pounds, "lb");
  if (oz === null || lb === null || ratio.compare(ratio.fromExact(oz.amount), ratio.of(16n)) >= 0) return null;
  const amount = ratio.add(ratio.fromExact(lb.amount), ratio.div(ratio.fromExact(oz.amount), ratio.of(16n)));
  const text = ratio.toExact(amount);
  if (!isExact(text)) return null;
  return { amount: text, unit: "lb", typed: lb.amount === "0" ? `${oz.amount} oz` : oz.amount === "0" ? `${lb.amount} lb` : `${lb.amount} lb ${oz.amount} oz` };
}

/** 18.6 as 18 lb 6 oz, 2.12 as 2 lb 12 oz; null for 2.16 to 2.99, which cannot be ounces. */
function ouncesBehindPoint(digits: string): Quantity | null {
  const [whole = "0", tail = ""] = digits.split(".");
  if (tail.length === 0 || tail.length > 2) return null;
  const ounces = Number(tail);
  return ounces >= 1 && ounces <= 15 ? pairOf(whole, String(ounces)) : null;
}

/** Two neighbouring digits changed over: 63 for 36, and 3.6 for 6.3. */
function swapped(digits: string): readonly string[] {
  const marks = [...digits];
  const places = marks.flatMap((mark, place) => (mark === "." ? [] : [place]));
  return places.slice(1).flatMap((place, before) => {
    const first = places[before] ?? 0;
    if (marks[first] === marks[place]) return [];
    const changed = [...marks];
    [changed[first], changed[place]] = [marks[place] ?? "", marks[first] ?? ""];
    // Nobody types 05 for 50: a number does not begin with a nought it does not need.
    return /^0\d/.test(changed.join("")) ? [] : [changed.join("")];
  });
}

/** The point one or two places to the left or to the right. */
function moved(digits: string): readonly string[] {
  const point = digits.includes(".") ? digits.indexOf(".") : digits.length;
  const plain = digits.replace(".", "");
  return [-2, -1, 1, 2].map((by) => {
    const at = point + by;
    if (at <= 0) return `0.${"0".repeat(-at)}${plain}`;
    return at >= plain.length ? plain.padEnd(at, "0") : `${plain.slice(0, at)}.${plain.slice(at)}`;
  });
}

/** One of two equal neighbours taken away: 12 for 112. */
function doubled(digits: string): readonly string[] {
  const shorter = [...digits].flatMap((mark, place) => (place > 0 && mark === digits[place - 1] && mark !== "." ? [digits.slice(0, place) + digits.slice(place + 1)] : []));
  return [...new Set(shorter)];
}

/** One digit put back in any place: 12 for 2, 18.25 for 18.2. */
function dropped(digits: string): readonly string[] {
  const longer = new Set<string>();
  for (let place = 0; place <= digits.length; place += 1) {
    for (let digit = 0; digit <= 9; digit += 1) {
      const put = `${digits.slice(0, place)}${digit}${digits.slice(place)}`;
      if (!/^0\d/.test(put)) longer.add(put);
    }
  }
  return [...longer];
}
