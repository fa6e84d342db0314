/**
 * Is the data fit to be judged? Before any cause is sought: values that repeat, peaks that end at one height, and a
 * scatter that has grown. Such a scan is not judged further, and its alert returns when the data are well again.
 */
import type { AnalysisScan, PeakList } from '../analysis/types.ts';
import { remembered } from './baseline.ts';
import { median } from './channels.ts';
import type { Baseline, Memory } from './memory.ts';
import { vector } from './rows.ts';
import { hasSettings, isNewSetting, secondsInUse, varianceAt } from './scanNoise.ts';

/**
 * Scans that repeat the one before: a real analyser never repeats its noise. A gateway that asks more often than its
 * analyser scans sends each scan several times: more than twice as often as it has done so far is called.
 */
const FROZEN_REPEATS = { least: 3, most: 8 } as const;
/** A source that has never shown noise (few digits, made-up values) cannot be told from a frozen one. */
const LIVELY_SCANS = 12;
const LEAST_VALUES = 6;
/** Two peaks of exactly the same height at the top, in this many scans in a row. */
const SHARED_TOP_SCANS = 3;
/**
 * One top peak of exactly the same height while its own noise should have moved it: so many repeats that chance would
 * make them once in a million runs, and never fewer or more than these.
 */
const FIXED_TOP_SCANS = { least: 4, most: 8 } as const;
const CHANCE_OF_REPEATS = 1e-6;
const LEAST_TOP_NOISE = 3e-4;
/** A highest peak that has fallen below this share within one scan may be at a stop; if it then stands still, so much the more. */
const FALLEN_SHARE = 0.7;
const FALLEN_SCANS = 10;
/** Scatter against the learned noise: ratio of variances, share of a new scan, cut, and how long. */
const SCATTER_SHARE = 0.15;
const SCATTER_CUT = 20;
const NOISY_RATIO = 5;
const NOISY_SCANS = 5;
const CALM_RATIO = 2.5;
export const CHI_SQUARE_MEDIAN = 0.4549;
export const NOT_MEASURED = -1e299;

export interface QualityVerdict {
  readonly frozen: boolean;
  readonly saturated: boolean;
  readonly noisy: boolean;
  /** Scatter is back near what was learned. */
  readonly calm: boolean;
  /** Exactly the scan before once more. */
  readonly repeated: boolean;
  /** Masses that share the top height. */
  readonly topMasses: readonly number[];
}

export function judgeRepeats(memory: Memory, scan: AnalysisScan): { repeated: boolean; frozen: boolean } {
  const { quality } = memory;
  const digest = digestOf(scan.values);
  const repeated = digest !== 0 && digest === quality.digest;
  const usual = quality.usualRepeats ?? 0;
  const many = Math.min(FROZEN_REPEATS.most, Math.max(FROZEN_REPEATS.least, 2 * usual + 1));
  if (!repeated && quality.digest !== 0) quality.varied = Math.min(quality.varied + 1, LIVELY_SCANS);
  if (!repeated && quality.repeats > usual && quality.repeats < FROZEN_REPEATS.most)
    quality.usualRepeats = quality.repeats;
  quality.digest = digest;
  quality.repeats = repeated ? quality.repeats + 1 : 0;
  return { repeated, frozen: quality.repeats >= many && quality.varied >= LIVELY_SCANS };
}

/** More repeats than this source has shown before, and it is one that shows noise. */
export const repeatsUnusually = ({ quality }: Memory): boolean =>
  quality.varied >= LIVELY_SCANS && quality.repeats > (quality.usualRepeats ?? 0);

/** No value at all, or nothing but zeros: the emission is off, or what is sent is a form without content. */
export function isEmpty({ values }: AnalysisScan): boolean {
  for (let i = 0; i < values.length; i++) if (Number.isFinite(values[i]) && values[i] !== 0) return false;
  return true;
}

/** 53 bits of the values (FNV-1a in two halves); 0 when too few of them say anything. */
function digestOf(values: Float64Array): number {
  let told = 0;
  for (let i = 0; i < values.length; i++) if (Number.isFinite(values[i]) && values[i] !== 0) told++;
  if (told < LEAST_VALUES) return 0;
  const words = new Uint32Array(values.buffer, values.byteOffset, values.length * 2);
  let a = 0x811c9dc5;
  let b = 0x1234567;
  for (let i = 0; i < words.length; i++) {
    const word = words[i]!;
    a = Math.imul(a ^ word, 0x01000193);
    b = Math.imul(b ^ (word >>> 7) ^ (word << 3), 0x01000193);
  }
  return (a >>> 0) * 2 ** 21 + ((b >>> 0) % 2 ** 21) || 1;
}

export function judgeTop(
  memory: Memory,
  { scan, peaks }: { readonly scan: AnalysisScan; readonly peaks: PeakList },
  baseline: Baseline | undefined,
): { saturated: boolean; doubtful: boolean; topMasses: number[] } {
  const { quality } = memory;
  // On another detector another height is no fall: the gain between them may be off.
  if (scan.detector !== null && baseline?.inUse && baseline.inUse !== scan.detector) quality.top = 0;
  let top = Number.NEGATIVE_INFINITY;
  const { masses, heightPa } = peaks;
  for (let i = 0; i < heightPa.length; i++) if (heightPa[i]! > top) top = heightPa[i]!;
  const topMasses: number[] = [];
  for (let i = 0; i < masses.length; i++) if (heightPa[i] === top) topMasses.push(masses[i]!);
  let next = 0;
  for (let i = 0; i < heightPa.length; i++) if (heightPa[i]! < top && heightPa[i]! > next) next = heightPa[i]!;
  const isSame = top === quality.top;
  const sinceFall = top < FALLEN_SHARE * quality.top ? 0 : (quality.sinceFall ?? FALLEN_SCANS) + 1;
  quality.sinceFall = Math.min(FALLEN_SCANS, sinceFall);
  quality.topRepeats = isSame ? quality.topRepeats + 1 : 0;
  const [low, high] = isSame && quality.second ? quality.second : [next, next];
  quality.second = [Math.min(low, next), Math.max(high, next)];
  quality.top = top;
  quality.shared = topMasses.length >= 2 ? quality.shared + 1 : 0;
  // While gas flows all large peaks may stand still to the last digit: at a stop only the highest does.
  const lives = quality.second[1] - quality.second[0] > LEAST_TOP_NOISE * quality.second[1];
  const fixed =
    quality.topRepeats >= FIXED_TOP_SCANS.least &&
    lives &&
    quality.topRepeats >= repeatsNeeded(scan, top, topMasses[0] ?? 0, baseline);
  const fell = sinceFall === 0 || (sinceFall < FALLEN_SCANS && (isSame || quality.shared > 0));
  const saturated = quality.shared >= SHARED_TOP_SCANS || fixed;
  return { saturated, doubtful: saturated || fell || quality.shared >= SHARED_TOP_SCANS - 1, topMasses };
}

/**
 * With values rounded to few digits a steady peak repeats by itself: only where its noise exceeds a digit is it a stop.
 * Two normal readings of scatter σ fall into one step with probability step/(2 √π σ).
 */
function repeatsNeeded({ values }: AnalysisScan, top: number, mass: number, baseline: Baseline | undefined): number {
  const channel = baseline ? baseline.masses.indexOf(mass) + 1 : 0;
  if (channel === 0 || baseline?.first !== null) return Number.POSITIVE_INFINITY;
  let digits = 1;
  for (const value of values) {
    const mantissa = Math.abs(value).toExponential().split('e')[0] ?? '';
    digits = Math.max(digits, mantissa.replace('.', '').length);
  }
  const step = Math.max(10 ** (1 - digits), LEAST_TOP_NOISE) * top;
  const sigma = Math.sqrt(baseline.variance[channel]!);
  if (sigma <= step) return Number.POSITIVE_INFINITY;
  const chance = step / (2 * Math.sqrt(Math.PI) * sigma);
  return Math.min(FIXED_TOP_SCANS.most, Math.ceil(Math.log(CHANCE_OF_REPEATS) / Math.log(chance)));
}

/**
 * Squared second difference over its variance, middle one of all masses; NaN where no mass tells, null without two scans
 * before. Neither a level nor a steady slope counts as scatter.
 */
export function secondDifference({ quality }: Memory, q: Float64Array, baseline: Baseline): number | null {
  const [first, second] = quality.lastTwo;
  if (first?.length !== q.length || second?.length !== q.length) return null;
  const ratios = vector(q.length);
  let count = 0;
  const older = varianceAt(baseline, quality.lastSeconds?.at(-2));
  const newer = varianceAt(baseline, quality.lastSeconds?.at(-1));
  for (let m = 1; m < q.length; m++) {
    if (baseline.masses[m - 1]! <= 2 || first[m]! < NOT_MEASURED || second[m]! < NOT_MEASURED) continue;
    const curve = q[m]! - 2 * second[m]! + first[m]!;
    if (Number.isFinite(curve)) ratios[count++] = curve ** 2 / (baseline.variance[m]! + 4 * newer[m]! + older[m]!);
  }
  return median(ratios, count);
}

/** `curve`: of the scans before and this one, where it is known already. */
export function judgeScatter(
  memory: Memory,
  q: Float64Array,
  baseline: Baseline,
  contiguous: boolean,
  curve = contiguous ? secondDifference(memory, q, baseline) : null,
): { noisy: boolean; calm: boolean } {
  const { quality } = memory;
  if (contiguous && curve !== null) {
    const ratio = Number.isNaN(curve) ? 1 : Math.min(SCATTER_CUT, curve / CHI_SQUARE_MEDIAN);
    if (!isNewSetting(baseline)) {
      quality.scatter += SCATTER_SHARE * (ratio - quality.scatter);
      quality.noisy = quality.scatter > NOISY_RATIO ? quality.noisy + 1 : 0;
    }
  }
  quality.lastTwo = [...(contiguous ? quality.lastTwo.slice(-1) : []), remembered(q)];
  if (hasSettings(baseline)) quality.lastSeconds = [...(quality.lastSeconds?.slice(-1) ?? []), secondsInUse(baseline)!];
  return { noisy: quality.noisy >= NOISY_SCANS, calm: quality.scatter < CALM_RATIO };
}

/** The scan before this one, for first differences; null across a gap. */
export function lastChannels(memory: Memory, length: number): readonly number[] | null {
  const last = memory.quality.lastTwo.at(-1);
  return last?.length === length ? last : null;
}

export const forgetLast = (memory: Memory): void => {
  memory.quality.lastTwo = [];
};
