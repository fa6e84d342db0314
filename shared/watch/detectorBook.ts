/** What is kept of each detector of an analyser, beside the baseline that they share. */
import type { DetectorBook } from './instrumentMemory.ts';
import type { Baseline } from './memory.ts';
import { DAY, FOLLOW_DAYS } from './parameters.ts';

export const newBook = (): DetectorBook => ({
  variance: null,
  trim: 1,
  gain: null,
  measured: false,
  scans: 0,
  days: 0,
});

export function trimmed(q: Float64Array, trim: number): Float64Array {
  return trim === 1 ? q : q.map((height, m) => (m === 0 ? height : height / trim));
}

/** The trim of the detector in use. */
export const trimOf = (baseline: Baseline, detector: string | null): number =>
  baseline.detectors[detector ?? baseline.inUse ?? '']?.trim ?? 1;

/** Quiet time with the detector in use: the baseline grows into it. */
export function countQuiet(baseline: Baseline, seconds: number): void {
  const book = baseline.detectors[baseline.inUse ?? ''];
  if (book) baseline.detectors[baseline.inUse!] = { ...book, days: book.days + seconds / DAY };
}

/** The gain of a multiplier depends on the ion by about a tenth (common practice): one factor does not fit every peak. */
const ION_DEPENDENCE = 0.08;

/** Relative error of a peak that was learned with another detector than the one in use. */
export function detectorError({ detector, inUse, detectors }: Baseline): number {
  if (inUse === null || inUse === detector) return 0;
  return ION_DEPENDENCE * Math.exp(-(detectors[inUse]?.days ?? 0) / FOLLOW_DAYS);
}

/**
 * How much a scan of the detector in use may move what is usual, per channel: one as noisy as the quietest moves it fully,
 * one of a hundred times its variance by a hundredth. Otherwise a single scan of a noisy detector would leave its noise in
 * the mean, where a quiet one sees it as peaks. Null: there is one detector only.
 */
export function weights({ variance, detectors }: Baseline): readonly number[] | null {
  const others = Object.values(detectors).flatMap((book) => (book.variance ? [book.variance] : []));
  if (others.length === 0) return null;
  return variance.map((own, m) => Math.min(1, ...others.map((other) => other[m]! / own)));
}

/** Scans with a detector whose noise was at first taken from a single scan; null: it was learned. */
export const scansOnOther = ({ detector, inUse, detectors }: Baseline): number | null =>
  inUse === null || inUse === detector ? null : (detectors[inUse]?.scans ?? 0);
