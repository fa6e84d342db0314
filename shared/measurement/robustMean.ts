/**
 * Middle of one gas over a stretch of scans, in ln P, with an error that knows that scans resemble their neighbours.
 *
 * The middle is P. J. Huber's M-estimate (Ann. Math. Stat. 35 (1964) 73) with k = 1.345 and the median absolute deviation
 * as scale: a burst of one scan pulls no more than a scan 1.3 sigma away. A scan that does not see the gas enters as −∞,
 * which the same bound takes care of. The error follows from the estimate's influence values, whose mean is the estimate
 * itself (P. J. Huber and E. M. Ronchetti, Robust Statistics, 2nd ed., ch. 1), treated as any series with memory: block
 * means as in meanError.ts, and beside them the error that a first order autoregression would have, with the bias of its
 * coefficient taken out (F. H. C. Marriott and J. A. Pope, Biometrika 41 (1954) 390). The larger of the two is taken.
 */
import { meanError, meanOf, student95 } from './meanError.ts';

export interface RobustMean {
  /** ln of what was given: of pressures in Pa, ln(P/Pa). */
  readonly ln: number;
  /** One standard deviation of `ln`, for what changes from scan to scan. */
  readonly sigma: number;
  /** Values that count: scatter over sigma, squared. As many as were given where none resembles another. */
  readonly effective: number;
  /** Degrees of freedom that `sigma` rests on. */
  readonly degrees: number;
}

export const HUBER_K = 1.345;
/** Makes the median absolute deviation of normal values their standard deviation. */
export const MAD_TO_SIGMA = 1.4826;
/**
 * Student's t for fewer degrees of freedom would count twice what a long memory has already made of the error: of 17 scans
 * that remember half of their neighbour it made one interval of ten wider than nine standard deviations of a scan, and held
 * the truth no more often.
 */
export const LEAST_DEGREES = 3;
const MOST_STEPS = 50;
const CLOSE_ENOUGH = 1e-10;
/** An autoregression closer to 1 than this is a drift: no error of a mean can be had from it. */
const MOST_MEMORY = 0.98;

/** Of an even count the mean of the two in the middle. NaN for none. */
export const medianOf = (values: readonly number[]): number => {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
};

export const clipped = (z: number, k: number): number => Math.max(-k, Math.min(k, z));

const varianceOf = (values: readonly number[]): number => {
  const mean = meanOf(values);
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
};

/** Scale of the finite values where more than half of all are equal, so that their deviations have the median 0. */
export const otherScale = (values: readonly number[]): number => {
  const finite = values.filter(Number.isFinite);
  return finite.length < 2 ? 0 : Math.sqrt(varianceOf(finite));
};

/** Variance of the mean of a first order autoregression with the given values' first correlation. */
function autoregressionVariance(values: readonly number[], variance: number): number {
  const n = values.length;
  const mean = meanOf(values);
  let together = 0;
  for (let k = 1; k < n; k++) together += ((values[k] ?? 0) - mean) * ((values[k - 1] ?? 0) - mean);
  const seen = together / ((n - 1) * variance);
  const phi = Math.max(0, Math.min(MOST_MEMORY, seen + (1 + 3 * seen) / n));
  return (variance / n) * ((1 + phi) / (1 - phi));
}

/** Null: fewer than two values, or most of them −∞. */
export function robustMean(values: readonly number[], k = HUBER_K): RobustMean | null {
  const middle = medianOf(values);
  if (values.length < 2 || !Number.isFinite(middle)) return null;
  const scale = MAD_TO_SIGMA * medianOf(values.map((value) => Math.abs(value - middle))) || otherScale(values);
  if (!(scale > 0)) return { ln: middle, sigma: 0, effective: values.length, degrees: values.length - 1 };
  let ln = middle;
  for (let step = 0, moved = 1; step < MOST_STEPS && moved > CLOSE_ENOUGH; step++) {
    const before = ln;
    ln += scale * meanOf(values.map((value) => clipped((value - before) / scale, k)));
    moved = Math.abs(ln - before) / scale;
  }
  const unclipped = values.filter((value) => Math.abs(value - ln) <= k * scale).length / values.length;
  const influence = values.map((value) => (scale * clipped((value - ln) / scale, k)) / Math.max(unclipped, 0.1));
  const blocks = meanError(influence);
  const variance = varianceOf(influence);
  if (blocks === null || !(variance > 0)) return { ln, sigma: 0, effective: values.length, degrees: values.length - 1 };
  const remembered = Math.sqrt(autoregressionVariance(influence, variance));
  const sigma = Math.max(blocks.sigma, remembered);
  const effective = Math.max(1, Math.min(values.length, variance / sigma ** 2));
  return { ln, sigma, effective, degrees: Math.max(LEAST_DEGREES, Math.min(blocks.blocks, effective) - 1) };
}

/** Half width of the 95 % interval for the scatter alone. */
export const scatterHalf = ({ sigma, degrees }: Pick<RobustMean, 'sigma' | 'degrees'>): number =>
  sigma === 0 ? 0 : student95(degrees) * sigma;
