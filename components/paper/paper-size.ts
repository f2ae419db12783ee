/** The two papers a form is made for. Where a kitchen is decides which lies in its printer. */
export const PAPERS = ["letter", "a4"] as const;
export type PaperSize = (typeof PAPERS)[number];

export const PAPER_WORDS: Readonly<Record<PaperSize, string>> = { letter: "Letter", a4: "A4" };

const LETTER_COUNTRIES: readonly (string | undefined)[] = ["US", "CA", "MX"];

/** The paper that was asked for, else the one that is usual where the kitchen's language is written so ("en-US"). */
export function paperSize(asked: unknown, locale: string): PaperSize {
  return PAPERS.find((paper) => paper === asked) ?? (LETTER_COUNTRIES.includes(new Intl.Locale(locale).maximize().region) ? "letter" : "a4");
}
