/**
 * Temperatures that a step of a recipe usually has to reach or keep, offered when one is written. From the US model Food
 * Code, 2022 edition, sections 3-401.11, 3-401.13, 3-403.11, 3-501.14 and 3-501.16, as states have adopted it. States and
 * countries differ, and older adoptions stand in places: the local food code decides, and this table is no authority.
 */
import type { CriticalTemperature } from "./recipe";

export interface UsualTemperature {
  /** What it is for. */
  readonly of: string;
  readonly fahrenheit: CriticalTemperature["degrees"];
  readonly celsius: CriticalTemperature["degrees"];
  /** For how long, or until when; words of a step's `held`. */
  readonly held: string;
  /** Section of the model Food Code. */
  readonly section: string;
}

export const CRITICAL_SOURCE = "US model Food Code; states differ; follow your local food code";

const degrees = (text: string): CriticalTemperature["degrees"] => text as CriticalTemperature["degrees"];

export const USUAL_TEMPERATURES: readonly UsualTemperature[] = [
  { of: "Intact meat, fish, eggs for at once", fahrenheit: degrees("145"), celsius: degrees("63"), held: "15 seconds", section: "3-401.11(A)(1)" },
  { of: "Ground, injected or tenderized meat, eggs held", fahrenheit: degrees("155"), celsius: degrees("68"), held: "17 seconds", section: "3-401.11(A)(2)" },
  { of: "Poultry, stuffed meat, fish or pasta", fahrenheit: degrees("165"), celsius: degrees("74"), held: "reached at once", section: "3-401.11(A)(3)" },
  { of: "Plant food for holding hot", fahrenheit: degrees("135"), celsius: degrees("57"), held: "reached", section: "3-401.13" },
  { of: "Reheating for holding hot", fahrenheit: degrees("165"), celsius: degrees("74"), held: "15 seconds, within 2 hours", section: "3-403.11" },
  { of: "Holding hot", fahrenheit: degrees("135"), celsius: degrees("57"), held: "or above, all the while", section: "3-501.16(A)(1)" },
  { of: "Cooling, first stage", fahrenheit: degrees("70"), celsius: degrees("21"), held: "within 2 hours of 135 °F / 57 °C", section: "3-501.14(A)(1)" },
  { of: "Cooling, to the end", fahrenheit: degrees("41"), celsius: degrees("5"), held: "or below, within 6 hours in all", section: "3-501.14(A)(2)" },
  { of: "Holding cold", fahrenheit: degrees("41"), celsius: degrees("5"), held: "or below, all the while", section: "3-501.16(A)(2)" },
];
