import { count } from './number.ts';

const WORDS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
] as const;

/** `two`, `twelve`, `13`: how a count is said in a sentence. */
export const counted = (n: number): string => WORDS[n] ?? count(n);

const DAY = 86_400;
/** From here on months say more than days. */
const MONTHS_FROM_DAYS = 120;
const DAYS_PER_MONTH = 30.44;

/** An age as a person says it: `today`, `1 day ago`, `41 days ago`, `14 months ago`. */
export function ageSaid(days: number): string {
  if (days < 1) return 'today';
  if (days < 2) return '1\u00a0day ago';
  if (days < MONTHS_FROM_DAYS) return `${Math.floor(days)}\u00a0days ago`;
  return `${Math.floor(days / DAYS_PER_MONTH)}\u00a0months ago`;
}

export const daysSince = (instant: string, nowMs: number): number => (nowMs - Date.parse(instant)) / (DAY * 1000);
