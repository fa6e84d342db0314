/**
 * Location and scale that a few wild values cannot move.
 *
 * Source: P. J. Rousseeuw and C. Croux, "Alternatives to the median absolute deviation",
 * J. Am. Stat. Assoc. 88 (1993) 1273 (the factor 1.4826 = 1 / Φ⁻¹(3/4) for normal noise).
 */

/** MAD × this = standard deviation of normal noise: 1 / Φ⁻¹(0.75). */
export const MAD_TO_SIGMA = 1.482602218505602;

/** Ascending copy without the values that are not numbers. */
export function sortedNumbers(values: ArrayLike<number>): Float64Array {
  const kept = new Float64Array(values.length);
  let n = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) kept[n++] = value;
  }
  return kept.subarray(0, n).sort();
}

/**
 * Quantile of values that are already ascending, by linear interpolation between order statistics
 * (definition 7 of Hyndman and Fan, Am. Stat. 50 (1996) 361). Empty: NaN. One value: that value.
 */
export function quantileOfSorted(sorted: ArrayLike<number>, share: number): number {
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  const position = Math.min(1, Math.max(0, share)) * (n - 1);
  const below = Math.floor(position);
  const low = sorted[below]!;
  const high = sorted[Math.min(n - 1, below + 1)]!;
  return low + (position - below) * (high - low);
}

/** Median of the numbers among `values`; NaN when there is none. */
export const median = (values: ArrayLike<number>): number => quantileOfSorted(sortedNumbers(values), 0.5);

/** Standard deviation estimated from the median absolute deviation about `centre`; NaN when empty. */
export function sigmaFromMad(values: ArrayLike<number>, centre = median(values)): number {
  const deviations = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) deviations[i] = Math.abs(values[i]! - centre);
  return MAD_TO_SIGMA * median(deviations);
}
