/**
 * Does a series rise or fall? Counts pairs, so that no single value and no shape decides.
 * Sources: H. B. Mann, Econometrica 13 (1945) 245; M. G. Kendall, Rank Correlation Methods (1975), variance with ties.
 */
import { twoSided } from './normal.ts';

export interface Direction {
  /** Pairs that rise minus pairs that fall. */
  readonly score: number;
  /** Standard deviation of the score of a series without a direction. */
  readonly sigma: number;
  /** Score in standard deviations, with continuity correction; 0 when nothing can be said. */
  readonly z: number;
  readonly direction: 'rising' | 'falling' | 'none';
}

/** `values` in order of time, neighbours independent of each other. */
export function mannKendall(values: readonly number[], confidence = 0.95): Direction {
  let score = 0;
  for (let i = 0; i < values.length; i++) {
    for (let j = i + 1; j < values.length; j++) score += Math.sign(values[j]! - values[i]!);
  }
  const sigma = Math.sqrt(scoreVariance(values));
  const z = sigma > 0 ? (score - Math.sign(score)) / sigma : 0;
  const isClear = Math.abs(z) > twoSided(confidence);
  return { score, sigma, z, direction: !isClear ? 'none' : z > 0 ? 'rising' : 'falling' };
}

const pairsTerm = (n: number): number => n * (n - 1) * (2 * n + 5);

/** What groups of equal values take off the variance of the score, in eighteenths. */
function tiesOf(values: readonly number[]): number {
  const groups = new Map<number, number>();
  for (const value of values) groups.set(value, (groups.get(value) ?? 0) + 1);
  return [...groups.values()].reduce((sum, count) => sum + pairsTerm(count), 0);
}

/** n (n − 1)(2n + 5)/18, less the same for each group of equal values, and of equal times where there are such. */
export const scoreVariance = (values: readonly number[], times: readonly number[] = []): number =>
  Math.max(0, pairsTerm(values.length) - tiesOf(values) - tiesOf(times)) / 18;
