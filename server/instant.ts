/** Points in time as they cross HTTP: RFC 3339, kept to the millisecond. */
import { malformed } from './errors.ts';

const FORM = /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d):(\d\d)(?:\.(\d{1,12}))?(?:[Zz]|([+-])(\d\d):(\d\d))$/;

/** Milliseconds since 1970, or null when the text is not RFC 3339. A leap second counts as the second after it. */
export const parseInstant = (text: string): number | null => {
  const match = FORM.exec(text);
  if (match === null) return null;
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  if (month < 1 || month > 12 || day < 1 || hour > 23 || minute > 59 || second > 60) return null;
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  // A day that the month does not have would have moved into the next one.
  if (date.getUTCDate() !== day) return null;
  const offsetHours = Number(match[9] ?? 0);
  const offsetMinutes = Number(match[10] ?? 0);
  if (offsetHours > 23 || offsetMinutes > 59) return null;
  const offset = (match[8] === '-' ? -1 : 1) * (offsetHours * 60 + offsetMinutes);
  const milliseconds = Number((match[7] ?? '').padEnd(3, '0').slice(0, 3));
  return date.getTime() + ((hour * 60 + minute - offset) * 60 + second) * 1000 + milliseconds;
};

/**
 * A time in a query string. An unescaped "+" arrives as a blank, so "… 02:00" at the end is taken as "+02:00".
 * @throws 400 naming the field
 */
export const queryInstant = (name: string, text: string | undefined): Date | null => {
  if (text === undefined) return null;
  const atMs = parseInstant(text.replace(/(:\d\d(?:\.\d+)?) (\d\d:\d\d)$/, '$1+$2'));
  if (atMs === null) throw malformed(name, 'must be a time as in RFC 3339, with Z or an offset');
  return new Date(atMs);
};

export const iso = (date: Date): string => date.toISOString();
export const isoOrNull = (date: Date | null): string | null => (date === null ? null : date.toISOString());
