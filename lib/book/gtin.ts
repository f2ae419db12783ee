/** The check digit of a GTIN. */

/**
 * Whether these are the digits of a GTIN-8, -12, -13 or -14. From the right, digits weigh 1, 3, 1, 3 …; the sum with the
 * check digit is a multiple of ten (GS1 General Specifications, section 7.9).
 */
export function isGtin(digits: string): boolean {
  if (!/^(?:\d{8}|\d{12,14})$/.test(digits)) return false;
  const sum = [...digits].reverse().reduce((total, digit, index) => total + Number(digit) * (index % 2 === 0 ? 1 : 3), 0);
  return sum % 10 === 0;
}
