import type { Fit } from './fit.ts';
import { gainOfSum, makeGains } from './gains.ts';
import { type GasInterval, TWO_SIDED_95 } from './intervals.ts';
import type { Scaling } from './scaling.ts';

/**
 * Gases that share their peaks in this scan: their estimates move against each other (correlation near −1), so that the
 * sum is known well and the parts badly. Then the sum is what is told.
 */
export interface Group {
  /** In the order of the design. */
  readonly columns: readonly number[];
  readonly sum: number;
  readonly low: number;
  readonly high: number;
  /** Of the two that are hardest to part. */
  readonly correlation: number;
}

const CORRELATED = -0.8;
/** Ends of an interval farther apart than this factor do not say how much of a gas is there. */
const VAGUE_RATIO = 2.5;
/** A part that is certainly below this share of the sum takes nothing from the other. */
const WORTH_SHARE = 0.1;
const UPWARD_ERROR = 1.2;

/** Whether only the sum of two gases is known; the correlation if so, else null. Columns outside the fit are known apart. */
export function inseparable(fit: Fit, intervals: readonly GasInterval[], a: number, b: number): number | null {
  const { placeOf, covariance, covarianceColumns, amounts } = fit;
  const [placeA, placeB] = [placeOf[a]!, placeOf[b]!];
  if (placeA < 0 || placeB < 0) return null;
  const q = covarianceColumns.length;
  const [ofA, ofB] = [covariance[placeA * q + placeA]!, covariance[placeB * q + placeB]!];
  const correlation = covariance[placeA * q + placeB]! / Math.sqrt(ofA * ofB);
  const sum = amounts[a]! + amounts[b]!;
  if (!(correlation < CORRELATED) || !(sum > 0)) return null;
  return isOpen(intervals[a]!, sum) || isOpen(intervals[b]!, sum) ? correlation : null;
}

/** How much of it there is cannot be said, and it may be enough to matter in the sum. */
export const isOpen = (part: GasInterval, sum: number): boolean => isVague(part) && part.high > WORTH_SHARE * sum;

/** Judged without the sensitivity: that is the same for a gas that stands alone. */
function isVague({ amount, detected, sigmaNoise, sigmaPattern, ownPattern }: GasInterval): boolean {
  const error = TWO_SIDED_95 * Math.hypot(sigmaNoise, sigmaPattern, ownPattern * amount);
  return !detected || amount + error > VAGUE_RATIO * (amount - error);
}

/** All groups of reportable gases; a gas that is inseparable from one of a group belongs to it. */
export function groupsOf(fit: Fit, intervals: readonly GasInterval[], scaling: Scaling): Group[] {
  const fitted = fit.covarianceColumns.filter((j) => j < fit.design.gasCount && fit.design.columns[j]!.reportable);
  const groupOf = new Map<number, { members: Set<number>; correlation: number }>();
  for (const a of fitted) {
    for (const b of fitted) {
      if (b <= a) continue;
      const correlation = inseparable(fit, intervals, a, b);
      if (correlation === null) continue;
      const [one, other] = [groupOf.get(a), groupOf.get(b)];
      const members = new Set([a, b, ...(one?.members ?? []), ...(other?.members ?? [])]);
      const joined = { members, correlation: Math.min(correlation, one?.correlation ?? 0, other?.correlation ?? 0) };
      for (const member of members) groupOf.set(member, joined);
    }
  }
  return [...new Set(groupOf.values())].map(({ members, correlation }) => {
    const columns = [...members].sort((x, y) => x - y);
    return { columns, correlation, ...sumInterval(fit, columns, scaling) };
  });
}

/** The sensitivity of the sum is that of its parts, weighted with what they are. */
export function sumInterval(
  fit: Fit,
  columns: readonly number[],
  scaling: Scaling,
): { sum: number; low: number; high: number } {
  const row = gainOfSum(makeGains(fit, scaling), columns);
  const sum = columns.reduce((total, j) => total + fit.amounts[j]!, 0);
  const sensitivity = Math.hypot(...columns.map((j) => (fit.amounts[j]! / sum) * scaling.sensitivityError(j)));
  const factor = Math.exp(TWO_SIDED_95 * sensitivity);
  const pattern = row.patternVariance + row.ownVariance;
  const cautious = TWO_SIDED_95 * Math.sqrt(row.noiseVariance + UPWARD_ERROR ** 2 * pattern);
  return {
    sum,
    low: Math.max(0, sum - Math.hypot(cautious, sum * (1 - 1 / factor))),
    high: sum + Math.hypot(cautious, sum * (factor - 1)),
  };
}
