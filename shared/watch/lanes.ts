/**
 * Three lanes look for the same directions at three speeds: single scans for what is plain, a running mean of about
 * 25 scans for what is small, and a day's mean against the pinned reference for what grows slowly.
 */
import { plain, typed } from './channels.ts';
import type { Frame } from './frame.ts';
import { hasFallen, LANES, type Lane } from './nullModel.ts';
import {
  DAY_LANE_HOURS,
  GROSS_ON_DELAY,
  GROSS_SIGMA,
  HOUR,
  INSTRUMENT_ON_DELAY,
  MEAN_SHARE,
  ON_DELAY,
  OTHER_STATE_FACTOR,
  THRESHOLD,
} from './parameters.ts';
import { pinnedNow } from './reference.ts';
import type { Trigger } from './triggers.ts';
import { along, type Whitener } from './whitening.ts';

/** Quiet enough to learn from. */
const QUIET_SIGMA = 3.5;
/** A lane speaks once its average holds this much weight. */
const MEAN_READY = 0.2;
const DAY_READY = 0.7;
/** Share of the dead band that a lane asks for; naming checks it again. */
const BAND_SHARE: Record<Lane, number> = { scan: 0.8, mean: 0.8, day: 0.5 };
const DAY_ON_HOURS = 2;

export interface LaneSpectra {
  readonly scan: Float64Array;
  readonly mean: Float64Array | null;
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
}

/** Brings the averages up to this scan. */
export function advanceLanes(frame: Frame): LaneSpectra {
  const { memory, middle, deviation } = frame;
  const { track } = memory;
  if (track.recent.length >= 3) {
    const sum = track.mean ? typed(track.mean.sum) : new Float64Array(middle.length);
    for (let m = 0; m < sum.length; m++) sum[m]! += MEAN_SHARE * (middle[m]! - sum[m]!);
    const weight = (track.mean?.weight ?? 0) + MEAN_SHARE * (1 - (track.mean?.weight ?? 0));
    track.mean = { sum: plain(sum), weight };
  }
  return { scan: deviation, mean: averaged(track.mean, MEAN_READY), day: advanceDay(frame) };
}

function averaged(average: { sum: readonly number[]; weight: number } | null, ready: number): Float64Array | null {
  if (!average || average.weight <= ready) return null;
  return typed(average.sum).map((value) => value / average.weight);
}

function advanceDay(frame: Frame): Float64Array | null {
  const { memory, baseline, reference, middle, q, seconds, periodSeconds } = frame;
  if (memory.settling) return null;
  const pinned = pinnedNow(memory, baseline, reference.spectra);
  if (!pinned) return null;
  const share = Math.min(0.5, Math.min(seconds, 4 * periodSeconds) / (DAY_LANE_HOURS * HOUR));
  const sum = baseline.day ? typed(baseline.day.sum) : new Float64Array(q.length);
  for (let m = 0; m < q.length; m++) {
    if (!Number.isFinite(q[m]!)) continue;
    const limit = 4 * Math.sqrt(baseline.variance[m]!) + 0.5 * Math.abs(pinned[m]!);
    const x = middle[m]! + reference.spectrum[m]! - pinned[m]!;
    sum[m]! += share * (Math.max(-limit, Math.min(limit, x)) - sum[m]!);
  }
  const weight = (baseline.day?.weight ?? 0) + share * (1 - (baseline.day?.weight ?? 0));
  baseline.day = { sum: plain(sum), weight };
  return averaged(baseline.day, DAY_READY);
}

export function judgeLanes(frame: Frame, spectra: LaneSpectra, triggers: readonly Trigger[]): LaneVerdict {
  const { memory, state } = frame;
  const before = memory.track.counts;
  const counts: Record<string, number> = {};
  let worst: Exceedance | null = null;
  let quiet = true;
  let highest = 0;
  for (const lane of LANES) {
    const spectrum = spectra[lane];
    if (!spectrum) continue;
    const { rise, instrument } = whitenedBoth(frame, lane, spectrum);
    const threshold = THRESHOLD[lane] * (state === 'base' ? 1 : OTHER_STATE_FACTOR);
    for (const trigger of triggers) {
      const { whitener, whitened } = trigger.instrument ? instrument : rise;
      const projection = along(trigger.direction, whitened);
      if (projection <= 0) continue;
      const information = whitener.information(trigger.direction);
      const z = projection / Math.sqrt(information);
      if (lane !== 'day' && z > QUIET_SIGMA) quiet = false;
      if (lane === 'scan') highest = Math.max(highest, z);
      const share = trigger.instrument ? 1 : BAND_SHARE[lane];
      const key = `${trigger.key}.${lane}`;
      if (z <= threshold || projection / information <= trigger.least * share) {
        // The day lane forgets slowly: one noisy scan does not restart two hours.
        if (lane === 'day' && (before[key] ?? 0) > 1) counts[key] = before[key]! - 1;
        continue;
      }
      const scans = (before[key] ?? 0) + 1;
      counts[key] = scans;
      if (scans >= onDelay(frame, trigger, lane, z) && (!worst || z > worst.z)) worst = { trigger, lane, z, scans };
    }
  }
  memory.track.counts = counts;
  return { worst, quiet, highest };
}

interface Whitened {
  readonly whitener: Whitener;
  readonly whitened: Float64Array;
}

/** For rises and for causes that make everything fall; without a gas that has fallen the two are one. */
function whitenedBoth(frame: Frame, lane: Lane, spectrum: Float64Array): { rise: Whitened; instrument: Whitened } {
  const plainWhitener = frame.whitener(lane, null);
  const instrument = { whitener: plainWhitener, whitened: plainWhitener.apply(spectrum) };
  if (!frame.reference.spectra.some((own) => hasFallen(own, spectrum, frame.baseline, frame.state))) {
    return { rise: instrument, instrument };
  }
  const whitener = frame.whitener(lane, spectrum);
  return { rise: { whitener, whitened: whitener.apply(spectrum) }, instrument };
}

function onDelay({ periodSeconds, state }: Frame, { instrument }: Trigger, lane: Lane, z: number): number {
  if (instrument) return INSTRUMENT_ON_DELAY;
  if (lane === 'day') return Math.ceil((DAY_ON_HOURS * HOUR) / periodSeconds);
  const gross = GROSS_SIGMA * (state === 'base' ? 1 : OTHER_STATE_FACTOR);
  return lane === 'scan' && z > gross ? GROSS_ON_DELAY : ON_DELAY;
}
