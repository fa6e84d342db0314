import { clockTime, dayLabel, offsetMs } from '../notation/time.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
/** Steps that people count in. */
const STEPS = [
  MINUTE,
  2 * MINUTE,
  5 * MINUTE,
  10 * MINUTE,
  15 * MINUTE,
  30 * MINUTE,
  HOUR,
  2 * HOUR,
  3 * HOUR,
  6 * HOUR,
  12 * HOUR,
  DAY,
  2 * DAY,
  7 * DAY,
  14 * DAY,
  28 * DAY,
  91 * DAY,
];

export interface TimeTick {
  readonly ms: number;
  readonly label: string;
  /** At midnight of the zone, the day that begins. */
  readonly day: string | null;
}

/** Round times on the wall clock of `zone`, at most `most` of them. */
export function timeTicks(from: number, to: number, zone: string, most: number): TimeTick[] {
  const step = STEPS.find((candidate) => (to - from) / candidate <= most) ?? 364 * DAY;
  const ticks: TimeTick[] = [];
  // Counted on the wall clock, so that 06:00 stays 06:00 across a change of clocks.
  const start = Math.ceil((from + offsetMs(from, zone)) / step) * step;
  for (let wall = start; ticks.length <= most * 2; wall += step) {
    const guess = wall - offsetMs(from, zone);
    const ms = wall - offsetMs(guess, zone);
    if (ms > to) break;
    if (ms < from) continue;
    const day = wall % DAY === 0 ? dayLabel(ms, zone) : null;
    ticks.push({ ms, day, label: step >= DAY ? dayLabel(ms, zone) : clockTime(ms, zone) });
  }
  return ticks;
}
