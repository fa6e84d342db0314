/**
 * By how much a gas changed from one stretch to another: after over before, with its 95 % interval.
 *
 * With the same analyser and the same calibration the sensitivity is the same number on both sides and drops out; what
 * other gases' patterns leave in this one does not, because the others may have changed, and the sensitivity itself
 * wanders between the two. Scatter: both means have their own, with Student's t for the degrees of freedom that
 * B. L. Welch's formula gives (Biometrika 34 (1947) 28).
 */
import { type GasSide, halfWidth } from './gasSide.ts';
import { student95, TWO_SIDED_95 } from './meanError.ts';

/** After over before. Null: not known on that side. */
export interface ChangeFactor {
  readonly ratio: number | null;
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
}

export type SameMeasure = 'same' | 'other calibration' | 'other analyser';

export interface BetweenSides {
  readonly measure: SameMeasure;
  /** From the middle of one side to the middle of the other. */
  readonly seconds: number;
}

/** A sensitivity wanders by up to some 5 % in a month, more with reactive gases (common practice); as a random walk. */
const WANDERS_PER_ROOT_MONTH = 0.05;
const MONTH_SECONDS = 30.44 * 86_400;

/** Standard deviation of ln(ratio) that no averaging takes away. */
export function lastingBetween(before: GasSide, after: GasSide, { measure, seconds }: BetweenSides): number {
  const wandering =
    measure === 'other analyser' ? 0 : WANDERS_PER_ROOT_MONTH * Math.sqrt(Math.abs(seconds) / MONTH_SECONDS);
  if (measure === 'same') return Math.hypot(before.pattern, after.pattern, wandering);
  const shared = Math.min(before.catalogue, after.catalogue);
  const own = (side: GasSide) => Math.sqrt(Math.max(0, side.lasting ** 2 - shared ** 2));
  return Math.hypot(own(before), own(after), wandering);
}

/** Degrees of freedom of the sum of two estimated variances. */
export const welchDegrees = (a: { sigma: number; degrees: number }, b: { sigma: number; degrees: number }): number => {
  const [va, vb] = [a.sigma ** 2, b.sigma ** 2];
  return va + vb === 0 ? Math.min(a.degrees, b.degrees) : (va + vb) ** 2 / (va ** 2 / a.degrees + vb ** 2 / b.degrees);
};

const UNKNOWN: ChangeFactor = { ratio: null, ratioLow: null, ratioHigh: null };

export function changeFactor(before: GasSide, after: GasSide, between: BetweenSides): ChangeFactor {
  const lasting = lastingBetween(before, after, between);
  if (before.mean !== null && after.mean !== null) {
    const ln = after.mean.ln - before.mean.ln;
    const sigma = Math.hypot(before.mean.sigma, after.mean.sigma);
    const scatter = sigma === 0 ? 0 : student95(welchDegrees(before.mean, after.mean)) * sigma;
    const half = Math.hypot(scatter, TWO_SIDED_95 * lasting);
    return { ratio: Math.exp(ln), ratioLow: Math.exp(ln - half), ratioHigh: Math.exp(ln + half) };
  }
  // A limit is an upper end already: the other side gives its own end towards it.
  if (before.mean !== null && after.limitPa !== null) {
    const least = Math.exp(before.mean.ln - halfWidth(before.mean, lasting));
    return { ratio: null, ratioLow: 0, ratioHigh: after.limitPa / least };
  }
  if (after.mean !== null && before.limitPa !== null) {
    const least = Math.exp(after.mean.ln - halfWidth(after.mean, lasting));
    return { ratio: null, ratioLow: least / before.limitPa, ratioHigh: null };
  }
  return UNKNOWN;
}
