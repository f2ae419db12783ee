/**
 * What nobody at the block would type, but a broken program, a curious guest or somebody who means harm would send: text
 * that breaks what reads it, and data of every shape but the right one.
 */
import fc from "fast-check";

/** Names that mean something to JavaScript itself, to a database or to a server. */
export const BAD_NAMES: readonly string[] = [
  "__proto__", "constructor", "prototype", "toString", "hasOwnProperty", "valueOf", "then", "toJSON", "length", "$ACTION_ID_", "null", "undefined",
  "'; DROP TABLE item; --", "%00", "../../etc/passwd", "<script>alert(1)</script>", "{{7*7}}", "${7*7}",
];

const MARKS = [
  "\0", "\u0001", "\u001b", "\u007f", "\u0085", "\u00ad", "\u200b", "\u200d", "\u200e", "\u200f", "\u202a", "\u202e", "\u2028", "\u2029", "\u2066", "\u2069", "\ufeff", "\ufffe", "\uffff",
  "\ud800", "\udc00", "\udfff\ud800", "\u{1f469}\u200d\u{1f373}", "\u{e0041}", "e\u0301\u0301\u0301", "ﷺ", "ﬁ", "ß", "İ", "ı", "\u3000", "\t", "\n", "\r\n",
];

/** Digits that are not 0 to 9, and signs that look like those a figure has. */
const ODD_FIGURES = [
  "٣", "۴", "४", "৫", "๖", "９", "²", "₃", "Ⅷ", "½", "⅞", "↉", "⁄", "∕", "÷", "－", "−", "‒", "—", "．", "，", "٫", "٬", "'", "’", "˙", "·", "\u00a0", "\u202f", "\u2009",
  "∞", "NaN", "0x1f", "1e9", "1e-9", "1E+400", "-0", "+1", "--1", "1_000", "1n", "1..2", "1,,2", "1/0", "0/0", "1/2/3", "1//2", "#10", "%", "‰", "$", "€", "¢", "£", "₹", "kr", "CHF", "USD",
];

const FIGURE_LETTERS = [..."0123456789.,-/ #+()%$€'½¾xe", "lb", "oz", "kg", "g", "L", "ct", "dozen", "fl", "per", "of", "case", "catch weight", " a ", "/", "@"];

const pieces = (words: readonly string[], most: number): fc.Arbitrary<string> => fc.array(fc.constantFrom(...words), { maxLength: most }).map((drawn) => drawn.join(""));

/** Text that looks like a figure, and is one now and then. */
export const figureLike: fc.Arbitrary<string> = fc.oneof(
  { weight: 4, arbitrary: pieces(FIGURE_LETTERS, 14) },
  { weight: 2, arbitrary: pieces([...FIGURE_LETTERS, ...ODD_FIGURES], 12) },
  { weight: 1, arbitrary: pieces([...ODD_FIGURES, ...MARKS], 10) },
);

/** One short thing over and over, up to some hundred thousand characters. */
const longRun = (upTo: number): fc.Arbitrary<string> => fc
  .tuple(fc.oneof(fc.constantFrom("1", "9", "0", " ", "-", "/", "1/", "1,", "1 ", ".", "a", "½", "ﷺ", "1 lb ", " of ", "\u0301", "\ud83e\udd69", "\n", "(", "$", "a b ", "x", "catch weight "), pieces([...FIGURE_LETTERS, ...MARKS], 3)), fc.integer({ min: 1, max: upTo }), fc.constantFrom("", " lb", "!", "1", "\0"))
  .map(([unit, length, end]) => unit.repeat(Math.ceil(length / Math.max(1, unit.length))) + end);

/** Any text at all, up to `longest` characters now and then. */
export function hostileText(longest = 100_000): fc.Arbitrary<string> {
  return fc.oneof(
    { weight: 3, arbitrary: figureLike },
    { weight: 2, arbitrary: pieces([...MARKS, ...BAD_NAMES, "a", " ", "1"], 8) },
    { weight: 2, arbitrary: fc.string({ unit: "binary", maxLength: 150 }) },
    { weight: 1, arbitrary: fc.array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 40 }).map((codes) => String.fromCharCode(...codes)) },
    { weight: 1, arbitrary: longRun(300) },
    ...(longest > 300 ? [{ weight: 1, arbitrary: longRun(longest) }] : []),
  );
}

/** Objects inside objects (or lists inside lists), `depth` deep. */
function nested(depth: number, wrap: (inner: unknown) => unknown): unknown {
  let value: unknown = "x";
  for (let at = 0; at < depth; at += 1) value = wrap(value);
  return value;
}

const scalar = (longest: number): fc.Arbitrary<unknown> => fc.oneof(
  hostileText(longest), fc.constantFrom(null, undefined, true, false, 0, -0, 1, -1, 1e21, 1e308, Number.NaN, Number.POSITIVE_INFINITY, Number.MIN_VALUE, "", " "),
  fc.double(), fc.integer(), fc.constantFrom(...BAD_NAMES),
);

/** Anything that JSON can say, and a little more: of every shape, as deep and as long as a request could be. */
export function anyInput(keys: readonly string[], longest = 100_000): fc.Arbitrary<unknown> {
  const small = scalar(300);
  const { tree } = fc.letrec<{ tree: unknown }>((tie) => ({
    tree: fc.oneof(
      { maxDepth: 4, depthSize: "small" }, small, fc.array(tie("tree"), { maxLength: 6 }),
      fc.array(fc.tuple(fc.constantFrom(...keys, ...BAD_NAMES), tie("tree")), { maxLength: 10 }).map(own),
    ),
  }));
  return fc.oneof(
    { weight: 6, arbitrary: tree },
    { weight: 2, arbitrary: scalar(longest) },
    { weight: 1, arbitrary: fc.constantFrom(1_000, 20_000).map((depth) => nested(depth, (inner) => [inner])) },
    { weight: 1, arbitrary: fc.tuple(fc.constantFrom(1_000, 20_000), fc.constantFrom(...keys, "__proto__")).map(([depth, key]) => nested(depth, (inner) => own([[key, inner]]))) },
    { weight: 1, arbitrary: fc.tuple(fc.constantFrom(500, longest), tree).map(([length, one]) => Array.from({ length }, () => one)) },
  );
}

/** An object with these keys as its own, "__proto__" too, as JSON.parse makes it. */
export function own(entries: readonly (readonly [string, unknown])[]): Record<string, unknown> {
  const made: Record<string, unknown> = {};
  for (const [key, value] of entries) Object.defineProperty(made, key, { value, enumerable: true, writable: true, configurable: true });
  return made;
}

type Place = readonly (string | number)[];

const DEEPEST = 12;

/** Every place in a value, the whole first; not further down than any fact goes. */
function places(value: unknown, at: Place = []): Place[] {
  if (typeof value !== "object" || value === null || at.length > DEEPEST) return [at];
  return [at, ...Object.entries(value).flatMap(([key, inner]) => places(inner, [...at, Array.isArray(value) ? Number(key) : key]))];
}

/** The value with what stands at a place put through `change`; undefined takes it out. */
function changedAt(value: unknown, [step, ...rest]: Place, change: (old: unknown) => unknown): unknown {
  if (step === undefined) return change(value);
  if (Array.isArray(value)) {
    const inner = changedAt(value[Number(step)], rest, change);
    const left = value.filter((_one, index) => index !== Number(step));
    return inner === undefined ? left : value.map((one: unknown, index) => (index === Number(step) ? inner : one));
  }
  const inner = changedAt((value as Record<string, unknown>)[step], rest, change);
  return own(Object.entries(value as object).flatMap(([key, old]): [string, unknown][] => (key !== String(step) ? [[key, old]] : inner === undefined ? [] : [[key, inner]])));
}

/** A good value with one to three things about it wrong: another value somewhere, one left out, one added, one many times over. */
export function spoiled(good: fc.Arbitrary<unknown>, keys: readonly string[], longest = 100_000): fc.Arbitrary<unknown> {
  const change: fc.Arbitrary<(old: unknown) => unknown> = fc.oneof(
    { weight: 5, arbitrary: scalar(longest).map((value) => () => value) },
    { weight: 3, arbitrary: figureLike.map((text) => () => text) },
    { weight: 2, arbitrary: anyInput(keys, 2_000).map((value) => () => value) },
    { weight: 1, arbitrary: fc.constant(() => undefined) },
    { weight: 1, arbitrary: fc.constant((old: unknown) => [old]) },
    { weight: 1, arbitrary: fc.constant((old: unknown) => (typeof old === "string" ? old + old : typeof old === "object" && old !== null && "amount" in old ? old.amount : old)) },
    { weight: 2, arbitrary: fc.tuple(fc.constantFrom(...keys, ...BAD_NAMES), scalar(300)).map(([key, value]) => (old: unknown) => (typeof old === "object" && old !== null && !Array.isArray(old) ? own([...Object.entries(old), [key, value]]) : value)) },
    { weight: 1, arbitrary: fc.constantFrom(2, 70, 300, 6_000).map((times) => (old: unknown) => (Array.isArray(old) && old.length > 0 ? Array.from({ length: times }, (_one, index): unknown => old[index % old.length]) : old)) },
  );
  return fc.tuple(good, fc.array(fc.tuple(fc.nat(), change), { minLength: 1, maxLength: 3 })).map(([value, changes]) => changes.reduce<unknown>((so, [at, alter]) => {
    const all = places(so);
    return changedAt(so, all[at % all.length] ?? [], alter);
  }, value));
}
