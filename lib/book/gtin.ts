/** GS1's trade item numbers: 8, 12, 13 or 14 digits, the last a check digit (GS1 General Specifications, 7.9.1). */

/** Of the digits before it: their sum, 3 and 1 by turns from the right, up to the next ten. */
export function gtinCheckDigit(digits: string): number {
  let sum = 0;
  for (let n = 0; n < digits.length; n += 1) sum += (digits.charCodeAt(digits.length - 1 - n) - 48) * (n % 2 === 0 ? 3 : 1);
  return (10 - (sum % 10)) % 10;
}

/** As 14 digits, gaps and hyphens taken out; null where it is no such number or its check digit does not hold. */
export function gtin14(text: string): string | null {
  const digits = text.replace(/[\s-]/g, "");
  if (!/^(?:\d{8}|\d{12,14})$/.test(digits) || /^0+$/.test(digits)) return null;
  return gtinCheckDigit(digits.slice(0, -1)) === Number(digits.at(-1)) ? digits.padStart(14, "0") : null;
}
