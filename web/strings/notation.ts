import { catalogue } from './catalogue.ts';
import { plural } from './plural.ts';

/** What stands around numbers, ages and pressures. */

export const words = catalogue({
  /** From none on, as they are said in a sentence. */
  counts: [
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
  ] as readonly string[],
  ago: (age: string) => `${age} ago`,
  daysAgo: (days: number) => `${days}\u00a0${plural(days, { one: 'day', other: 'days' })} ago`,
  monthsAgo: (months: number) => `${months}\u00a0${plural(months, { one: 'month', other: 'months' })} ago`,
  range: (low: string, high: string) => `${low} to ${high}`,
  times: (factor: string) => `${factor} times`,
  interval: (low: string, high: string) => `(${low} to ${high})`,
  notMeasured: 'not measured',
  belowDetection: 'below detection',
  below: (value: string) => `below ${value}`,
  cannotTell: 'cannot tell',
});
