/**
 * Time, for the whole store, comes from here: the moment a change is recorded, and which calendar day it is in a
 * kitchen. Tests hand in a clock of their own.
 */
export interface Clock {
  /** Milliseconds since 1970 in UTC. */
  now(): number;
}

export const systemClock: Clock = { now: () => Date.now() };

/** The calendar day, "2026-11-25", that a moment (milliseconds in UTC) falls on in a time zone ("America/New_York"). */
export function dayIn(timeZone: string, moment: number): string {
  const parts = new Map(formatFor(timeZone).formatToParts(moment).map((part) => [part.type, part.value]));
  return `${parts.get("year")?.padStart(4, "0")}-${parts.get("month")}-${parts.get("day")}`;
}

/** The latest calendar day that it can be anywhere on earth: today is at most a day ahead of UTC's. */
export function latestToday(clock: Clock): string {
  return dayIn("UTC", clock.now() + 24 * 3_600_000);
}

/** Making a formatter costs more than using it: one is kept for each time zone. */
const formats = new Map<string, Intl.DateTimeFormat>();

function formatFor(timeZone: string): Intl.DateTimeFormat {
  let format = formats.get(timeZone);
  if (!format) {
    format = new Intl.DateTimeFormat("en-US", {
      timeZone, calendar: "gregory", numberingSystem: "latn", year: "numeric", month: "2-digit", day: "2-digit",
    });
    formats.set(timeZone, format);
  }
  return format;
}
