/**
 * Whether a spectrum has stepped as a whole: the factor that most of its clear peaks share. A median and not a sum,
 * because a gas that comes in at the same moment moves some of the peaks and must not be taken for a scale.
 */
import { weightedMedian } from './amplitude.ts';
import type { Vector } from './memory.ts';

export interface CommonStep {
  /** After over before. */
  readonly factor: number;
  /** Robust standard deviation of ln(after / before) about it. */
  readonly spread: number;
  /** Peaks that took part, and how many of them agree within 15 %. */
  readonly peaks: number;
  readonly alike: number;
}

/** A peak takes part from here on: its ratio is known to 5 %. */
const CLEAR_SIGMAS = 20;
const LEAST_PEAKS = 3;
const ALIKE = Math.log(1.15);
const MAD_TO_SIGMA = 1.4826;
/** m/z 1 carries the foot of the mass filter. */
const LEAST_MASS = 2;

/** Channel lists of one baseline; null: too few peaks are clear, or they did not move together. */
export function commonStep(
  before: Vector,
  after: ArrayLike<number>,
  { masses, variance }: { readonly masses: Vector; readonly variance: Vector },
): CommonStep | null {
  const rows: { ratio: number; weight: number }[] = [];
  for (let m = 1; m < before.length; m++) {
    const [a, b] = [before[m]!, after[m]!];
    if (masses[m - 1]! < LEAST_MASS || !(a > CLEAR_SIGMAS * Math.sqrt(variance[m]!)) || !(b > 0)) continue;
    rows.push({ ratio: Math.log(b / a), weight: Math.sqrt(a) });
  }
  if (rows.length < LEAST_PEAKS) return null;
  const middle = weightedMedian(rows);
  const away = rows.map(({ ratio, weight }) => ({ ratio: Math.abs(ratio - middle), weight }));
  const alike = away.filter(({ ratio }) => ratio < ALIKE).length;
  return { factor: Math.exp(middle), spread: MAD_TO_SIGMA * weightedMedian(away), peaks: rows.length, alike };
}
