/** Instants in the zone that the reader chose; 24 h everywhere, with the date beyond today. */
import { LOCALE } from '../strings/locale.ts';

const formats = new Map<string, Intl.DateTimeFormat>();

function format(zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${zone}|${JSON.stringify(options)}`;
  let made = formats.get(key);
  if (!made) {
    made = new Intl.DateTimeFormat(LOCALE, { ...options, timeZone: zone, hourCycle: 'h23' });
    formats.set(key, made);
  }
  return made;
}

/** A zone that this browser does not know is shown as UTC instead of breaking the page. */
export function knownZone(zone: string): string {
  try {
    new Intl.DateTimeFormat(LOCALE, { timeZone: zone });
    return zone;
  } catch {
    return 'UTC';
  }
}

export interface ClockFields {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

/** What a clock on the wall of `zone` shows at `ms`. */
export function clockFields(ms: number, zone: string): ClockFields {
  const parts = format(zone, {
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(ms);
  const read = (type: string) => Number(parts.find((part) => part.type === type)?.value ?? 0);
  return {
    year: read('year'),
    month: read('month'),
    day: read('day'),
    hour: read('hour'),
    minute: read('minute'),
    second: read('second'),
  };
}

/** Offset of `zone` from UTC at `ms`, in milliseconds. */
export function offsetMs(ms: number, zone: string): number {
  const f = clockFields(ms, zone);
  return Date.UTC(f.year, f.month - 1, f.day, f.hour, f.minute, f.second) - Math.floor(ms / 1000) * 1000;
}

export function offsetText(ms: number, zone: string): string {
  const minutes = Math.round(offsetMs(ms, zone) / 60_000);
  const size = Math.abs(minutes);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${minutes < 0 ? '−' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** `Oslo` out of `Europe/Oslo`. */
export const zoneCity = (zone: string): string => (zone.split('/').pop() ?? zone).replace(/_/g, ' ');

export const clockTime = (ms: number, zone: string): string =>
  format(zone, { hour: '2-digit', minute: '2-digit' }).format(ms);

export const clockTimeSeconds = (ms: number, zone: string): string =>
  format(zone, { hour: '2-digit', minute: '2-digit', second: '2-digit' }).format(ms);

/** `Friday 27 November 2026`. */
export const longDate = (ms: number, zone: string): string =>
  format(zone, { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' }).format(ms).replace(',', '');

const dayOf = (ms: number, zone: string): string =>
  format(zone, { year: 'numeric', month: '2-digit', day: '2-digit' }).format(ms);

const SAME_WEEK_MS = 6 * 24 * 3600 * 1000;
const HALF_YEAR_MS = 180 * 24 * 3600 * 1000;

/** `02:52` today, `Thu 22:07` within the week, `18 Nov 22:07` before, with the year when it is long ago. */
export function moment(ms: number, zone: string, nowMs: number): string {
  const time = clockTime(ms, zone);
  if (dayOf(ms, zone) === dayOf(nowMs, zone)) return time;
  const away = Math.abs(nowMs - ms);
  if (away < SAME_WEEK_MS) return `${format(zone, { weekday: 'short' }).format(ms)} ${time}`;
  const date: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'short' };
  if (away > HALF_YEAR_MS) date.year = 'numeric';
  return `${format(zone, date).format(ms)} ${time}`;
}

/** `Fri 27 Nov`, for the line at midnight in a chart. */
export const dayLabel = (ms: number, zone: string): string =>
  format(zone, { weekday: 'short', day: 'numeric', month: 'short' }).format(ms).replace(',', '');

/** `2026-11-27 06:04`, as a person types it, on the wall clock of `zone`. */
export function fieldValue(ms: number, zone: string): string {
  return new Date(ms + offsetMs(ms, zone)).toISOString().slice(0, 16).replace('T', ' ');
}

const TYPED = /^\s*(\d{4})-(\d{1,2})-(\d{1,2})[ T]+(\d{1,2}):(\d{2})\s*$/;

/** The instant at which the wall clock of `zone` shows what was typed; null when it is no such time. */
export function fieldInstant(value: string, zone: string): number | null {
  const found = TYPED.exec(value);
  if (!found) return null;
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0] = found.slice(1).map(Number);
  const asUtc = Date.UTC(year, month - 1, day, hour, minute);
  const back = new Date(asUtc);
  // The 31st of June would roll over into July.
  if (back.getUTCDate() !== day || back.getUTCHours() !== hour || minute > 59) return null;
  const guess = asUtc - offsetMs(asUtc, zone);
  // A second look with the offset of the guess settles the hours around a change of clocks.
  return asUtc - offsetMs(guess, zone);
}

const INSTANT_IN_TEXT = /\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d+)?Z/g;

/** A sentence of the server with its instants on the reader's clock. */
export const withLocalTimes = (text: string, zone: string, nowMs: number): string =>
  text.replace(INSTANT_IN_TEXT, (instant) => moment(Date.parse(instant), zone, nowMs));
