/** One scan in front of its reference: what every later step looks at. */

import type { Cause } from './cause.ts';
import { middleOf, typed } from './channels.ts';
import type { Baseline, Memory } from './memory.ts';
import { type Lane, nullModel } from './nullModel.ts';
import { type OwnCause, ownCauses } from './ownCauses.ts';
import type { Reference } from './reference.ts';
import type { WatchContext, WatchInput } from './types.ts';
import { makeWhitener, type Whitener } from './whitening.ts';

export interface Frame {
  readonly memory: Memory;
  readonly baseline: Baseline;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly atMs: number;
  /** Since the scan before, at most an hour. */
  readonly seconds: number;
  readonly periodSeconds: number;
  readonly state: string;
  readonly q: Float64Array;
  readonly reference: Reference;
  /** q minus reference; 0 where not measured, little below where a tail falls faster than it must. */
  readonly deviation: Float64Array;
  /** Per channel the middle one of the last three deviations: a single spike never enters an average. */
  readonly middle: Float64Array;
  readonly gasCauses: readonly Cause[];
  readonly ownCauses: readonly OwnCause[];
  /** For rises of a gas (`free`: gases that have fallen in this change are free) or for causes that make all fall. */
  whitener(lane: Lane, free: Float64Array | null): Whitener;
}

/** A tail that falls is no news; noise about it keeps both its sides, or averages would creep upwards. */
const TAIL_SIGMAS = 2;

export type FrameStart = Omit<Frame, 'deviation' | 'middle' | 'ownCauses' | 'whitener'>;

export function makeFrame(start: FrameStart): Frame {
  const { memory, baseline, reference, q, atMs } = start;
  const { spectrum, lifted } = reference;
  const deviation = new Float64Array(q.length);
  for (let m = 0; m < q.length; m++) {
    const d = q[m]! - spectrum[m]!;
    if (!Number.isFinite(d)) continue;
    deviation[m] = lifted?.[m] ? Math.max(d, -TAIL_SIGMAS * Math.sqrt(baseline.variance[m]!)) : d;
  }
  const recent = [...memory.track.recent.slice(-2), Array.from(deviation)];
  memory.track.recent = recent;
  const whiteners = new Map<string, Whitener>();
  return {
    ...start,
    deviation,
    middle: middleOfThree(recent, deviation),
    ownCauses: ownCauses(baseline, reference, (start.input.analysis.measurement?.massScale ?? null) !== null),
    whitener(lane, free) {
      const key = `${lane}${free ? '+' : ''}`;
      const known = whiteners.get(key);
      if (known) return known;
      const { variance, columns } = nullModel({
        memory,
        baseline,
        reference,
        lane,
        atMs,
        ...(free && { change: free }),
      });
      const made = makeWhitener(variance, columns);
      whiteners.set(key, made);
      return made;
    },
  };
}

function middleOfThree(recent: readonly (readonly number[])[], latest: Float64Array): Float64Array {
  const [a, b, c] = recent;
  if (!a || !b || !c) return latest;
  const out = new Float64Array(latest.length);
  for (let m = 0; m < out.length; m++) out[m] = middleOf(a[m]!, b[m]!, c[m]!);
  return out;
}

/** Average of the last `count` deviations. */
export function recentMean({ memory }: Frame, count: number): Float64Array {
  const rows = memory.track.recent.slice(-count);
  const out = typed(rows[0]!).fill(0);
  for (const row of rows) for (let m = 0; m < out.length; m++) out[m]! += row[m]! / rows.length;
  return out;
}
