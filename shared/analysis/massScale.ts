import { median, quantileOfSorted, sortedNumbers } from './robust.ts';

/**
 * Where the peaks of a profile really stand against their integer masses.
 *
 * The highest point of every unit of mass is found in one pass; those that are local maxima and stand
 * far above the quiet units vote. An offset is only known modulo one unit, so votes are averaged as angles (2π × fraction of a unit);
 * when they do not agree there is no offset to speak of. A slope is taken from the remaining deviations by the median
 * of pairwise slopes (H. Theil 1950; P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379).
 */
export interface MassScale {
  /** Peaks stand at mass + offset + slope · (mass − pivot). */
  readonly offsetU: number;
  readonly slope: number;
  readonly pivot: number;
}

export interface Profile {
  /** Mass of the first point. */
  readonly first: number;
  readonly perUnit: number;
  readonly values: Float64Array;
}

export interface StrongPeak {
  /** Index of the highest point. */
  readonly at: number;
  readonly value: number;
  readonly mass: number;
  /** Position of the apex minus nearest integer mass, −0.5 … 0.5. */
  readonly deviation: number;
}

const QUIET_SHARE = 0.25;
const VOTING_SWINGS = 10;
const VOTING_SHARE = 0.1;
/** Below this mean resultant length the votes contradict each other. */
const AGREEMENT = 0.6;
/** A vote farther than this from the common offset belongs to something else (a doubly charged ion, an overlap). */
const OUTLIER_U = 0.25;
const SLOPE_NEEDS_PEAKS = 5;
const SLOPE_NEEDS_SPAN_U = 15;
/** A scale that is wrong by more than half a unit in a hundred would mix up masses: not believed. */
const LARGEST_SLOPE = 0.005;
/** Distance of the outer points of the parabola from the apex. */
const PARABOLA_U = 0.16;
/** Nothing below this mass is a gas: the zero-mass peak is there. */
const LIGHTEST = 0.55;

export function strongPeaks(profile: Profile): StrongPeak[] {
  const { first, perUnit, values } = profile;
  const peaks: { at: number; value: number }[] = [];
  const maxima: number[] = [];
  const minima: number[] = [];
  let begin = Math.max(1, Math.ceil((LIGHTEST - first) * perUnit));
  while (begin < values.length - 1) {
    const end = Math.min(values.length - 1, begin + perUnit);
    let best = begin;
    let value = Number.NEGATIVE_INFINITY;
    let lowest = Number.POSITIVE_INFINITY;
    for (let i = begin; i < end; i++) {
      const point = values[i]!;
      if (point > value) {
        value = point;
        best = i;
      }
      if (point < lowest) lowest = point;
    }
    begin = end;
    if (value === Number.NEGATIVE_INFINITY) continue;
    maxima.push(value);
    minima.push(lowest);
    if (values[best - 1]! <= value && values[best + 1]! <= value) peaks.push({ at: best, value });
  }
  const threshold = votingThreshold(maxima, minima);
  return peaks
    .filter((peak) => peak.value > threshold)
    .map(({ at, value }) => {
      const position = first + (at + apexShift(profile, at)) / perUnit;
      return { at, value, mass: Math.round(position), deviation: position - Math.round(position) };
    });
}

/**
 * Peaks that vote stand far above what a unit of mass without ions shows: ten times its swing, from the quieter quarter
 * of the units. Where every unit holds a peak that would silence all of them: a tenth of the largest always votes.
 */
function votingThreshold(maxima: readonly number[], minima: readonly number[]): number {
  const highs = sortedNumbers(maxima);
  const quiet = quantileOfSorted(highs, QUIET_SHARE);
  const level = quantileOfSorted(sortedNumbers(minima), QUIET_SHARE);
  const largest = highs[highs.length - 1] ?? 0;
  return Math.min(quiet + VOTING_SWINGS * (quiet - level), level + VOTING_SHARE * (largest - level));
}

/** Position of the apex of a Gaussian through three points around `at`, in points from `at`; at most ± the spacing. */
export function apexShift({ perUnit, values }: Profile, at: number): number {
  const step = parabolaStep(perUnit);
  const left = values[at - step]!;
  const middle = values[at]!;
  const right = values[at + step]!;
  if (!(left > 0 && middle > 0 && right > 0)) return 0;
  const a = Math.log(left / middle);
  const b = Math.log(right / middle);
  const curvature = a + b;
  if (!(curvature < 0)) return 0;
  return Math.max(-step, Math.min(step, (0.5 * step * (a - b)) / curvature));
}

export const parabolaStep = (perUnit: number): number => Math.max(1, Math.round(PARABOLA_U * perUnit));

export function massScale(peaks: readonly StrongPeak[]): MassScale {
  const none = { offsetU: 0, slope: 0, pivot: 0 };
  if (peaks.length === 0) return none;
  let cosine = 0;
  let sine = 0;
  for (const peak of peaks) {
    cosine += Math.cos(2 * Math.PI * peak.deviation);
    sine += Math.sin(2 * Math.PI * peak.deviation);
  }
  if (Math.hypot(cosine, sine) < AGREEMENT * peaks.length) return none;
  const centre = Math.atan2(sine, cosine) / (2 * Math.PI);
  const votes = peaks
    .map((peak) => {
      const away = wrap(peak.deviation - centre);
      return { mass: Math.round(peak.mass + peak.deviation - centre - away), away };
    })
    .filter((vote) => Math.abs(vote.away) < OUTLIER_U);
  const pivot = median(votes.map((vote) => vote.mass));
  const slope = commonSlope(votes);
  const offset = centre + median(votes.map((vote) => vote.away - slope * (vote.mass - pivot)));
  return { offsetU: offset, slope, pivot };
}

const wrap = (fraction: number): number => fraction - Math.round(fraction);

function commonSlope(votes: readonly { mass: number; away: number }[]): number {
  if (votes.length < SLOPE_NEEDS_PEAKS) return 0;
  const slopes: number[] = [];
  for (let i = 0; i < votes.length; i++) {
    for (let k = 0; k < i; k++) {
      const span = votes[i]!.mass - votes[k]!.mass;
      if (Math.abs(span) >= SLOPE_NEEDS_SPAN_U) slopes.push((votes[i]!.away - votes[k]!.away) / span);
    }
  }
  if (slopes.length < SLOPE_NEEDS_PEAKS) return 0;
  const slope = median(slopes);
  return Math.abs(slope) <= LARGEST_SLOPE ? slope : 0;
}

export const positionOf = ({ offsetU, slope, pivot }: MassScale, mass: number): number =>
  mass + offsetU + slope * (mass - pivot);
