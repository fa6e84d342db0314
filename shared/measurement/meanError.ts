/**
 * Standard error of a mean of values that follow each other in time and may resemble their neighbours.
 *
 * Neighbours are averaged in pairs, again and again; as long as a block is shorter than the memory of the series, the
 * error that its scatter suggests is too small and grows from level to level, and then it stays. The largest of the
 * levels is taken (H. Flyvbjerg, H. G. Petersen, J. Chem. Phys. 91 (1989) 461).
 */

/** With fewer blocks the scatter says too little of itself. */
const LEAST_BLOCKS = 6;

export interface MeanError {
  readonly mean: number;
  /** One standard deviation of the mean. */
  readonly sigma: number;
  /** Blocks that it rests on. */
  readonly blocks: number;
}

export const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

const errorOf = (values: readonly number[]): number => {
  const mean = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (values.length * (values.length - 1)));
};

/** Means of neighbours, half as many. */
export const paired = (values: readonly number[]): number[] =>
  Array.from({ length: values.length >> 1 }, (_, k) => meanOf(values.slice(2 * k, 2 * k + 2)));

/** Null for fewer than two values. */
export function meanError(values: readonly number[]): MeanError | null {
  if (values.length < 2) return null;
  let [blocks, sigma] = [values.length, errorOf(values)];
  for (let level = paired(values); level.length >= LEAST_BLOCKS; level = paired(level)) {
    const here = errorOf(level);
    if (here > sigma) [blocks, sigma] = [level.length, here];
  }
  return { mean: meanOf(values), sigma, blocks };
}

/** Normal quantile of a two-sided 95 % interval. */
export const TWO_SIDED_95 = 1.96;

/**
 * Student's t for a two-sided 95 % interval: E. A. Cornish and R. A. Fisher's expansion in 1/ν (Abramowitz and Stegun
 * 26.7.5), within 1 % from ν = 3 on; below that the exact values.
 */
export function student95(degrees: number): number {
  if (degrees < 3) return degrees < 2 ? 12.706 : 4.303;
  const z = 1.959964;
  const terms = [
    (z ** 3 + z) / 4,
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96,
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384,
    (79 * z ** 9 + 776 * z ** 7 + 1482 * z ** 5 - 1920 * z ** 3 - 945 * z) / 92_160,
  ];
  return terms.reduce((sum, term, k) => sum + term / degrees ** (k + 1), z);
}
