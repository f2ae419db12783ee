/** The few functions of jstat that the tests hold ours against; the package brings no types. */
declare module "jstat" {
  interface Statistics {
    mean(values: readonly number[]): number;
    median(values: readonly number[]): number;
    /** With `true`, over n − 1. */
    stdev(values: readonly number[], sample: boolean): number;
    /** Median distance to the median. */
    meddev(values: readonly number[]): number;
    /** Both ends of a mean's interval, alpha on both sides together; its spread is over n. */
    tci(value: number, alpha: number, mean: number, deviation: number, count: number): readonly [number, number];
    readonly studentt: { inv(share: number, degrees: number): number; cdf(t: number, degrees: number): number };
  }
  const jstat: { readonly jStat: Statistics };
  export default jstat;
}
