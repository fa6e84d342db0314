import type { Measure, Performance } from '../../shared/contract/performance.ts';
import { duration } from '../notation/age.ts';
import { counted } from '../notation/counted.ts';
import { brief, count } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { capital, listed } from '../notation/sentence.ts';

const PERCENT = 100;
const DIGITS = 2;

/** A share as it is read: never finer than what it is counted from. */
export const percent = (share: number): string => `${brief(share * PERCENT, DIGITS)}${NBSP}%`;

const PER_DAY: Readonly<Record<string, string>> = { '1/d': 'a day', d: 'd', '1': '' };

/** `2.3 a day`, `4.2 %`, `12`; counts are whole. */
export function valueText({ value, unit }: Pick<Measure, 'value' | 'unit'>): string {
  if (value === null) return 'too little to say';
  if (unit === 'share') return percent(value);
  const number = Number.isInteger(value) ? count(value) : brief(value, DIGITS);
  const word = PER_DAY[unit] ?? unit;
  return word === '' ? number : `${number}${NBSP}${word}`;
}

export const metWord = ({ met, value, why }: Measure): string => {
  if (met === true) return 'met';
  if (met === false) return 'missed';
  if (value === null) return why ?? 'too little to say';
  return why ?? 'no bound: to be looked at';
};

/** Days of data that ISA-18.2 asks for (from a secondary source). */
const LEAST_DAYS = 30;

/** The answer first: what is missed, by name; and whether it was long enough to last. */
export function performanceSentence({ measures, annunciations, days }: Performance): string {
  const judged = measures.filter(({ met }) => met !== null);
  const missed = judged.filter(({ met }) => met === false);
  const load =
    annunciations === 0
      ? `No alert has called anybody in ${dayWords(days)}`
      : `The alerts called a person ${annunciations === 1 ? 'once' : `${count(annunciations)} times`} in ${dayWords(days)}`;
  if (judged.length === 0) return `${load}; that is too little to judge them by.`;
  const short = days < LEAST_DAYS ? ` The standard asks for ${LEAST_DAYS}${NBSP}days before it judges.` : '';
  if (missed.length === 0) return `${load}; ${judgedWords(judged.length)}.${short}`;
  const names = listed(missed.slice(0, 3).map(({ name }) => `“${name.charAt(0).toLowerCase()}${name.slice(1)}”`));
  const more = missed.length > 3 ? ` and ${counted(missed.length - 3)} more` : '';
  return `${load}. ${capital(counted(missed.length))} of ${counted(judged.length)} measures ${missed.length === 1 ? 'misses its target' : 'miss their targets'}: ${names}${more}.${short}`;
}

const judgedWords = (n: number): string =>
  n === 1
    ? 'the one measure that can be judged meets its target'
    : `all ${counted(n)} measures that can be judged meet their targets`;

export const dayWords = (days: number): string => (days < 1.5 ? duration(days * 86_400) : `${count(days)}${NBSP}days`);
