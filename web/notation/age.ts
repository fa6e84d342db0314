import { words } from '../strings/notation.ts';
import { NBSP } from './pressure.ts';

const MINUTE = 60;
const HOUR = 3600;
const DAY = 86_400;

/** `12 s`, `47 min`, `6 h 12 min`, `30 h`, `3 d 4 h`, `41 d`: never more than two parts. */
export function duration(seconds: number): string {
  const s = Math.max(0, Math.floor(seconds));
  if (s < MINUTE) return `${s}${NBSP}s`;
  if (s < HOUR) return `${Math.floor(s / MINUTE)}${NBSP}min`;
  if (s < DAY) return pair(Math.floor(s / HOUR), 'h', Math.floor((s % HOUR) / MINUTE), 'min');
  // `30 h` says more to a shift than `1 d 6 h`.
  if (s < 2 * DAY) return `${Math.floor(s / HOUR)}${NBSP}h`;
  const days = Math.floor(s / DAY);
  // Beyond ten days nobody asks for the hours.
  return pair(days, 'd', days < 10 ? Math.floor((s % DAY) / HOUR) : 0, 'h');
}

const pair = (large: number, largeUnit: string, small: number, smallUnit: string): string =>
  small ? `${large}${NBSP}${largeUnit} ${small}${NBSP}${smallUnit}` : `${large}${NBSP}${largeUnit}`;

export const ago = (seconds: number): string => words.ago(duration(seconds));

/** A reading is old when three periods of its analyser have passed; without a known period, after ten minutes. */
const OLD_AFTER_PERIODS = 3;
const DEFAULT_PERIOD_SECONDS = 200;

export const isOld = (ageSeconds: number, periodSeconds: number | null): boolean =>
  ageSeconds > OLD_AFTER_PERIODS * (periodSeconds ?? DEFAULT_PERIOD_SECONDS);
