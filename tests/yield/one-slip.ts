/**
 * True sheets and one slip in each: what a kitchen weighs, on each way a scale reads, and what goes wrong between the
 * scale and the sheet. Seeded, so that the rate at which slips are found is one number.
 */
import fc from "fast-check";
import { type Exact, type Quantity, type Ratio, type ScaleReading, type Unit, exact, ratio } from "@/lib/measure";
import { type SlipKind, type Usual, type WeighedPart, type WeighedSheet, quantityInBase, usualFrom } from "@/lib/yield";

export interface TrueSheet {
  readonly sheet: WeighedSheet;
  readonly scale: ScaleReading;
  readonly tares: readonly Quantity[];
  /** What earlier tests of the same cut say. */
  readonly usual: Usual;
}

export interface Slipped extends TrueSheet {
  readonly slip: SlipKind;
  /** Where it was made; null for a part that was not weighed and for every tub at once. */
  readonly path: string | null;
  /** What the weight truly is; null where the row is one too many. */
  readonly truly: Quantity | null;
}

const SCALES = {
  "lb and oz": { unit: "lb", step: { amount: exact("0.5"), unit: "oz" } },
  "decimal lb": { unit: "lb", step: { amount: exact("0.02"), unit: "lb" } },
  oz: { unit: "oz", step: { amount: exact("0.5"), unit: "oz" } },
  kg: { unit: "kg", step: { amount: exact("0.005"), unit: "kg" } },
  g: { unit: "g", step: { amount: exact("5"), unit: "g" } },
} as const satisfies Record<ScaleReading, { readonly unit: Unit; readonly step: Quantity }>;

const NAMES = ["Lean trim", "Bones", "Fat", "Tail", "Silver skin"];
const TUBS: readonly Quantity[] = [{ amount: exact("12"), unit: "oz" }, { amount: exact("1.5"), unit: "lb" }];
const METRIC_TUBS: readonly Quantity[] = [{ amount: exact("340"), unit: "g" }, { amount: exact("680"), unit: "g" }];

/** A weight as this scale shows it: to its nearest step, pounds with their ounces where it shows those. */
export function shown(weight: Ratio, scale: ScaleReading): Quantity {
  const { unit, step } = SCALES[scale];
  const size = quantityInBase(step);
  const steps = ratio.floor(ratio.add(ratio.div(weight, size), ratio.of(1n, 2n)));
  const base = ratio.mul(ratio.of(steps < 1n ? 1n : steps), size);
  return read(ratio.toExact(ratio.div(base, ratio.div(size, ratio.fromExact(step.amount)))), step.unit, unit, scale);
}

function read(amount: Exact, stepUnit: Unit, unit: Unit, scale: ScaleReading): Quantity {
  const inUnit = ratio.toExact(ratio.div(quantityInBase({ amount, unit: stepUnit }), quantityInBase({ amount: exact("1"), unit })));
  if (scale !== "lb and oz") return { amount: inUnit, unit };
  const value = ratio.fromExact(inUnit);
  const pounds = ratio.floor(value);
  const ounces = ratio.toExact(ratio.mul(ratio.sub(value, ratio.of(pounds)), ratio.of(16n)));
  return { amount: inUnit, unit, typed: `${pounds} lb ${ounces} oz` };
}

/** Thousandths of the whole. */
const share = (min: number, max: number): fc.Arbitrary<Ratio> => fc.integer({ min, max }).map((n) => ratio.of(BigInt(n), 1000n));

/** A piece of 2 to 12 kg, cut into one main part and two to five others, with a loss of 0.2 to 1.6 %. */
export const trueSheets: fc.Arbitrary<TrueSheet> = fc
  .record({
    scale: fc.constantFrom<ScaleReading>("lb and oz", "lb and oz", "decimal lb", "kg", "g", "oz"),
    grams: fc.integer({ min: 2000, max: 12_000 }),
    others: fc.array(share(20, 140), { minLength: 2, maxLength: 5 }),
    loss: share(2, 16),
    purge: fc.option(share(6, 20), { nil: null }),
    wobble: fc.array(fc.integer({ min: 85, max: 115 }), { minLength: 12, maxLength: 12 }),
  })
  .map(({ scale, grams, others, loss, purge, wobble }): TrueSheet => {
    const whole = shown(ratio.of(BigInt(grams)), scale);
    const parts = (of: readonly Ratio[], drip: Ratio | null, lost: Ratio): readonly WeighedPart[] => {
      const main = ratio.sub(ratio.ONE, ratio.sum([...of, lost, drip ?? ratio.ZERO]));
      const weigh = (key: string, name: string, role: WeighedPart["role"], part: Ratio): WeighedPart => ({
        key, name, role, weight: shown(ratio.mul(part, quantityInBase(whole)), scale), marketValue: null, furtherCost: null, pieces: [],
      });
      return [
        weigh("steaks", "Steaks", "main", main), ...of.map((each, at) => weigh(`part-${at}`, NAMES[at] ?? "", at === 0 ? "by-product" : "discard", each)),
        ...(drip === null ? [] : [weigh("purge", "Purge", "purge", drip)]),
      ];
    };
    const { step } = SCALES[scale];
    const sheet = (own: readonly WeighedPart[]): WeighedSheet => ({ kind: "butcher", pieces: exact("1"), billed: whole, parts: own, cooking: null, scaleStep: step });
    // Three earlier tests of the same cut, each part up to 15 % off.
    const earlier = [0, 1, 2].map((n) => sheet(parts(others.map((each, at) => ratio.mul(each, ratio.of(BigInt(wobble[(n * 4 + at) % 12] ?? 100), 100n))), purge, loss)));
    return { sheet: sheet(parts(others, purge, loss)), scale, tares: scale === "kg" || scale === "g" ? METRIC_TUBS : TUBS, usual: usualFrom(earlier) };
  });

/** How each slip is made on a true sheet; null where this sheet gives no occasion for it. `pick` chooses among the places. */
export const SLIPS: Readonly<Record<string, (truth: TrueSheet, pick: number) => Slipped | null>> = {
  "a tub not tared": (truth, pick) => {
    const tub = truth.tares[pick % 2];
    return tub === undefined ? null : onPart(truth, pick, "tub-not-tared", (told) => heavier(told, tub, 1n, truth.scale));
  },
  "no tub tared": (truth, pick) => {
    const tub = truth.tares[pick % 2];
    if (tub === undefined) return null;
    const parts = truth.sheet.parts.map((part) => ({ ...part, weight: heavier(part.weight, tub, 1n, truth.scale) }));
    return { ...truth, sheet: { ...truth.sheet, parts }, slip: "no-tub-tared", path: null, truly: null };
  },
  "a tub taken off twice": (truth, pick) => {
    const tub = truth.tares[pick % 2];
    return tub === undefined ? null : onPart(truth, pick, "tare-taken-twice", (told) => heavier(told, tub, -1n, truth.scale));
  },
  "ounces typed as decimals": (truth, pick) => (truth.scale !== "lb and oz" ? null : onAny(truth, pick, "ounces-as-decimals", (told) => {
    const pair = /^(\d+) lb (\d+) oz$/.exec(told.typed ?? "");
    return pair === null || pair[2] === "0" ? null : plain(`${pair[1] ?? ""}.${pair[2] ?? ""}`, "lb");
  })),
  "kilos written as pounds": (truth, pick) => (truth.scale !== "decimal lb" ? null : onPart(truth, pick, "wrong-unit", (told) => plain(inAnother(told, "kg"), "lb"), true)),
  "pounds written as kilos": (truth, pick) => (truth.scale !== "decimal lb" ? null : onPart(truth, pick, "wrong-unit", (told) => plain(told.amount, "kg"))),
  "ounces written as pounds": (truth, pick) => (truth.scale !== "oz" ? null : onPart(truth, pick, "wrong-unit", (told) => plain(told.amount, "lb"))),
  "grams written as kilos": (truth, pick) => (truth.scale !== "g" ? null : onPart(truth, pick, "wrong-unit", (told) => plain(told.amount, "kg"))),
  "grams written as ounces": (truth, pick) => (truth.scale !== "g" ? null : onPart(truth, pick, "wrong-unit", (told) => plain(told.amount, "oz"))),
  "two digits swapped": (truth, pick) => onAny(truth, pick, "digits-swapped", (told, at) => changed(told, at, (digits, place) => swap(digits, place))),
  "the point in the wrong place": (truth, pick) => (truth.scale === "lb and oz" ? null : onAny(truth, pick, "decimal-point", (told, at) => plain(move(told.amount, at % 2 === 0 ? 1 : -1), told.unit))),
  "a part weighed twice": (truth, pick) => {
    const at = 1 + (pick % (truth.sheet.parts.length - 1));
    const part = truth.sheet.parts[at];
    if (part === undefined) return null;
    const parts = [...truth.sheet.parts, { ...part, key: `${part.key}-again`, name: `${part.name} again` }];
    return { ...truth, sheet: { ...truth.sheet, parts }, slip: "weighed-twice", path: `parts.${parts.length - 1}.weight`, truly: null };
  },
  "a part not weighed": (truth, pick) => {
    const at = 1 + (pick % (truth.sheet.parts.length - 1));
    return { ...truth, sheet: { ...truth.sheet, parts: truth.sheet.parts.filter((_, place) => place !== at) }, slip: "not-weighed", path: null, truly: null };
  },
  "a digit dropped": (truth, pick) => onAny(truth, pick, "digit-dropped", (told, at) => changed(told, at, (digits, place) => drop(digits, place))),
  "a digit typed twice": (truth, pick) => onAny(truth, pick, "digit-doubled", (told, at) => changed(told, at, (digits, place) => double(digits, place))),
};

function plain(amount: string | null, unit: Unit): Quantity | null {
  if (amount === null) return null;
  const canonical = amount.replace(/^0+(?=\d)/, "").replace(/\.$/, "");
  return /^\d+(?:\.\d+)?$/.test(canonical) && !/^0(?:\.0*)?$/.test(canonical) ? { amount: exact(canonical), unit } : null;
}

function inAnother(told: Quantity, unit: Unit): string | null {
  const value = ratio.toDecimal(ratio.div(quantityInBase(told), quantityInBase({ amount: exact("1"), unit })));
  return value.toFixed(3).replace(/0+$/, "");
}

function heavier(told: Quantity, tub: Quantity, times: bigint, scale: ScaleReading): Quantity {
  const sum = ratio.add(quantityInBase(told), ratio.mul(ratio.of(times), quantityInBase(tub)));
  return ratio.sign(sum) <= 0 ? told : shown(sum, scale);
}

/** One number of what was typed, its digits changed: the pounds or the ounces, or the figure itself. */
function changed(told: Quantity, at: number, change: (digits: string, place: number) => string | null): Quantity | null {
  const pair = /^(\d+) lb (\d+(?:\.\d+)?) oz$/.exec(told.typed ?? "");
  if (pair === null) return plain(change(told.amount, at), told.unit);
  const [pounds, ounces] = at % 2 === 0 ? [change(pair[1] ?? "", at >> 1), pair[2] ?? ""] : [pair[1] ?? "", change(pair[2] ?? "", at >> 1)];
  if (pounds === null || ounces === null || Number(ounces) >= 16) return null;
  const amount = ratio.add(ratio.fromExact(exact(pounds.replace(/^0+(?=\d)/, ""))), ratio.div(ratio.fromExact(exact(ounces.replace(/^0+(?=\d)/, ""))), ratio.of(16n)));
  return ratio.sign(amount) <= 0 ? null : { amount: ratio.toExact(amount), unit: "lb", typed: `${pounds} lb ${ounces} oz` };
}

const digitPlaces = (digits: string): readonly number[] => [...digits].flatMap((mark, place) => (mark === "." ? [] : [place]));

function swap(digits: string, at: number): string | null {
  const places = digitPlaces(digits);
  if (places.length < 2) return null;
  const first = places[at % (places.length - 1)] ?? 0;
  const second = places[(at % (places.length - 1)) + 1] ?? 0;
  const marks = [...digits];
  [marks[first], marks[second]] = [marks[second] ?? "", marks[first] ?? ""];
  return marks.join("") === digits || /^0\d/.test(marks.join("")) ? null : marks.join("");
}

function drop(digits: string, at: number): string | null {
  const places = digitPlaces(digits);
  const place = places[at % places.length] ?? 0;
  const left = digits.slice(0, place) + digits.slice(place + 1);
  return places.length < 2 || /^\.|\.$|^0\d/.test(left) ? null : left;
}

function double(digits: string, at: number): string | null {
  const places = digitPlaces(digits);
  const place = places[at % places.length] ?? 0;
  return digits.slice(0, place + 1) + digits.slice(place);
}

function move(digits: string, by: number): string {
  const point = digits.includes(".") ? digits.indexOf(".") : digits.length;
  const bare = digits.replace(".", "");
  const at = point + by;
  if (at <= 0) return `0.${"0".repeat(-at)}${bare}`;
  return at >= bare.length ? bare.padEnd(at, "0") : `${bare.slice(0, at)}.${bare.slice(at)}`;
}

type Slipping = (told: Quantity, pick: number) => Quantity | null;

function onPart(truth: TrueSheet, pick: number, slip: SlipKind, how: Slipping, trueInKilos = false): Slipped | null {
  const at = (pick >> 1) % truth.sheet.parts.length;
  const part = truth.sheet.parts[at];
  const wrong = part === undefined ? null : how(part.weight, pick >> 4);
  if (part === undefined || wrong === null) return null;
  const parts = truth.sheet.parts.map((each, place) => (place === at ? { ...each, weight: wrong } : each));
  return { ...truth, sheet: { ...truth.sheet, parts }, slip, path: `parts.${at}.weight`, truly: trueInKilos ? { amount: wrong.amount, unit: "kg" } : part.weight };
}

/** On a part or on the whole. */
function onAny(truth: TrueSheet, pick: number, slip: SlipKind, how: Slipping): Slipped | null {
  if ((pick >> 1) % (truth.sheet.parts.length + 1) !== truth.sheet.parts.length) return onPart(truth, pick, slip, how);
  const wrong = how(truth.sheet.billed, pick >> 4);
  return wrong === null ? null : { ...truth, sheet: { ...truth.sheet, billed: wrong }, slip, path: "billed", truly: truth.sheet.billed };
}
