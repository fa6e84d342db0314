/** Where an axis of a picture is cut, and how its cuts are written. */
import type { TrendPoint } from '../../shared/contract/readings.ts';
import { localTime } from '../localTime.ts';

const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

export const powerOfTen = (power: number): string =>
  `10${[...String(power)].map((c) => (c === '-' ? '⁻' : SUPERSCRIPT[Number(c)])).join('')}`;

/** With nothing to draw, an empty axis of a very good vacuum. */
const NOTHING = [-10, -9, -8, -7, -6];

/** Whole powers of ten around all positive values; the lowest is the floor line. At least two. */
export const decades = (points: readonly TrendPoint[], floor: number | null): number[] => {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const { value, min, max } of points)
    for (const one of [value, min, max])
      if (one !== null && one > 0) {
        least = Math.min(least, one);
        most = Math.max(most, one);
      }
  if (most === 0) return NOTHING;
  const lowest = Math.floor(Math.log10(floor !== null && floor > 0 ? Math.min(least, floor) : least));
  const highest = Math.max(Math.ceil(Math.log10(most)), lowest + 1);
  return Array.from({ length: highest - lowest + 1 }, (_, i) => lowest + i);
};

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const STEPS = [
  MINUTE,
  5 * MINUTE,
  15 * MINUTE,
  HOUR,
  3 * HOUR,
  6 * HOUR,
  DAY,
  2 * DAY,
  7 * DAY,
  30 * DAY,
  90 * DAY,
  365 * DAY,
];
/** A label takes some 90 px. */
const MOST_TICKS = 8;

/** Ticks on round local times: every so many minutes, hours or days, whichever gives at most eight. */
export const niceTimes = (from: Date, to: Date, timeZone: string): { ms: number; label: string }[] => {
  const span = to.getTime() - from.getTime();
  const step = STEPS.find((one) => span / one <= MOST_TICKS) ?? span / MOST_TICKS;
  const [, hours = '0', minutes = '0'] = /([+-]\d\d):(\d\d)$/.exec(localTime(from, timeZone)) ?? [];
  const offset = Number(hours) * HOUR + (hours.startsWith('-') ? -1 : 1) * Number(minutes) * MINUTE;
  const out: { ms: number; label: string }[] = [];
  for (let local = Math.ceil((from.getTime() + offset) / step) * step; local - offset <= to.getTime(); local += step) {
    const text = localTime(new Date(local - offset), timeZone);
    const time = text.slice(11, 16);
    const isDay = time === '00:00' || step >= DAY;
    out.push({ ms: local - offset, label: isDay ? text.slice(5, 10) : time });
  }
  return out;
};
