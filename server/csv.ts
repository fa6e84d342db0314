/** Tables as text: RFC 4180, and safe to open in a spreadsheet. */

type Cell = string | number | boolean | null;

/** A spreadsheet takes a text that begins like this for a formula; a quote before it makes it text again. */
const FORMULA = /^[=+\-@\t\r\0]/;

const cell = (value: Cell): string => {
  if (value === null) return '';
  // Numbers are written as they are: a leading minus is theirs.
  if (typeof value !== 'string') return String(value);
  const text = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

export const csv = (head: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  `${[head, ...rows].map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`;
