/** What a price chart draws last, worked out on the server. */
import type { PricePoint } from "./PriceChart";

/** A price holds until today: the last point once more, where it is not of today or later. Points oldest first. */
export function heldUntil(today: string, day: string, points: readonly PricePoint[]): readonly PricePoint[] {
  const last = points.at(-1);
  return last === undefined || last.on >= today ? points : [...points, { ...last, on: today, day }];
}
