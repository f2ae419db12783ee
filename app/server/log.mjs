/**
 * The process's log: one line for each request and each thing that went wrong, on standard output. As JSON for a
 * machine to keep, or short lines for a person to read (LOG=json, LOG=pretty). Everything passes through redact.mjs on
 * its way. The app's own code reaches it by app/log.ts.
 */
import { pino } from "pino";
import { redact } from "./redact.mjs";

/** @typedef {import("pino").Logger} Log */

/**
 * @param {"pretty" | "json"} shape
 * @param {(text: string) => void} [write]
 * @returns {Log}
 */
export function makeLog(shape, write = (text) => void process.stdout.write(text)) {
  return pino(
    {
      base: null,
      level: "info",
      timestamp: pino.stdTimeFunctions.isoTime,
      formatters: {
        level: (label) => ({ level: label }),
        log: (facts) => /** @type {Record<string, unknown>} */ (redact(facts)),
      },
    },
    { write: shape === "json" ? write : (line) => { write(pretty(line)); } },
  );
}

/**
 * A line of the log for a person's eyes: "10:20:31 GET /dishes 200, 34 ms, 12 kB".
 * @param {string} line
 */
export function pretty(line) {
  const { time, level, msg, method, path, status, ms, bytes, request, err, refused, cut, ...rest } = JSON.parse(line);
  const clock = new Date(time).toTimeString().slice(0, 8);
  const loud = level === "info" ? "" : `${String(level).toUpperCase()} `;
  const number = request === undefined ? "" : ` [${String(request).slice(0, 8)}]`;
  if (msg === "answered") {
    const why = [refused, cut === true ? "cut off" : undefined].filter((word) => word !== undefined);
    return `${clock} ${loud}${method} ${path} ${status ?? "no answer"}${why.length === 0 ? "" : ` (${why.join(", ")})`}, ${Math.round(ms)} ms, ${size(bytes)}${level === "info" ? "" : number}\n`;
  }
  const facts = Object.entries({ method, path, ...rest }).flatMap(([name, value]) => (value === undefined ? [] : [`${name} ${typeof value === "string" ? value : JSON.stringify(value)}`]));
  return `${clock} ${loud}${[msg, ...facts].join(", ")}${number}\n${err?.stack === undefined ? "" : `${err.stack}\n`}${err?.cause?.stack === undefined ? "" : `because ${err.cause.stack}\n`}`;
}

/** @param {number} bytes */
function size(bytes) {
  return bytes < 1000 ? `${bytes} B` : `${Math.round(bytes / 1000)} kB`;
}
