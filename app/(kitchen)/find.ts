/** Which rows of a list answer to the words of ?find=…: those whose texts hold every word, whatever the case. */

/** The words asked for, as typed; "" when nothing was. */
export function askedFor(value: string | readonly string[] | undefined): string {
  return typeof value === "string" ? value.trim().replace(/\s+/g, " ").slice(0, 120) : "";
}

export function answering<Row>(rows: readonly Row[], asked: string, textsOf: (row: Row) => readonly (string | undefined)[]): readonly Row[] {
  const words = fold(asked).split(" ").filter(Boolean);
  return words.length === 0 ? rows : rows.filter((row) => {
    const text = fold(textsOf(row).join(" "));
    return words.every((word) => text.includes(word));
  });
}

/** Without case and accents, so that "puree" finds "Purée". */
function fold(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}
