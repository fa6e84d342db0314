/**
 * How the spectrum stood just before something happened. Gas loads, temperature and pumping breathe over hours; within
 * the minutes of a step they have hardly moved. So what steps is named by its difference from the last quiet scans,
 * with the breathing cut down to what it can do in that time:
 *
 *   share of the breathing = √(1 − exp(−2 Δt / τ)),  a first-order random walk about its mean with time constant τ
 *
 * (G. E. Uhlenbeck, L. S. Ornstein, Phys. Rev. 36 (1930) 823). A slow change has no "before" and is named as a whole.
 */
import { plain, typed } from './channels.ts';
import type { Frame } from './frame.ts';
import type { Vector } from './memory.ts';
import { HOUR } from './parameters.ts';

/** A mean deviation from the reference, and the middle of the time over which it was taken. */
export interface Before {
  readonly deviation: Vector;
  readonly atMs: number;
  /** Calibration and baseline that it was measured from: from another it says nothing. */
  readonly footing: string;
}

export interface CalmBook {
  state: string;
  footing: string;
  /** The last full block of quiet scans, and the one that is being filled. */
  before: Before | null;
  now: { sum: Vector; scans: number; sinceMs: number } | null;
  /** Scans in a row in which a step along a trigger stood out; absent in memories of before. */
  steps?: { [trigger: string]: number };
}

export const emptyCalm = (): CalmBook => ({ state: '', footing: '', before: null, now: null });

type Footed = Pick<Frame, 'memory' | 'baseline'>;
const footingOf = ({ memory, baseline }: Footed): string => `${memory.calibration} ${baseline.sinceMs}`;

/** Quiet scans in a block: their mean has a third of the noise of a scan. */
const BLOCK_SCANS = 10;
/** Time constant of gas loads: hours to a day (our judgement; the shorter, the more is allowed). */
const BREATHING_SECONDS = 5 * HOUR;
/** Below this the baseline's own errors remain. */
const LEAST_BREATHING = 0.3;
/** What is further back is no "before". */
const LONGEST_SECONDS = 4 * HOUR;

/** Takes a quiet scan into the running block. Tails move too fast to be a before. */
export function followCalm(frame: Frame, quiet: boolean): void {
  const { memory, deviation, atMs, state } = frame;
  const book = memory.calm;
  const footing = footingOf(frame);
  if (memory.settling || book.state !== state || book.footing !== footing)
    memory.calm = { ...emptyCalm(), state, footing };
  if (memory.settling || !quiet) return;
  const { now, before } = memory.calm;
  const fits = now !== null && now.sum.length === deviation.length;
  const sum = plain(deviation);
  if (fits) for (let m = 0; m < sum.length; m++) sum[m]! += now.sum[m]!;
  const block = { sum, scans: (fits ? now.scans : 0) + 1, sinceMs: fits ? now.sinceMs : atMs };
  if (block.scans < BLOCK_SCANS) {
    memory.calm = { ...memory.calm, before, now: block };
    return;
  }
  const mean = block.sum.map((value) => value / block.scans);
  memory.calm = { ...memory.calm, before: { deviation: mean, atMs: (block.sinceMs + atMs) / 2, footing }, now: null };
}

export interface Step {
  readonly change: Float64Array;
  /** Share of the usual breathing that the time since can hold. */
  readonly breathing: number;
}

/** The change since `before`; null where there is none, or it is too long ago. */
export function stepSince(
  before: Before | null | undefined,
  change: Float64Array,
  frame: Footed & Pick<Frame, 'atMs'>,
): Step | null {
  if (!before || before.deviation.length !== change.length || before.footing !== footingOf(frame)) return null;
  const { atMs } = frame;
  const seconds = (atMs - before.atMs) / 1000;
  if (seconds > LONGEST_SECONDS) return null;
  const usual = typed(before.deviation);
  const breathing = Math.sqrt(1 - Math.exp((-2 * seconds) / BREATHING_SECONDS));
  return { change: change.map((value, m) => value - usual[m]!), breathing: Math.max(LEAST_BREATHING, breathing) };
}
