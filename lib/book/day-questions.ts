/**
 * Days that cannot be right, or hardly: a test in the future, a test before the goods were bought. This room keeps no
 * clock, so today is told. Asked about, and nothing is saved until it is answered.
 */
import { type Habits, type Problem, printDay } from "@/lib/measure";

/** Questions about the day of a test. Days "2026-11-25"; `boughtOn` null when not known. Codes: in-the-future, before-purchase. */
export function testDayQuestions(on: string, today: string, boughtOn: string | null, habits: Pick<Habits, "locale">): readonly Problem[] {
  const day = (text: string): string => printDay(text, habits);
  if (on > today) return [{ path: "on", code: "in-the-future", sentence: `${day(on)} is still to come; today is ${day(today)}. On which day was it weighed?` }];
  if (boughtOn !== null && on < boughtOn) {
    return [{ path: "on", code: "before-purchase", sentence: `The test is of ${day(on)}, but the goods were bought on ${day(boughtOn)}: which of the two days is right?` }];
  }
  return [];
}
