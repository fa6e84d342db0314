import { words } from '../strings/notation.ts';
import { count } from './number.ts';

/** `two`, `twelve`, `13`: how a count is said in a sentence. */
export const counted = (n: number): string => words.counts[n] ?? count(n);

const DAY = 86_400;
/** From here on months say more than days. */
const MONTHS_FROM_DAYS = 120;
const DAYS_PER_MONTH = 30.44;

/** An age as a person says it: `today`, `1 day ago`, `41 days ago`, `14 months ago`. */
export function ageSaid(days: number): string {
  if (days < 1) return 'today';
  if (days < MONTHS_FROM_DAYS) return words.daysAgo(Math.floor(days));
  return words.monthsAgo(Math.floor(days / DAYS_PER_MONTH));
}

export const daysSince = (instant: string, nowMs: number): number => (nowMs - Date.parse(instant)) / (DAY * 1000);
