/** What was measured: how long each thing took, as percentiles, and what the server's process holds in memory. */
import fs from "node:fs";

export interface Taken {
  readonly action: string;
  /** From sending the request until its last byte, in milliseconds. */
  readonly ms: number;
  /** A sentence when the answer was not what it should have been. */
  readonly error: string | null;
}

/** The smallest of the values that `share` of them (0.95) do not exceed. */
export function percentile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}

/** Resident memory in MB and processor time in seconds of a process on this machine; null where it cannot be seen. */
export function footprint(pid: number): { readonly rss: number; readonly cpu: number } | null {
  try {
    const pages = Number(/^VmRSS:\s+(\d+) kB/m.exec(fs.readFileSync(`/proc/${pid}/status`, "utf8"))?.[1]);
    // After the name, which may hold anything but ends with the last ")": user and system time are the 12th and 13th.
    const fields = fs.readFileSync(`/proc/${pid}/stat`, "utf8").split(") ").at(-1)?.split(" ") ?? [];
    return { rss: pages / 1000, cpu: (Number(fields[11]) + Number(fields[12])) / 100 };
  } catch {
    return null;
  }
}
