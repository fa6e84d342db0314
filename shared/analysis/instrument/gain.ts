import { median, sigmaFromMad } from '../robust.ts';
import type { Calibration } from '../types.ts';
import { short } from './memory.ts';
import { commonLogs, PEAKS_NEEDED, type SeenPeaks, type Sight, sightFor, sightOf } from './sight.ts';

/**
 * Gain of the multiplier, measured from a Faraday and a multiplier scan that follow each other.
 *
 * The median of ln(multiplier / Faraday) over strong peaks is the gain times what the chamber did in between. A gauge
 * that was read with both scans takes the chamber out; without one nothing can tell a weaker multiplier from a lower
 * pressure, and the answer has to say so. Three things may have happened, and what is known of the gain beforehand (the
 * record, or earlier pairs) weighs them:
 *
 *   A  gain as known, chamber still:      y ~ N(m, s² + c²)
 *   B  gain as known, chamber stepped:    y ~ N(m, s² + c² + STEP²)
 *   C  gain stepped (a new voltage):      y ~ N(m, s² + GAIN_STEP² + c²)
 *
 * Each gives a normal posterior of ln(gain); mean and variance of the mixture are kept (a Gaussian sum reduced to its
 * first two moments: H. W. Sorenson and D. L. Alspach, Automatica 7 (1971) 465, from memory).
 */
export interface GainPrior {
  readonly value: number;
  /** Standard deviation of ln(value). */
  readonly uncertainty: number;
  readonly atMs: number;
  readonly pairs: number;
}

export interface GainMemory {
  /** The gain on record when this began: a new record begins it anew. */
  readonly record: number | null;
  readonly measured: GainPrior | null;
  readonly faraday: Sight | null;
  readonly multiplier: Sight | null;
}

/** What a gain is worth that was written down once: multipliers lose half of it in months (common practice). */
export const GAIN_ON_RECORD_UNCERTAINTY = 0.3;
/** Random walk of ln(gain), per square root of a day: a fifth in a hundred days (common practice). */
const WALK_PER_ROOT_DAY = 0.02;
/** Nothing is said better than this: detectors are linear to some per cent and weigh masses differently. */
const LEAST_UNCERTAINTY = 0.02;
const PAIR_UNCERTAINTY = 0.03;
/** A gauge elsewhere in the chamber follows a change to this share of it. */
const GAUGE_SHARE = 0.3;
const CHAMBER_STEP = 0.5;
const GAIN_STEP = 1;
/** How often the chamber steps just between two scans, with and without a gauge to tell; and how often the gain does. */
const CHAMBER_STEP_ODDS = 0.03;
const CHAMBER_STEP_ODDS_GAUGED = 0.01;
const GAIN_STEP_ODDS = 0.01;
/** Without a record a gain may be anything from ten to a hundred million. */
const UNKNOWN_GAIN = { mean: Math.log(3e4), deviation: 3 };
/** Two or three peaks do not show their scatter: detectors differ by this much from mass to mass. */
const SCATTER_OF_FEW = 0.1;
/** A scatter beyond this is no noise: some gases moved, and more of them would not average it away. */
const SCATTER_OF_MASSES = 0.1;
const DAY_MS = 86_400_000;

export function gainPrior(memory: GainMemory | null, record: number | null, atMs: number): GainPrior | null {
  if (memory === null || memory.measured === null || memory.record !== record) return null;
  const { measured } = memory;
  const days = Math.max(0, atMs - measured.atMs) / DAY_MS;
  const uncertainty = Math.hypot(measured.uncertainty, WALK_PER_ROOT_DAY * Math.sqrt(days));
  return { ...measured, uncertainty };
}

interface Ratio {
  readonly mean: number;
  readonly deviation: number;
  readonly gauged: boolean;
}

function pairRatio(faraday: Sight, multiplier: Sight): Ratio | null {
  const logs = commonLogs(faraday, multiplier);
  if (logs.length < PEAKS_NEEDED) return null;
  const middle = median(logs);
  const scatter = Math.max(sigmaFromMad(logs, middle), logs.length < 4 ? SCATTER_OF_FEW : 0);
  const ofScatter = scatter > SCATTER_OF_MASSES ? scatter : scatter / Math.sqrt(logs.length);
  const apart = Math.abs(multiplier.atMs - faraday.atMs);
  const period = faraday.periodMs ?? multiplier.periodMs ?? apart;
  const { move } = faraday.atMs < multiplier.atMs ? faraday : multiplier;
  const ofMove = move * Math.max(1, period > 0 ? apart / period : 1);
  const gauged = faraday.gaugePa !== null && multiplier.gaugePa !== null;
  const chamber = gauged ? Math.log(multiplier.gaugePa! / faraday.gaugePa!) : 0;
  return {
    mean: middle - chamber,
    deviation: Math.hypot(PAIR_UNCERTAINTY, ofScatter, ofMove, GAUGE_SHARE * chamber),
    gauged,
  };
}

/** The gain after one more pair; null when the two scans share too few strong peaks. */
export function gainFromPair(
  faraday: Sight,
  multiplier: Sight,
  { prior, record }: { readonly prior: GainPrior | null; readonly record: number | null },
): GainPrior | null {
  const ratio = pairRatio(faraday, multiplier);
  if (ratio === null) return null;
  const before = knownBefore(prior, record);
  const { mean, deviation } = posterior(before, ratio);
  return {
    value: short(Math.exp(mean), 6),
    uncertainty: short(Math.max(LEAST_UNCERTAINTY, deviation), 4),
    atMs: Math.max(faraday.atMs, multiplier.atMs),
    pairs: (prior?.pairs ?? 0) + 1,
  };
}

function knownBefore(prior: GainPrior | null, record: number | null): { mean: number; deviation: number } {
  if (prior !== null) return { mean: Math.log(prior.value), deviation: prior.uncertainty };
  if (record === null || !(record > 0)) return UNKNOWN_GAIN;
  return { mean: Math.log(record), deviation: GAIN_ON_RECORD_UNCERTAINTY };
}

function posterior(before: { mean: number; deviation: number }, ratio: Ratio): { mean: number; deviation: number } {
  const stepOdds = ratio.gauged ? CHAMBER_STEP_ODDS_GAUGED : CHAMBER_STEP_ODDS;
  const cases = [
    { odds: 1 - stepOdds - GAIN_STEP_ODDS, gain: before.deviation, chamber: ratio.deviation },
    { odds: stepOdds, gain: before.deviation, chamber: Math.hypot(ratio.deviation, CHAMBER_STEP) },
    { odds: GAIN_STEP_ODDS, gain: Math.hypot(before.deviation, GAIN_STEP), chamber: ratio.deviation },
  ].map(({ odds, gain, chamber }) => {
    const spread = Math.hypot(gain, chamber);
    const z = (ratio.mean - before.mean) / spread;
    const pull = (gain / spread) ** 2;
    return {
      logWeight: Math.log(odds / spread) - (z * z) / 2,
      mean: before.mean + pull * (ratio.mean - before.mean),
      variance: ((gain * chamber) / spread) ** 2,
    };
  });
  const best = Math.max(...cases.map(({ logWeight }) => logWeight));
  const weights = cases.map(({ logWeight }) => Math.exp(logWeight - best));
  const sum = weights.reduce((a, b) => a + b, 0);
  const mean = cases.reduce((total, one, i) => total + (weights[i]! / sum) * one.mean, 0);
  const variance = cases.reduce(
    (total, one, i) => total + (weights[i]! / sum) * (one.variance + (one.mean - mean) ** 2),
    0,
  );
  return { mean, deviation: Math.sqrt(variance) };
}

/** The memory after a scan in amperes with a named detector: currents of two detectors have one ratio, sensitivity or not. */
export function learnGain(
  memory: GainMemory | null,
  seen: SeenPeaks,
  { calibration, periodMs }: { readonly calibration: Calibration; readonly periodMs: number | null },
): GainMemory | null {
  const { detector, unit, atMs } = seen.scan;
  if (unit !== 'A' || detector === null) return memory;
  const record = calibration.multiplierGain;
  const kept = memory !== null && memory.record === record ? memory : null;
  const before: GainMemory = kept ?? {
    record,
    measured: null,
    faraday: memory?.faraday ?? null,
    multiplier: memory?.multiplier ?? null,
  };
  const now = sightOf(seen, periodMs, before[detector]);
  const other = sightFor(detector === 'multiplier' ? before.faraday : before.multiplier, seen.scan);
  const prior = gainPrior(before, record, atMs);
  const pair =
    now === null || other === null
      ? null
      : gainFromPair(...(detector === 'multiplier' ? ([other, now] as const) : ([now, other] as const)), {
          prior,
          record,
        });
  const [faraday, multiplier] =
    detector === 'multiplier' ? [before.faraday, now ?? before.multiplier] : [now ?? before.faraday, before.multiplier];
  if (pair === null) return { record, measured: before.measured, faraday, multiplier };
  const spent = (sight: Sight | null) => (sight === null ? null : { ...sight, used: true });
  return {
    record,
    measured: pair,
    faraday: detector === 'multiplier' ? spent(faraday) : faraday,
    multiplier: detector === 'multiplier' ? multiplier : spent(multiplier),
  };
}
