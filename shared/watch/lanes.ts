/**
 * Three lanes look for the same directions at three speeds: single scans for what is plain, a running mean of about
 * 25 scans for what is small, and a day's mean against the pinned reference for what grows slowly.
 */
import { widening } from './blockMaxima.ts';
import { thresholdOf } from './budget.ts';
import { typed } from './channels.ts';
import { advanceDay } from './dayLane.ts';
import type { Frame } from './frame.ts';
import type { Lane } from './nullModel.ts';
import { meanShareOf, onDelayOf, youngMean } from './onDelay.ts';
import { GROSS_SIGMA, OTHER_STATE_FACTOR } from './parameters.ts';
import { vector } from './rows.ts';
import { meanExcess as excessOf, isHasty, meanNoise, noiseLevel } from './scanNoise.ts';
import { keysOf, type Trigger } from './triggers.ts';
import { along, type Whitener } from './whitening.ts';
import { isWitnessed } from './witness.ts';

/** Quiet enough to learn from. */
const QUIET_SIGMA = 3.5;
/** A lane speaks once its average holds this much weight. */
const MEAN_READY = 0.2;
/** From here on its scatter is the final one. */
const MEAN_FULL = 0.8;
/** Noise of the mean beyond the usual that is worth minding. */
const EXCESS = 1.1;
/** Share of the dead band that a lane asks for; naming checks it again. */
const BAND_SHARE: Record<Lane, number> = { scan: 0.8, mean: 0.8, day: 0.5 };
/**
 * What stands above its threshold in the very first scan of a state has been there before it: the count begins half-way,
 * as a sum with a head start does (J. M. Lucas, R. B. Crosier, Technometrics 24 (1982) 199), and is lost with the first
 * scan below. States change some hundred times a month at most, so it adds a few per cent to the looks of the budget.
 */
const HEAD_START = 1;

export interface LaneSpectra {
  readonly scan: Float64Array;
  readonly mean: Float64Array | null;
  /** That the mean holds, 0 to 1. */
  readonly meanWeight: number;
  /** How far the mean scatters beyond one whose scans were all measured as the newest, at least 1. */
  readonly meanExcess: number;
  readonly day: Float64Array | null;
}

export interface Exceedance {
  readonly trigger: Trigger;
  readonly lane: Lane;
  readonly z: number;
  readonly scans: number;
}

export interface LaneVerdict {
  /** The strongest exceedance that has lasted for its on-delay. */
  readonly worst: Exceedance | null;
  readonly quiet: boolean;
  /** Largest z of the scan lane. */
  readonly highest: number;
  /** The scan's deviation by the model of instruments. */
  readonly whitened: Float64Array;
  /** Per trigger, of the running mean once it is full; not above zero: 0. */
  readonly meanZ: Float64Array | null;
}

/** Brings the averages up to this scan. */
export function advanceLanes(frame: Frame): LaneSpectra {
  const { memory, baseline, middle, deviation, periodSeconds } = frame;
  const { track } = memory;
  const levels = followLevels(memory, baseline);
  let meanExcess = 1;
  if (track.recent.length >= 3) {
    const share = meanShareOf(periodSeconds);
    const before = track.mean?.sum;
    const sum = new Array<number>(middle.length);
    for (let m = 0; m < sum.length; m++) sum[m] = (before?.[m] ?? 0) + share * (middle[m]! - (before?.[m] ?? 0));
    const weight = (track.mean?.weight ?? 0) + share * (1 - (track.mean?.weight ?? 0));
    const noise = levels || track.mean?.noise ? { share, weight, levels: levels ?? [1] } : null;
    const held = noise ? meanNoise(track.mean?.noise, noise) : undefined;
    if (noise) meanExcess = excessOf(held, noise);
    track.mean = { sum, weight, ...(held !== undefined && (levels || meanExcess > EXCESS) && { noise: held }) };
  }
  const meanWeight = track.mean?.weight ?? 0;
  // Quick scans say nothing of a day.
  const day = isHasty(baseline) ? null : advanceDay(frame);
  if (meanExcess < EXCESS) meanExcess = 1;
  return { scan: deviation, mean: averaged(track.mean, MEAN_READY), meanWeight, meanExcess, day };
}

/** Null while the last scans were measured as is usual. */
function followLevels({ track }: Frame['memory'], baseline: Frame['baseline']): readonly number[] | null {
  const level = noiseLevel(baseline);
  const levels = [...(track.levels ?? [1, 1]), level].slice(-3);
  if (levels.every((value) => value === 1)) {
    delete track.levels;
    return null;
  }
  track.levels = levels;
  return levels;
}

function averaged(average: { sum: readonly number[]; weight: number } | null, ready: number): Float64Array | null {
  if (!average || average.weight <= ready) return null;
  const out = typed(average.sum);
  for (let m = 0; m < out.length; m++) out[m]! /= average.weight;
  return out;
}

export function judgeLanes(frame: Frame, spectra: LaneSpectra, triggers: readonly Trigger[]): LaneVerdict {
  const { memory } = frame;
  const { track } = memory;
  const { meanWeight, meanExcess } = spectra;
  track.judged = (track.judged ?? 0) + 1;
  const step: Step = {
    frame,
    triggers,
    meanWeight,
    meanExcess,
    before: track.counts,
    counts: {},
    first: track.judged === 1 && memory.previousState !== null ? HEAD_START : 0,
    room: widening(frame.baseline.maxima, keysOf(triggers)),
    worst: null,
  };
  const scan = zOf(step, 'scan', spectra.scan);
  const mean = spectra.mean && zOf(step, 'mean', spectra.mean);
  const day = spectra.day && zOf(step, 'day', spectra.day);
  count(step, 'scan', scan);
  if (mean) count(step, 'mean', mean);
  if (day) count(step, 'day', day);
  else if (isHasty(frame.baseline)) keepDayCounts(step);
  track.counts = step.counts;
  const highest = highestOf(scan.z);
  return {
    worst: step.worst,
    quiet: highest <= QUIET_SIGMA && (!mean || highestOf(mean.z) <= QUIET_SIGMA * youngMean(meanWeight) * meanExcess),
    highest,
    whitened: scan.whitened,
    meanZ: mean && meanWeight > MEAN_FULL && meanExcess === 1 ? mean.z : null,
  };
}

interface Step {
  readonly frame: Frame;
  readonly triggers: readonly Trigger[];
  readonly meanWeight: number;
  readonly meanExcess: number;
  readonly before: Readonly<Record<string, number>>;
  readonly counts: Record<string, number>;
  readonly first: number;
  readonly room: ReturnType<typeof widening>;
  worst: Exceedance | null;
}

interface Statistics {
  /** Per trigger; not above zero: 0. */
  readonly z: Float64Array;
  readonly amplitude: Float64Array;
  readonly whitened: Float64Array;
}

function zOf({ frame, triggers }: Step, lane: Lane, spectrum: Float64Array): Statistics {
  const rise = whitenedBy(frame.whitener(lane, spectrum), spectrum, null);
  const instrument = whitenedBy(frame.whitener(lane, null), spectrum, rise);
  const z = vector(triggers.length);
  const amplitude = vector(triggers.length);
  for (let i = 0; i < triggers.length; i++) {
    const trigger = triggers[i]!;
    const { whitened, whitener } = trigger.instrument ? instrument : rise;
    const projection = along(trigger.direction, whitened);
    if (projection <= 0) continue;
    const information = whitener.informationAt(triggers, i);
    z[i] = projection / Math.sqrt(information);
    amplitude[i] = projection / information;
  }
  return { z, amplitude, whitened: instrument.whitened };
}

function highestOf(z: Float64Array): number {
  let most = 0;
  for (let i = 0; i < z.length; i++) if (z[i]! > most) most = z[i]!;
  return most;
}

/** Threshold before anything that is of one statistic alone. */
function levelOf({ frame, triggers, meanWeight, meanExcess }: Step, lane: Lane): number {
  const { periodSeconds } = frame;
  const onDelay = onDelayOf({ lane, instrument: false, gross: false, witnessed: false, periodSeconds });
  const threshold = thresholdOf(lane, { statistics: triggers.length, onDelay, periodSeconds });
  return lane === 'mean' ? threshold * youngMean(meanWeight) * meanExcess : threshold;
}

/** The day's mean stands still while scans are quick, and so does what it has shown. */
function keepDayCounts({ before, counts }: Step): void {
  for (const [key, scans] of Object.entries(before)) if (key.endsWith('.day')) counts[key] = scans;
}

function count(step: Step, lane: Lane, { z, amplitude }: Statistics): void {
  const { triggers, before, counts, room, frame } = step;
  const level = levelOf(step, lane);
  const stateRoom = frame.state === 'base' ? 1 : OTHER_STATE_FACTOR;
  for (let i = 0; i < triggers.length; i++) {
    const trigger = triggers[i]!;
    const least = trigger.least * (trigger.instrument ? 1 : BAND_SHARE[lane]);
    // The day lane stands on weeks of the chamber's own data and has its margin in the naming.
    const threshold = lane === 'day' ? level * stateRoom : level * Math.max(stateRoom, room(i, trigger.instrument));
    const key = trigger.keys[lane];
    if (z[i]! <= threshold || amplitude[i]! <= least) {
      // The day lane forgets slowly: one noisy scan does not restart two hours.
      if (lane === 'day' && (before[key] ?? 0) > 1) counts[key] = before[key]! - 1;
      continue;
    }
    const gross = lane === 'scan' && z[i]! > GROSS_SIGMA * stateRoom;
    // Two scans are asked of something gross, and what was only in the first is a puff.
    const scans = (before[key] ?? (gross ? 0 : step.first)) + 1;
    counts[key] = scans;
    if (step.worst && z[i]! <= step.worst.z) continue;
    const witnessed = gross && !trigger.own && isWitnessed(frame, trigger.direction, amplitude[i]!);
    const { instrument } = trigger;
    if (scans >= onDelayOf({ lane, instrument, gross, witnessed, periodSeconds: frame.periodSeconds }))
      step.worst = { trigger, lane, z: z[i]!, scans };
  }
}

interface Whitened {
  readonly whitener: Whitener;
  readonly whitened: Float64Array;
}

/** For rises and for causes that make everything fall; without a gas that has fallen the two are one. */
function whitenedBy(whitener: Whitener, spectrum: Float64Array, other: Whitened | null): Whitened {
  return other?.whitener === whitener ? other : { whitener, whitened: whitener.apply(spectrum) };
}
