/**
 * Statistics of several tests against printed figures: Student's t tables, NIST's certified means and deviations, the individuals chart
 * of the NIST/SEMATECH e-Handbook, a textbook's interval of the mean beside its prediction interval, Student's sleep data by Welch's test,
 * Holm's steps, and a worked table of modified z-scores. Each with its source; what was not seen again is marked.
 */
import { describe, expect, test } from "vitest";
import { Decimal, exact, ratio } from "@/lib/measure";
import { compareTwo, holm, individualsChart, intervalOfMean, intervalOfNext, outliersOf, plainDeviations, rootOf, shareBeyond, spreadOf, tHolding, varianceOf } from "@/lib/yield";
import { figure, fixed, show, won } from "../yield/sheets";
import { told } from "../yield/yields";
import datasets from "./fixtures/several-tests.json";
import quantiles from "./fixtures/student-t.json";

const list = (text: string): readonly string[] => text.split(" ");

describe("Student's t, upper critical values: NIST/SEMATECH e-Handbook 1.3.6.7.2 (read in a statistics text that reprints it)", () => {
  const heads = list("0.10 0.05 0.025 0.01 0.005 0.001");
  // The reprint's last column is off in its last place in some rows (1: 318.313, 7: 4.782); 0.001 is from the tables of two other texts, which agree.
  const rows: readonly string[] = [
    "1 3.078 6.314 12.706 31.821 63.657 318.309", "2 1.886 2.920 4.303 6.965 9.925 22.327", "3 1.638 2.353 3.182 4.541 5.841 10.215", "4 1.533 2.132 2.776 3.747 4.604 7.173",
    "5 1.476 2.015 2.571 3.365 4.032 5.893", "6 1.440 1.943 2.447 3.143 3.707 5.208", "7 1.415 1.895 2.365 2.998 3.499 4.785", "8 1.397 1.860 2.306 2.896 3.355 4.501",
    "9 1.383 1.833 2.262 2.821 3.250 4.297", "10 1.372 1.812 2.228 2.764 3.169 4.144", "15 1.341 1.753 2.131 2.602 2.947 3.733", "17 1.333 1.740 2.110 2.567 2.898 3.646",
    "19 1.328 1.729 2.093 2.539 2.861 3.579", "20 1.325 1.725 2.086 2.528 2.845 3.552", "25 1.316 1.708 2.060 2.485 2.787 3.450", "29 1.311 1.699 2.045 2.462 2.756 3.396",
    "30 1.310 1.697 2.042 2.457 2.750 3.385", "40 1.303 1.684 2.021 2.423 2.704 3.307", "60 1.296 1.671 2.000 2.390 2.660 3.232", "100 1.290 1.660 1.984 2.364 2.626 3.174",
  ];
  test.each(rows)("%s", (row) => {
    const [degrees = "", ...printed] = list(row);
    printed.forEach((t, at) => {
      const level = new Decimal(1).minus(new Decimal(heads[at] ?? "").mul(2));
      expect(tHolding(level, new Decimal(degrees)).toFixed(3)).toBe(t);
    });
  });

  test("with very many degrees it is the normal curve's 1.960 and 2.576", () => {
    expect(tHolding(new Decimal("0.95"), new Decimal(1_000_000)).toFixed(3)).toBe("1.960");
    expect(tHolding(new Decimal("0.99"), new Decimal(1_000_000)).toFixed(3)).toBe("2.576");
  });

  test("half-widths of a 95 % interval for a deviation of 2.5 points: 2 tests ±22, 3 ±6.2, 4 ±4.0, 5 ±3.1, 8 ±2.1, 10 ±1.8", () => {
    const halves = [2, 3, 4, 5, 8, 10].map((n) => tHolding(new Decimal("0.95"), new Decimal(n - 1)).mul("2.5").div(Decimal.sqrt(n)));
    expect(halves.map((half) => half.toFixed(1))).toEqual(["22.5", "6.2", "4.0", "3.1", "2.1", "1.8"]);
  });
});

describe(`Student's t to 28 digits. ${quantiles.source}`, () => {
  test.each(quantiles.quantiles)("$level of $degrees degrees", ({ level, degrees, t }) => {
    const ours = tHolding(new Decimal(level), new Decimal(degrees));
    expect(ours.toSignificantDigits(27).toString()).toBe(new Decimal(t).toSignificantDigits(27).toString());
    expect(shareBeyond(new Decimal(t), new Decimal(degrees)).plus(level).minus(1).abs().lt("1e-27")).toBe(true);
  });
});

describe("certified means and deviations: NIST Statistical Reference Datasets, univariate summary statistics", () => {
  const judge = (values: readonly string[], mean: string, deviation: string): void => {
    const found = plainDeviations(values.map((each) => ratio.fromExact(exact(each))));
    expect(found.mean).toEqual(ratio.fromExact(exact(mean)));
    const ours = rootOf(varianceOf(found) ?? ratio.ZERO);
    expect(ours.toSignificantDigits(15).toString()).toBe(new Decimal(deviation).toString());
  };
  test.each(["michelso", "mavro", "lew"] as const)("%s", (name) => {
    const { values, mean, deviation } = datasets[name];
    judge(list(values), mean, deviation);
  });
  const swinging = (first: string, low: string, high: string): readonly string[] => [first, ...Array.from({ length: 500 }, () => [low, high]).flat()];
  test("NumAcc1", () => judge(["10000001", "10000003", "10000002"], "10000002", "1"));
  test("NumAcc2, made by its definition", () => judge(swinging("1.2", "1.1", "1.3"), "1.2", "0.1"));
  test("NumAcc3, made by its definition", () => judge(swinging("1000000.2", "1000000.1", "1000000.3"), "1000000.2", "0.1"));
  test("NumAcc4, made by its definition", () => judge(swinging("10000000.2", "10000000.1", "10000000.3"), "10000000.2", "0.1"));
});

describe("individuals chart: NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of ten batches", () => {
  const chart = won(individualsChart(told(list("49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1"))));
  test("mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041", () => {
    expect([fixed(chart.mean, 2), fixed(chart.meanRange, 4)]).toEqual(["50.81", "1.8778"]);
    expect([fixed(chart.lower, 4), fixed(chart.upper, 4)]).toEqual(["45.8159", "55.8041"]);
    expect(chart.points.every((point) => point.beyond === null)).toBe(true);
  });
  test("upper limit of moving ranges, ours by D4 = 3.267: 6.1347", () => {
    expect(fixed(chart.rangeUpper, 4)).toBe("6.1347");
  });
  test("3/d2 is the 2.66 that books print", () => {
    expect(fixed(ratio.div(ratio.of(3n), figure("1.128")), 2)).toBe("2.66");
  });
});

describe("interval of the mean and prediction interval: Devore, Probability and Statistics for Engineering and the Sciences, ch. 7, fat in ten hot dogs (data read; printed intervals from memory)", () => {
  const hotDogs = told(list("25.2 21.3 22.8 17.0 29.8 21.0 25.5 16.0 20.9 19.5"));
  test("mean 21.90, s 4.134; the mean within 18.94 and 24.86, the next within 12.09 and 31.71", () => {
    const spread = won(spreadOf(hotDogs));
    expect([fixed(spread.mean, 2), spread.deviation?.toFixed(3)]).toEqual(["21.90", "4.134"]);
    const mean = won(intervalOfMean(hotDogs));
    expect([mean.low.toFixed(2), mean.high.toFixed(2)]).toEqual(["18.94", "24.86"]);
    const next = won(intervalOfNext(hotDogs));
    expect([next.low.toFixed(2), next.high.toFixed(2)]).toEqual(["12.09", "31.71"]);
  });
});

describe("Welch's test: Student's sleep data, as R's documentation of t.test prints it", () => {
  test("t = -1.8608, 17.776 degrees, p = 0.07939, interval -3.3654832 to 0.2054832", () => {
    const compared = won(
      compareTwo(
        { name: "first", tests: told(list("0.7 -1.6 -0.2 -1.2 -0.1 3.4 3.7 0.8 0.0 2.0"), "first") },
        { name: "second", tests: told(list("1.9 0.8 1.1 0.1 -0.1 4.4 5.5 1.6 4.6 3.4"), "second") },
      ),
    );
    expect(compared.verdict).toEqual({ kind: "cannot-tell" });
    const found = compared.difference;
    expect(show(found?.by ?? ratio.ZERO)).toBe("-1.58");
    expect([found?.t.toFixed(4), found?.degrees.toFixed(3), found?.chance.toFixed(5)]).toEqual(["-1.8608", "17.776", "0.07939"]);
    expect([found?.low.toFixed(7), found?.high.toFixed(7)]).toEqual(["-3.3654832", "0.2054832"]);
  });
});

describe("Holm's steps: the example of the Holm–Bonferroni method that encyclopedias print", () => {
  test("0.01, 0.04, 0.03, 0.005 at 0.05: the fourth and the first are told apart, the others not", () => {
    const corrected = holm(["0.01", "0.04", "0.03", "0.005"].map((each) => new Decimal(each)));
    expect(corrected.map(String)).toEqual(["0.03", "0.06", "0.06", "0.02"]);
    expect(corrected.map((each) => each.lt("0.05"))).toEqual([true, false, false, true]);
  });
});

describe("modified z-scores, 0.6745·(x − median)/MAD beyond 3.5: a worked table of a teaching page", () => {
  test("10, 12, 12, 13, 12, 11, 14, 300: median 12, MAD 1, and 300 stands at 194.256", () => {
    const check = won(outliersOf(told(list("10 12 12 13 12 11 14 300"))));
    expect([show(check.median), show(check.medianDistance)]).toEqual(["12", "1"]);
    expect(check.flagged.map(({ test: flagged, score }) => [show(flagged.yield), fixed(score, 4)])).toEqual([["300", "194.2560"]]);
    expect(won(outliersOf(told(list("10 12 12 13 12 11 14 300")), figure("1.3"))).flagged.map(({ score }) => fixed(score, 4))).toEqual(["1.3490", "1.3490", "194.2560"]);
  });
});
