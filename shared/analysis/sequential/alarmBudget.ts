/**
 * From how many false alarms a month may bring to the threshold that keeps to it.
 *
 * An average run length of N values is one false alarm in N; so many statistics on so many scans share the budget
 * (Bonferroni: never too many alarms, whatever the statistics have to do with each other). All for independent normal
 * values of unit variance: what is not independent is whitened first, or its threshold set on quiet data.
 */
import { averageRunLengthOfCusum } from './cusum.ts';
import { averageRunLengthOfEwma } from './ewma.ts';
import { quantileOfTail } from './normal.ts';

export interface AlarmBudget {
  readonly falseAlarmsPerMonth: number;
  /** Values of each statistic in a month. */
  readonly scansPerMonth: number;
  readonly statistics: number;
}

/** The average run length that each statistic must have while nothing is wrong. */
export const averageRunLengthFor = ({ falseAlarmsPerMonth, scansPerMonth, statistics }: AlarmBudget): number =>
  (scansPerMonth * statistics) / falseAlarmsPerMonth;

/** z of single values, one side: exceeded once in `averageRunLength` values. */
export const thresholdForSingleValues = (averageRunLength: number): number => quantileOfTail(1 / averageRunLength);

/** h of the upper sum for a reference value k. */
export const thresholdForCusum = (averageRunLength: number, reference: number): number =>
  solveRising((interval) => averageRunLengthOfCusum({ reference, interval }, 0), averageRunLength, 40);

/** L of an average with weight λ, both sides. */
export const thresholdForEwma = (averageRunLength: number, weight: number): number =>
  solveRising((width) => averageRunLengthOfEwma({ weight, width }, 0), averageRunLength, 8);

/**
 * The x at which a rising function has the value; run lengths rise about exponentially, so their logarithm is halved.
 *
 * @throws RangeError when the value lies beyond `most`
 */
function solveRising(rising: (x: number) => number, value: number, most: number): number {
  if (!(value > 1)) throw new RangeError(`an average run length is more than 1, not ${value}`);
  let low = 0;
  let high = 1;
  while (rising(high) < value) {
    if (high > most) throw new RangeError(`no threshold up to ${most} gives an average run length of ${value}`);
    low = high;
    high *= 1.5;
  }
  while (high - low > 1e-7 * high) {
    const middle = (low + high) / 2;
    if (rising(middle) < value) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
