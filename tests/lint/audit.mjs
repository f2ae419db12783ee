/**
 * What is known to be wrong with the packages that run, asked of npm's registry. A registry that does not answer (no
 * network, a mirror without advisories) proves nothing either way: that is told apart from a clean answer, so that the
 * suite is left out rather than passed or failed. No advisory is ignored: one that does not touch us is dealt with by a
 * newer version of the package, or by going without it.
 */
import { execFile } from "node:child_process";

const LIMIT = 60_000;

/** Asks, and reads the answer. `from` is the project's folder. */
export function audit(from) {
  return new Promise((resolve) => {
    const args = ["audit", "--omit=dev", "--audit-level=high", "--json", "--fetch-retries=0", `--fetch-timeout=${LIMIT - 5_000}`];
    const options = { cwd: from, timeout: LIMIT, maxBuffer: 64 * 1024 * 1024, shell: process.platform === "win32" };
    // A status other than 0 means advisories or no answer: what was printed tells which.
    execFile("npm", args, options, (error, stdout) => { resolve(readAudit(stdout, error?.killed === true ? `no answer within ${LIMIT / 1000} s` : error?.code === "ENOENT" ? "there is no npm here" : undefined)); });
  });
}

/** { unanswered: why }, or { serious, others }: the packages with advisories of high or critical severity, and how many have lesser ones. */
export function readAudit(printed, failure) {
  if (failure !== undefined) return { unanswered: failure };
  let told;
  try {
    told = JSON.parse(printed);
  } catch {
    return { unanswered: "npm printed no report" };
  }
  const counts = told?.metadata?.vulnerabilities;
  if (told?.vulnerabilities === undefined || counts === undefined) {
    return { unanswered: (told?.message ?? told?.error?.summary ?? "the registry answers no audits").split("\n")[0] };
  }
  const serious = Object.values(told.vulnerabilities).filter(({ severity }) => severity === "high" || severity === "critical").map(({ name, severity, range, via, fixAvailable }) => {
    const advisories = via.map((one) => (typeof one === "string" ? `through ${one}` : `${one.title} ${one.url}`));
    return `${name} ${range} (${severity}): ${advisories.join("; ")}.${fixAvailable === false ? " No newer version mends it yet." : ""}`;
  });
  return { serious, others: (counts.total ?? 0) - serious.length };
}
