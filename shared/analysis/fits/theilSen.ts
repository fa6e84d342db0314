/**
 * A straight line that a few wild values cannot move: the median of the slopes of all pairs.
 * Source: P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379, with his interval (normal approximation of Kendall's score).
 */
import { median, quantileOfSorted, sortedNumbers } from '../robust.ts';
import { scoreVariance } from './mannKendall.ts';
import { twoSided } from './normal.ts';

export interface Slope {
  /** Of y per x. */
  readonly slope: number;
  readonly low: number;
  readonly high: number;
  /** Median of y − slope · x. */
  readonly intercept: number;
  readonly points: number;
}

/** Null for fewer than two different x. A bound is infinite where too few points hold the confidence. */
export function theilSen(x: readonly number[], y: readonly number[], confidence = 0.95): Slope | null {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      const dx = x[j]! - x[i]!;
      if (dx !== 0) slopes.push((y[j]! - y[i]!) / dx);
    }
  }
  if (slopes.length === 0) return null;
  const sorted = sortedNumbers(slopes);
  const slope = quantileOfSorted(sorted, 0.5);
  const reach = twoSided(confidence) * Math.sqrt(scoreVariance(y, x));
  const below = Math.round((sorted.length - reach) / 2) - 1;
  const above = Math.round((sorted.length + reach) / 2);
  return {
    slope,
    low: sorted[below] ?? Number.NEGATIVE_INFINITY,
    high: sorted[above] ?? Number.POSITIVE_INFINITY,
    intercept: median(y.map((value, i) => value - slope * x[i]!)),
    points: x.length,
  };
}
