/**
 * Student's t distribution in decimals, to about 28 digits: how much of it lies beyond a t, and which t holds a given share.
 * Degrees of freedom need not be whole (comparing two groups makes them fractional). The share beyond is a regularized
 * incomplete beta function, P(|T| > t) = I_y(ν/2, ½) with y = ν/(ν + t²): by its series on whichever side that
 * runs fast, and far out with many degrees by its continued fraction (modified Lentz). Source of the formulas: Abramowitz
 * & Stegun, Handbook of Mathematical Functions, 6.1.40 (Stirling), 26.5.4 (series), 26.5.8 (continued fraction), 26.7.1.
 */
import { Decimal } from "@/lib/measure";

const ONE = new Decimal(1);
const TWO = new Decimal(2);
const HALF = new Decimal("0.5");
/** A series or a continued fraction has settled when a step changes it by less than this. */
const SETTLED = new Decimal("1e-31");
/** How near the t that is found must be, relatively. */
const NEAR = new Decimal("1e-29");
const TINY = new Decimal("1e-300");
const ROOT_PI = Decimal.acos(-1).sqrt();

/** B_2k/(2k(2k − 1)), k = 1 … 15: from an argument of 20 on, what follows them is below 1e-33. */
const STIRLING = [
  "1/12", "-1/360", "1/1260", "-1/1680", "1/1188", "-691/360360", "1/156", "-3617/122400", "43867/244188", "-174611/125400",
  "77683/5796", "-236364091/1506960", "657931/300", "-3392780147/93960", "1723168255201/2492028",
].map((text) => {
  const [n = "0", d = "1"] = text.split("/");
  return new Decimal(n).div(d);
});
const STIRLING_FROM = 20;

/** P(|T| > t) for ν degrees of freedom: the share of the distribution farther from 0 than t, on both sides together. ν above 0. */
export function shareBeyond(t: Decimal, degrees: Decimal): Decimal {
  return beyond(t.abs(), degrees, gammaStep(degrees.mul(HALF)), SETTLED).share;
}

/**
 * The t that holds a share of the distribution around 0: P(|T| ≤ t) = level. So 0.95 gives the 97.5 % point that tables
 * print for two sides. `level` between 0 and 1, both excluded; `degrees` above 0.
 */
export function tHolding(level: Decimal, degrees: Decimal): Decimal {
  if (!level.gt(0) || !level.lt(1) || !degrees.gt(0)) throw new Error(`expected a level between 0 and 1 and degrees above 0, got ${level.toString()} and ${degrees.toString()}`);
  const key = `${level.toString()} ${degrees.toString()}`;
  const known = found.get(key);
  if (known !== undefined) return known;
  const t = solve(ONE.minus(level), degrees);
  if (found.size >= REMEMBERED) found.clear();
  found.set(key, t);
  return t;
}

/** A page asks for the same few again and again. */
const found = new Map<string, Decimal>();
const REMEMBERED = 500;

/**
 * Newton on ln P against ln t. The share beyond falls like a power of t at most, and ln P is concave in ln t, so after the
 * first step every iterate lies above the root and they fall to it: no bracket is needed.
 */
function solve(share: Decimal, degrees: Decimal): Decimal {
  const step = gammaStep(degrees.mul(HALF));
  const wanted = share.ln();
  let t = TWO;
  let settled = new Decimal("1e-4");
  for (let round = 0; round < 200; round += 1) {
    const { share: left, slope } = beyond(t, degrees, step, settled);
    const move = left.ln().minus(wanted).mul(left).div(slope);
    t = t.mul(move.exp());
    // Newton is now off by about the square of its step, or by what the share was unsure of; the next share need be no surer than the step after.
    const off = Decimal.max(move.mul(move), settled);
    if (off.lt(NEAR)) return t;
    settled = Decimal.max(SETTLED, Decimal.min("1e-4", off.mul(off).mul("1e-3")));
  }
  throw new Error(`expected Student's t to be found within 200 steps, for a share of ${share.toString()} and ${degrees.toString()} degrees`);
}

/**
 * The share beyond t, and how fast it falls there: `slope` is −dP/d ln t = 2·t·f(t), f the density. Both hold the same
 * front, x^a·(1 − x)^b/B(a, b) with a = ν/2, b = ½: t·f(t) is that front, and P is it over a times the fraction.
 */
function beyond(t: Decimal, degrees: Decimal, step: Decimal, settled: Decimal): { readonly share: Decimal; readonly slope: Decimal } {
  if (t.isZero()) return { share: ONE, slope: t };
  const square = t.mul(t);
  const whole = degrees.plus(square);
  const a = degrees.mul(HALF);
  const outer = degrees.div(whole);
  const inner = square.div(whole);
  // 1/B(ν/2, ½) = Γ(ν/2 + ½)/(Γ(ν/2)·√π).
  const front = outer.pow(a).mul(inner.sqrt()).mul(step).div(ROOT_PI);
  const slope = front.mul(TWO);
  const both = a.plus(HALF);
  if (outer.lte(HALF)) return { share: front.div(a).mul(betaSeries(outer, both, a.plus(1), settled)), slope };
  // Within t = 3 at least 0.2 % lies beyond, so that taking it from 1 costs three digits of 34.
  if (square.lte(9)) return { share: ONE.minus(slope.mul(betaSeries(inner, both, new Decimal("1.5"), settled))), slope };
  return { share: front.div(a).mul(betaFraction(outer, a, HALF, settled)), slope };
}

/** Σ (a + b)_k/(a + 1)_k·x^k, k from 0, with `both` a + b and `next` a + 1: x^a·(1 − x)^b/(a·B(a, b)) times it is I_x(a, b). x at most ½. */
function betaSeries(x: Decimal, both: Decimal, next: Decimal, settled: Decimal): Decimal {
  let term = ONE;
  let sum = ONE;
  for (let k = 0; k < 20_000; k += 1) {
    const growth = both.plus(k).mul(x).div(next.plus(k));
    term = term.mul(growth);
    sum = sum.plus(term);
    // From here on it grows by no more than this or by x: what is left is below three such terms, and the sum above 1.
    if (term.lt(settled) && growth.lt("0.75")) return sum;
  }
  throw new Error(`expected the series of the incomplete beta function to settle, for x = ${x.toString()}, a + b = ${both.toString()}`);
}

/**
 * 1/(1 + d₁/(1 + d₂/(1 + …))), d_(2m+1) = −(a+m)(a+b+m)x/((a+2m)(a+2m+1)), d_2m = m(b−m)x/((a+2m−1)(a+2m)): the
 * continued fraction of I_x(a, b) = x^a·(1−x)^b/(a·B(a,b)) times it. Runs fast for x < (a+1)/(a+b+2).
 */
function betaFraction(x: Decimal, a: Decimal, b: Decimal, settled: Decimal): Decimal {
  const both = a.plus(b);
  let numerator = ONE;
  let denominator = apart(ONE.minus(both.mul(x).div(a.plus(1))));
  denominator = ONE.div(denominator);
  let fraction = denominator;
  for (let m = 1; m <= 20_000; m += 1) {
    const twice = a.plus(2 * m);
    const even = b.minus(m).mul(m).mul(x).div(twice.minus(1).mul(twice));
    denominator = ONE.div(apart(ONE.plus(even.mul(denominator))));
    numerator = apart(ONE.plus(even.div(numerator)));
    fraction = fraction.mul(denominator).mul(numerator);
    const odd = a.plus(m).mul(both.plus(m)).mul(x).div(twice.mul(twice.plus(1))).neg();
    denominator = ONE.div(apart(ONE.plus(odd.mul(denominator))));
    numerator = apart(ONE.plus(odd.div(numerator)));
    const change = denominator.mul(numerator);
    fraction = fraction.mul(change);
    if (change.minus(1).abs().lt(settled)) return fraction;
  }
  throw new Error(`expected the incomplete beta function to settle, for x = ${x.toString()}, a = ${a.toString()}, b = ${b.toString()}`);
}

/** Lentz divides by these: a nought is moved a hair. */
function apart(value: Decimal): Decimal {
  return value.isZero() ? TINY : value;
}

/** Γ(a + ½)/Γ(a), a above 0: carried up to where Stirling's series serves, by Γ(z + 1) = z·Γ(z). */
function gammaStep(a: Decimal): Decimal {
  let z = a;
  let carried = ONE;
  while (z.lt(STIRLING_FROM)) {
    carried = carried.mul(z).div(z.plus(HALF));
    z = z.plus(1);
  }
  const above = z.plus(HALF);
  const log = z.mul(above.ln()).minus(z.minus(HALF).mul(z.ln())).minus(HALF).plus(stirling(above)).minus(stirling(z));
  return carried.mul(log.exp());
}

/** ln Γ(z) − ((z − ½)·ln z − z + ½·ln 2π) for large z: Σ B_2k/(2k(2k−1)·z^(2k−1)). */
function stirling(z: Decimal): Decimal {
  const square = z.mul(z);
  let power = z;
  let sum = new Decimal(0);
  for (const term of STIRLING) {
    sum = sum.plus(term.div(power));
    power = power.mul(square);
  }
  return sum;
}
