import type { Measure, Performance } from '../../shared/contract/performance.ts';
import { duration } from '../notation/age.ts';
import { counted } from '../notation/counted.ts';
import { brief, count } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { capital, listed } from '../notation/sentence.ts';
import { words } from '../strings/performance.ts';

const PERCENT = 100;
const DIGITS = 2;

/** A share as it is read: never finer than what it is counted from. */
export const percent = (share: number): string => `${brief(share * PERCENT, DIGITS)}${NBSP}%`;

const PER_DAY: Readonly<Record<string, string>> = { '1/d': words.aDay, d: 'd', '1': '' };

/** `2.3 a day`, `4.2 %`, `12`; counts are whole. */
export function valueText({ value, unit }: Pick<Measure, 'value' | 'unit'>): string {
  if (value === null) return words.tooLittleToSay;
  if (unit === 'share') return percent(value);
  const number = Number.isInteger(value) ? count(value) : brief(value, DIGITS);
  const word = PER_DAY[unit] ?? unit;
  return word === '' ? number : `${number}${NBSP}${word}`;
}

export const metWord = ({ met, value, why }: Measure): string => {
  if (met === true) return words.met;
  if (met === false) return words.missed;
  if (value === null) return why ?? words.tooLittleToSay;
  return why ?? words.noBoundToBeLooked;
};

/** Days of data that ISA-18.2 asks for (from a secondary source). */
const LEAST_DAYS = 30;

/** The answer first: what is missed, by name; and whether it was long enough to last. */
export function performanceSentence({ measures, annunciations, days }: Performance): string {
  const judged = measures.filter(({ met }) => met !== null);
  const missed = judged.filter(({ met }) => met === false);
  const load =
    annunciations === 0
      ? words.noAlertHasCalledAnybody(dayWords(days))
      : words.theAlertsCalledAPerson(annunciations, dayWords(days));
  if (judged.length === 0) return words.thatIsTooLittle(load);
  const short = days < LEAST_DAYS ? words.theStandardAsksForDays(LEAST_DAYS) : '';
  if (missed.length === 0) return words.allIsWell(load, judgedWords(judged.length), short);
  const names = listed(missed.slice(0, 3).map(({ name }) => `“${name.charAt(0).toLowerCase()}${name.slice(1)}”`));
  return words.ofMeasures(
    load,
    missed.length,
    capital(counted(missed.length)),
    counted(judged.length),
    missed.length > 3 ? words.andMore(names, counted(missed.length - 3)) : names,
    short,
  );
}

const judgedWords = (n: number): string => (n === 1 ? words.theOneMeasure : words.allMeasures(counted(n)));

export const dayWords = (days: number): string => (days < 1.5 ? duration(days * 86_400) : words.days(Math.round(days)));
