/**
 * What the raw spectrum of this chamber usually is, per operating state: a mean that follows slowly and a pinned
 * reference that may fall but never rises, so that a leak which grows by a few per cent a week is still seen against
 * something that does not grow with it.
 */
import { median, plain, totalOf, typed } from './channels.ts';
import { scansOnOther, weights } from './detectorBook.ts';
import type { Baseline, Vector } from './memory.ts';
import { shareOut } from './ownGases.ts';
import {
  CLEANER_HOURS,
  DAY,
  DEAD_BAND,
  FIRST_SCANS,
  FIRST_SCANS_GAS,
  FOLLOW_DAYS,
  HOUR,
  PIN_DAYS,
  PIN_SCANS,
  RISE_PER_MONTH,
} from './parameters.ts';
import { settingScans } from './scanNoise.ts';
import { GAS_STATES } from './states.ts';

/** Median of a χ² variable with one degree of freedom: median of squares → variance. */
const CHI_SQUARE_MEDIAN = 0.4549;
/** A dozen differences know a variance to a third: start a little wide. */
const START_WIDENING = 1.3;
/** Share of the new squared difference in the variance, and the cut that keeps steps and spikes out of it. */
const VARIANCE_SHARE = 0.01;
/** What the noise estimate of a single scan is worth, scans. */
const PRIOR_SCANS = 8;
const VARIANCE_CUT = 9;
/** E[min(x, 9)] of a χ²₁ variable is 0.94: undoes the bias of the cut. */
const CUT_BIAS = 1.06;

export const scansNeeded = (state: string): number => (GAS_STATES.has(state) ? FIRST_SCANS_GAS : FIRST_SCANS);
export const isReady = (baseline: Baseline | undefined): baseline is Baseline & { first: null } =>
  baseline !== undefined && baseline.first === null;

export interface BaselineStart {
  readonly masses: Vector;
  readonly scaled: boolean;
  readonly detector: string | null;
  readonly atMs: number;
}

export function newBaseline({ masses, scaled, detector, atMs }: BaselineStart): Baseline {
  return {
    masses,
    scaled,
    detector,
    inUse: detector,
    detectors: {},
    first: [],
    scans: 0,
    days: 0,
    sinceMs: atMs,
    untilMs: atMs,
    mean: [],
    variance: [],
    pinned: null,
    day: null,
    hasGauge: false,
    kappa: 1,
    common: { mean: 0, square: 0, days: 0 },
    temperatureC: null,
    own: [],
    gases: {},
    misfits: 0,
  };
}

/** JSON has no NaN: an unmeasured channel of a buffered scan is −∞'s stand-in. */
const NOT_MEASURED = -1e300;

/** The first scans are taken over this time at least: a dozen scans of a second know nothing of how a chamber breathes (our choice). */
const LEAST_FIRST_SECONDS = 600;

/** A scan that comes every second is not taken every time; one a minute is. */
export function isDue(baseline: Baseline, need: number, atMs: number): boolean {
  const taken = baseline.first?.length ?? 0;
  if (taken === 0) baseline.sinceMs = atMs;
  return atMs - baseline.sinceMs >= (taken * LEAST_FIRST_SECONDS * 1000) / (need - 1);
}

/** Takes one of the first scans; true when the baseline has become ready with it. */
export function learnFirst(baseline: Baseline, q: Float64Array, need: number, readNoisePa: number): boolean {
  const first = [...(baseline.first ?? []), plain(q.map((value) => (Number.isFinite(value) ? value : NOT_MEASURED)))];
  const noises = [...(baseline.firstNoisesPa ?? []), readNoisePa].filter(Number.isFinite);
  baseline.first = first;
  baseline.firstNoisesPa = noises;
  if (first.length < need) return false;
  delete baseline.firstNoisesPa;
  // The middle one: were the last scan a noisy one, more noise would never be seen in this state.
  firstOf(baseline, first, noises.length > 0 ? median(noises) : 0);
  return true;
}

/** Median and scan-to-scan variance of scans that were chosen to be what is usual. */
export function firstOf(baseline: Baseline, first: readonly ArrayLike<number>[], readNoisePa: number): void {
  const n = baseline.masses.length + 1;
  const mean = new Array<number>(n).fill(0);
  const variance = new Array<number>(n).fill(0);
  for (let m = 0; m < n; m++) {
    const series = first.map((scan) => scan[m]!).filter((value) => value > NOT_MEASURED);
    if (series.length === 0) continue;
    mean[m] = median(series);
    const squares = series.slice(1).map((value, i) => (value - series[i]!) ** 2 / 2);
    variance[m] = squares.length > 0 ? median(squares) / CHI_SQUARE_MEDIAN : 0;
  }
  baseline.hasGauge = mean[0]! > 0;
  baseline.mean = mean;
  baseline.variance = floored(variance, readNoisePa);
  baseline.first = null;
  baseline.scans = first.length;
  shareOut(baseline);
}

/** Few differences may come out as nothing at all: no mass is quieter than most of the quiet ones. */
function floored(variance: number[], readNoisePa: number): number[] {
  const sorted = variance.slice(1).sort((a, b) => a - b);
  const quiet = sorted[Math.floor(sorted.length * 0.3)] ?? 0;
  const floor = Math.max(0.7 * quiet, 0.5 * readNoisePa ** 2, 1e-60);
  return variance.map((value, m) => (m === 0 ? Math.max(value, 1e-60) : Math.max(value, floor) * START_WIDENING));
}

/** Scan-to-scan noise from first differences: slow wobble cancels in them. */
export function learnNoise(
  baseline: Baseline,
  q: Float64Array,
  before: Vector,
  skip: (m: number) => boolean,
  /** Of the scan before. */
  varianceBefore: Vector = baseline.variance,
): void {
  const variance = [...baseline.variance];
  const scans = scansOnOther(baseline);
  const known = Math.min(scans ?? Number.POSITIVE_INFINITY, settingScans(baseline));
  const share = Math.max(VARIANCE_SHARE, 1 / (known + PRIOR_SCANS));
  for (let m = 0; m < q.length; m++) {
    const difference = q[m]! - before[m]!;
    if (!Number.isFinite(difference) || before[m]! <= NOT_MEASURED || skip(m)) continue;
    const part = variance[m]! / (variance[m]! + varianceBefore[m]!);
    const half = Math.min(part * difference ** 2, VARIANCE_CUT * variance[m]!) * CUT_BIAS;
    variance[m] = variance[m]! + share * (half - variance[m]!);
  }
  baseline.variance = variance;
}

/** A vector for memory: unmeasured channels keep their place. */
export function remembered(q: Float64Array): number[] {
  const out = plain(q);
  for (let m = 0; m < out.length; m++) if (!Number.isFinite(out[m])) out[m] = NOT_MEASURED;
  return out;
}

export interface FollowInput {
  readonly q: Float64Array;
  /** q minus the reference; 0 where not measured. */
  readonly deviation: Float64Array;
  readonly atMs: number;
  readonly seconds: number;
  readonly lifted: Uint8Array | null;
  readonly settling: boolean;
}

/** One quiet scan: the mean moves a little towards it, clipped so that no single scan carries it away. */
export function follow(baseline: Baseline, { q, deviation, atMs, seconds, lifted, settling }: FollowInput): void {
  baseline.scans++;
  baseline.days += seconds / DAY;
  baseline.untilMs = atMs;
  const share = Math.max(seconds / (FOLLOW_DAYS * DAY), 1 / (baseline.scans + 1));
  const cleaner = Math.min(1, seconds / (CLEANER_HOURS * HOUR));
  const rise = (RISE_PER_MONTH * seconds) / (30 * DAY);
  const mean = typed(baseline.mean);
  const weight = weights(baseline);
  for (let m = 0; m < q.length; m++) {
    if (!Number.isFinite(q[m]!) || lifted?.[m]) continue;
    const sigma = Math.sqrt(baseline.variance[m]!);
    const limit = 3 * sigma + 0.3 * Math.abs(mean[m]!);
    const clipped = Math.max(-limit, Math.min(limit, deviation[m]!));
    // Below nothing nothing is cleaner: what a large neighbour leaves there comes and goes with it, and is no growth.
    const fell = mean[m]! > 0 && deviation[m]! < -DEAD_BAND * mean[m]! - 4 * sigma;
    const step = (fell ? Math.max(share, cleaner) : share) * (weight ? weight[m]! : 1) * clipped;
    const most = Math.max(-mean[m]!, rise * Math.abs(mean[m]!) + share * sigma);
    mean[m]! += baseline.pinned ? Math.min(step, most) : step;
  }
  baseline.mean = plain(mean);
  if (baseline.scans % (baseline.scans < 300 ? 40 : 300) === 0) shareOut(baseline);
  pin(baseline, atMs, settling);
}

function pin(baseline: Baseline, atMs: number, settling: boolean): void {
  const { mean, variance, pinned } = baseline;
  if (!pinned) {
    if (baseline.days >= PIN_DAYS && baseline.scans >= PIN_SCANS && !settling) baseline.pinned = { mean, atMs };
    return;
  }
  let changed: number[] | null = null;
  for (let m = 0; m < mean.length; m++) {
    if (mean[m]! >= pinned.mean[m]! || mean[m]! <= 10 * Math.sqrt(variance[m]!)) continue;
    changed ??= [...pinned.mean];
    changed[m] = mean[m]!;
  }
  if (changed) baseline.pinned = { mean: changed, atMs: pinned.atMs };
}

export const totalOfMean = ({ mean }: Baseline): number => totalOf(mean);
