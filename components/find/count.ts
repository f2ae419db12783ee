/** How many rows of a list are shown, in words that stay true when it is not all of them. */
import { Decimal, printNumber } from "@/lib/measure";

/** "12 recipes", "100 of 6,012 recipes". */
export function howMany(shown: number, of: number, one: string, many: string, locale: string): string {
  return shown === of ? `${printCount(of, locale)} ${of === 1 ? one : many}` : `${printCount(shown, locale)} of ${printCount(of, locale)} ${many}`;
}

export function printCount(count: number, locale: string): string {
  return printNumber(new Decimal(count), { locale }, { places: 0 });
}
