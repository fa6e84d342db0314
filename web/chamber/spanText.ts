import type { Span } from '../charts/zoom.ts';
import { clockTime, moment } from '../notation/time.ts';

const DAY_MS = 24 * 3_600_000;
/** So long a day of the week says which day is meant. */
const WEEK_MS = 6 * DAY_MS;

/**
 * The end of a span beside its start: without its day only where both have the same. An end of today must not stand
 * as a clock time behind a start of last month, as if it were of that day.
 */
export function spanEnd({ from, to }: Span, zone: string, nowMs: number): string {
  const clock = clockTime(to, zone);
  if (moment(to, zone, from) === clock) return clock;
  const told = moment(to, zone, nowMs);
  if (told !== clock) return told;
  return nowMs - from < WEEK_MS ? moment(to, zone, to - DAY_MS) : moment(to, zone, to - WEEK_MS);
}

/** `Sun 06:51 – Mon 12:51`, `20 Oct 13:51 – 30 Nov 08:51`, `08:00 – 12:51`. */
export const spanText = (span: Span, zone: string, nowMs: number): string =>
  `${moment(span.from, zone, nowMs)} – ${spanEnd(span, zone, nowMs)}`;
