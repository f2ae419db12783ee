/** Kitchens of several countries, as the tests of reading and printing meet them. */
import type { Habits } from "@/lib/measure";

export const us: Habits = { locale: "en-US", measures: "us", currency: "USD" };
export const german: Habits = { locale: "de-DE", measures: "metric", currency: "EUR" };
export const french: Habits = { locale: "fr-FR", measures: "metric", currency: "EUR" };
export const british: Habits = { locale: "en-GB", measures: "metric", currency: "GBP" };
export const swiss: Habits = { locale: "de-CH", measures: "metric", currency: "CHF" };
export const indian: Habits = { locale: "en-IN", measures: "metric", currency: "INR" };
export const japanese: Habits = { locale: "ja-JP", measures: "metric", currency: "JPY" };
export const canadian: Habits = { locale: "fr-CA", measures: "us", currency: "CAD" };
export const danish: Habits = { locale: "da-DK", measures: "metric", currency: "DKK" };
export const egyptian: Habits = { locale: "ar-EG", measures: "metric", currency: "EGP" };
export const senegalese: Habits = { locale: "fr-SN", measures: "metric", currency: "XOF" };
export const peruvian: Habits = { locale: "qu-PE", measures: "metric", currency: "PEN" };
export const kashmiri: Habits = { locale: "ks-IN", measures: "metric", currency: "INR" };
/** English as it is written in Spain: a decimal comma. */
export const spanishEnglish: Habits = { locale: "en-ES", measures: "metric", currency: "EUR" };
export const KITCHENS: readonly Habits[] = [us, german, french, british, swiss, indian, japanese, canadian, danish, egyptian, senegalese, peruvian, kashmiri, spanishEnglish];
