/**
 * Text that a spreadsheet shows and never runs. A cell that begins with = + - or @ is taken for a formula by some
 * programs, also after tabs and line ends, and also in the wide forms that Chinese and Japanese keyboards write; a name
 * typed in the kitchen must not become one in the accountant's sheet. An apostrophe in front keeps it text, through a
 * save as CSV too. Source: the usual advice on CSV injection (OWASP).
 */
const RUNS = /^[\s\u0000-\u001f]*[=+\-@＝＋－＠]|^[\t\r\n]/;

export function safeText(text: string): string {
  return RUNS.test(text) ? `'${text}` : text;
}
