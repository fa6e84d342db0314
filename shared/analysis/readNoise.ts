import { USUALLY_EMPTY } from './artefacts.ts';
import { median, quantileOfSorted, sigmaFromMad, sortedNumbers } from './robust.ts';

/**
 * Read noise of one scan, from the scan itself: what the heights do where no ions are.
 *
 * 1. A first zero and width from the masses at which hardly any gas has a peak (median and MAD).
 * 2. All heights of the scan that lie below the zero + 2 of those widths belong to the noise or to peaks that drown in
 *    it. Ions only ever add, so the width comes from the side below the zero, which no small peak can widen.
 * The larger number of values settles the width to some 10–15 % where the empty masses alone leave 30–50 %.
 *
 * Instruments that write zero for everything negative, or that round, have no visible noise: then the smallest step
 * between values stands for it. A list of selected masses without empty ones says nothing: then an assumption does.
 */
export interface ReadNoise {
  /** One standard deviation of a height; > 0 unless all heights are zero. */
  readonly sigma: number;
  readonly from: 'empty masses' | 'steps' | 'assumed';
}

/** Fewer empty masses than this give no width. */
const EMPTY_NEEDED = 4;
/** Heights that belong to the noise reach this many widths above the zero. */
const REACH_SIGMAS = 2;
/**
 * From few values the width is as often too small as too large, and too small does the harm (phantoms at half the true
 * noise, none at twice): raised by two over the number of values.
 */
const FEW_VALUES = 2;
/** Lower values are faults (what a large neighbour leaves in a profile, a drop-out), not noise. */
const LOWEST_SIGMAS = 4;
/** This share of exact zeros among the empty masses: the instrument clips or rounds. */
const CLIPPED_SHARE = 0.3;
/** A clipped half of the noise leaves E[h²] = σ²/2. */
const CLIPPED_SECOND_MOMENT = 0.5;
/** No analyser resolves more than six decades in one sweep; a scan that claims to has hidden its noise. */
const LEAST_SHARE_OF_TOP = 1e-6;
/** Range of what a scan without empty masses may be assumed to have: four to six decades below its top peak. */
const ASSUMED_SHARE_OF_TOP = 1e-4;

export function readNoise(masses: readonly number[], heights: Float64Array): ReadNoise {
  const sorted = sortedNumbers(heights);
  const top = sorted.length > 0 ? sorted[sorted.length - 1]! : 0;
  const empty = heights.filter((_, row) => (USUALLY_EMPTY as readonly number[]).includes(masses[row]!));
  if (empty.length < EMPTY_NEEDED) return assumed(sorted, top);
  const zeros = empty.reduce((count, height) => count + (height === 0 ? 1 : 0), 0);
  if (zeros >= CLIPPED_SHARE * empty.length) return clipped(empty, sorted, top);
  const zero = median(empty);
  const first = Math.max(sigmaFromMad(empty, zero), Number.MIN_VALUE) * (1 + FEW_VALUES / empty.length);
  const sigma = lowerWidth(sorted, zero, first);
  return { sigma: Math.max(sigma, LEAST_SHARE_OF_TOP * top * 0.1), from: 'empty masses' };
}

function lowerWidth(sorted: Float64Array, zero: number, first: number): number {
  let centre = zero;
  let width = first;
  for (let round = 0; round < 3; round++) {
    const limit = centre + REACH_SIGMAS * width;
    let count = 0;
    while (count < sorted.length && sorted[count]! <= limit) count++;
    const near = sorted.subarray(0, count);
    // Small peaks fill the upper side first, so the middle of the noise sits a little below the median of what is near.
    const middle = quantileOfSorted(near, 0.5);
    let squares = 0;
    let below = 0;
    for (const value of near) {
      if (value >= middle) break;
      if (value < middle - LOWEST_SIGMAS * width) continue;
      squares += (value - middle) ** 2;
      below++;
    }
    if (below < 3) return width;
    centre = middle;
    width = Math.sqrt(squares / below) * (1 + FEW_VALUES / near.length);
  }
  return width;
}

function clipped(empty: Float64Array, sorted: Float64Array, top: number): ReadNoise {
  let squares = 0;
  const positive = empty.filter((height) => height > 0);
  for (const height of positive) squares += height * height;
  if (positive.length >= 2) {
    const sigma = Math.sqrt(squares / empty.length / CLIPPED_SECOND_MOMENT);
    return { sigma: Math.max(sigma, LEAST_SHARE_OF_TOP * top), from: 'steps' };
  }
  return { sigma: Math.max(smallestStep(sorted), LEAST_SHARE_OF_TOP * top), from: 'steps' };
}

/** Smallest difference between two values that differ; 0 when all are equal. */
function smallestStep(sorted: Float64Array): number {
  let step = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sorted.length; i++) {
    const difference = sorted[i]! - sorted[i - 1]!;
    if (difference > 0 && difference < step) step = difference;
  }
  return Number.isFinite(step) ? step : 0;
}

/**
 * Without masses that are known to be empty. Ions only add, so what lies below zero is noise: four such heights give its
 * width. With fewer, the second smallest height bounds it from above, as a selected mass that happens to hold no gas
 * shows it, and what is below zero bounds it from below.
 */
function assumed(sorted: Float64Array, top: number): ReadNoise {
  const negative = sorted.filter((height) => height < 0);
  const width = Math.sqrt(negative.reduce((sum, height) => sum + height * height, 0) / Math.max(1, negative.length));
  const raised = width * (1 + FEW_VALUES / Math.max(1, negative.length));
  const least = LEAST_SHARE_OF_TOP * top;
  if (negative.length >= EMPTY_NEEDED) return { sigma: Math.max(raised, least), from: 'empty masses' };
  const sizes = sorted.map(Math.abs).sort();
  const small = sizes[Math.min(1, sizes.length - 1)] ?? 0;
  const sigma = Math.min(ASSUMED_SHARE_OF_TOP * top, Math.max(least, small));
  return { sigma: Math.max(sigma, width), from: 'assumed' };
}
