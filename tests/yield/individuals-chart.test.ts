import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { individualsChart, newestSignal } from "@/lib/yield";
import { codes, sentences, show, won } from "./sheets";
import { someTests, told, week } from "./yields";

const steady = ["0.71", "0.72", "0.70", "0.715", "0.705", "0.72", "0.71", "0.70"];

describe("the individuals chart", () => {
  test("eight steady loins draw limits and signal nothing", () => {
    const chart = won(individualsChart(told(steady)));
    expect([show(chart.mean, 6), show(chart.meanRange, 6)]).toEqual(["0.71", "0.012857"]);
    expect([show(chart.lower, 6), show(chart.upper, 6), show(chart.rangeUpper, 6)]).toEqual(["0.675805", "0.744195", "0.042004"]);
    expect(chart.points.every((point) => point.beyond === null && !point.rangeBeyond && point.run === null)).toBe(true);
    expect(newestSignal(chart)).toBeNull();
  });

  test("a loin at 62 % after them lies below, and so does its step", () => {
    const chart = won(individualsChart(told([...steady, "0.62"])));
    const newest = chart.points.at(-1);
    expect([newest?.beyond, newest?.rangeBeyond]).toEqual(["below", true]);
    expect(newestSignal(chart)).toBe("beyond");
  });

  test("seven tests are too few, and the page is told how many are needed", () => {
    expect(codes(individualsChart(told(steady.slice(0, 7))))).toEqual(["too-few-tests"]);
    expect(sentences(individualsChart(told(steady.slice(0, 7))))).toBe("Control limits need at least 8 tests, and there are 7: fewer would call chance a signal.");
  });

  test("eight in a row on one side are a run; one on the mean breaks it", () => {
    const low = ["0.68", "0.69", "0.68", "0.69", "0.68", "0.69", "0.68", "0.69"];
    const high = ["0.71", "0.72", "0.71", "0.72", "0.71", "0.72", "0.71", "0.72"];
    const chart = won(individualsChart(told([...low, ...high])));
    expect(chart.points.map((point) => point.run)).toEqual([...Array<null>(7).fill(null), "below", ...Array<null>(7).fill(null), "above"]);
    expect(newestSignal(chart)).toBe("run");
    const broken = won(individualsChart(told([...low.slice(0, 4), "0.70", ...low.slice(0, 4), ...high.slice(0, 4), "0.70", ...high.slice(0, 4)])));
    expect(show(broken.mean)).toBe("0.7");
    expect(broken.points.every((point) => point.run === null)).toBe(true);
  });

  test("limits past 0 or 100 % are cut off there, and say so", () => {
    const wild = told(["0.2", "0.9", "0.2", "0.9", "0.2", "0.9", "0.2", "0.9"]).map((each) => ({ ...each, gains: false }));
    const chart = won(individualsChart(wild));
    expect([show(chart.lower), show(chart.upper), chart.cutLow, chart.cutHigh]).toEqual(["0", "1", true, true]);
  });

  test("tests are put in order of their days before they are charted", () => {
    const tests = told(steady);
    expect(won(individualsChart([...tests].reverse())).points.map((point) => point.test.on)).toEqual(tests.map((_, at) => week(at)));
  });

  test("laws: limits lie evenly about the mean unless cut; a test on the limit is not beyond; weights do not matter", () => {
    fc.assert(
      fc.property(someTests(8, 14), (tests) => {
        const chart = won(individualsChart(tests));
        if (!chart.cutLow && !chart.cutHigh) expect(ratio.add(chart.lower, chart.upper)).toEqual(ratio.mul(chart.mean, ratio.of(2n)));
        for (const point of chart.points) {
          const outside = ratio.compare(point.test.yield, chart.upper) > 0 || ratio.compare(point.test.yield, chart.lower) < 0;
          expect(point.beyond !== null).toBe(outside);
        }
        const heavier = won(individualsChart(tests.map((each) => ({ ...each, billed: ratio.mul(each.billed, ratio.of(3n)), usable: ratio.mul(each.usable, ratio.of(3n)) }))));
        expect([heavier.lower, heavier.upper]).toEqual([chart.lower, chart.upper]);
      }),
      { numRuns: 40 },
    );
  });
});
