import type { Fit } from './fit.ts';
import { gainOfSum, makeGains } from './gains.ts';
import { type GasInterval, TWO_SIDED_95 } from './intervals.ts';
import { sayPressure } from './say.ts';
import type { Scaling } from './scaling.ts';

/**
 * Nitrogen and carbon monoxide share m/z 28, and an analyser of unit resolution parts them by their small fragments
 * only (14 of N2; 12 and 16 of CO). When those are covered by other gases or doubtful in themselves, the fit still
 * knows the sum well and the parts badly. Then the sum is what is told.
 */
export interface InseparablePair {
  readonly gases: readonly [string, string];
  readonly sumPa: number;
  readonly lowPa: number;
  readonly highPa: number;
  /** Between the two estimates; near −1: only the sum is known. */
  readonly correlation: number;
  readonly text: string;
}

const PAIR = ['N2', 'CO'] as const;
const NAMES = ['nitrogen', 'carbon monoxide'] as const;
const CORRELATED = -0.8;
/** Ends of an interval farther apart than this factor do not say how much of a gas is there. */
const VAGUE_RATIO = 2.5;
/** A part that is certainly below this share of the sum takes nothing from the other. */
const WORTH_SHARE = 0.1;
const UPWARD_ERROR = 1.2;

export function inseparablePair(fit: Fit, intervals: readonly GasInterval[], scaling: Scaling): InseparablePair | null {
  const columns = PAIR.map((id) => fit.design.columns.findIndex((column) => column.id === id));
  const [first, second] = columns as [number, number];
  if (first < 0 || second < 0) return null;
  const placeFirst = fit.placeOf[first]!;
  const placeSecond = fit.placeOf[second]!;
  if (placeFirst < 0 || placeSecond < 0) return null;
  const correlation = correlationOf(fit, placeFirst, placeSecond);
  const sum = fit.amounts[first]! + fit.amounts[second]!;
  const parts = [intervals[first]!, intervals[second]!];
  const vague = parts.map((part) => isVague(part) && part.high > WORTH_SHARE * sum);
  if (!(correlation < CORRELATED) || !vague.includes(true) || !(sum > 0)) return null;
  const { low, high } = sumInterval(fit, [first, second], scaling);
  const [sumPa, lowPa, highPa] = [sum, low, high].map((value) => value * scaling.factor) as [number, number, number];
  const larger = parts[0]!.amount >= parts[1]!.amount ? 0 : 1;
  const known = `together they make ${sayPressure(sumPa)} (between ${sayPressure(lowPa)} and ${sayPressure(highPa)})`;
  const text = vague[larger]
    ? `Nitrogen and carbon monoxide cannot be told apart in this scan; ${known}: go by the sum.`
    : `How much of m/z 28 is ${NAMES[1 - larger]} cannot be told beside so much ${NAMES[larger]}; ${known}.`;
  return { gases: PAIR, sumPa, lowPa, highPa, correlation, text };
}

/** Judged without the sensitivity: that is the same for a gas that stands alone. */
function isVague({ amount, detected, sigmaNoise, sigmaPattern, ownPattern }: GasInterval): boolean {
  const error = TWO_SIDED_95 * Math.hypot(sigmaNoise, sigmaPattern, ownPattern * amount);
  return !detected || amount + error > VAGUE_RATIO * (amount - error);
}

function correlationOf({ covariance, covarianceColumns }: Fit, a: number, b: number): number {
  const q = covarianceColumns.length;
  return covariance[a * q + b]! / Math.sqrt(covariance[a * q + a]! * covariance[b * q + b]!);
}

/** The sensitivity of the sum is that of its parts, weighted with what they are. */
function sumInterval(fit: Fit, columns: readonly [number, number], scaling: Scaling): { low: number; high: number } {
  const row = gainOfSum(makeGains(fit, scaling), columns);
  const sum = fit.amounts[columns[0]]! + fit.amounts[columns[1]]!;
  const sensitivity = Math.hypot(...columns.map((j) => (fit.amounts[j]! / sum) * scaling.sensitivityError(j)));
  const factor = Math.exp(TWO_SIDED_95 * sensitivity);
  const pattern = row.patternVariance + row.ownVariance;
  const cautious = TWO_SIDED_95 * Math.sqrt(row.noiseVariance + UPWARD_ERROR ** 2 * pattern);
  return {
    low: Math.max(0, sum - Math.hypot(cautious, sum * (1 - 1 / factor))),
    high: sum + Math.hypot(cautious, sum * (factor - 1)),
  };
}
