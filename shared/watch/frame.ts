/** One scan in front of its reference: what every later step looks at. */

import type { Cause } from './cause.ts';
import { middleOf, plain, typed } from './channels.ts';
import { type Judging, judgingOf, whiteners } from './judging.ts';
import { keep } from './kept.ts';
import type { Baseline, Memory } from './memory.ts';
import type { Lane } from './nullModel.ts';
import { type OwnCause, ownCauses } from './ownCauses.ts';
import type { Reference } from './reference.ts';
import { vector } from './rows.ts';
import { backgroundTotal, type Trigger, triggersOf } from './triggers.ts';
import type { WatchContext, WatchInput } from './types.ts';
import type { Whitener } from './whitening.ts';

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
  readonly triggers: readonly Trigger[];
  /** For rises of a gas (`free`: gases that have clearly fallen in this change are free) or for causes that make all fall. */
  whitener(lane: Lane, free: Float64Array | null): Whitener;
}

/** A tail that falls is no news; noise about it keeps both its sides, or averages would creep upwards. */
const TAIL_SIGMAS = 2;

export type FrameStart = Omit<Frame, 'deviation' | 'middle' | 'ownCauses' | 'triggers' | 'whitener'>;

export function makeFrame(start: FrameStart): Frame {
  const { memory, baseline, reference, q } = start;
  const { spectrum, lifted } = reference;
  const deviation = vector(q.length);
  for (let m = 0; m < q.length; m++) {
    const d = q[m]! - spectrum[m]!;
    if (!Number.isFinite(d)) continue;
    deviation[m] = lifted?.[m] ? Math.max(d, -TAIL_SIGMAS * Math.sqrt(baseline.variance[m]!)) : d;
  }
  const recent = [...memory.track.recent.slice(-2), plain(deviation)];
  memory.track.recent = recent;
  return { ...start, deviation, middle: middleOfThree(recent, deviation), ...judgingBy(start) };
}

/** By what is kept; in a tail the reference moves with every scan, and so does what follows from it. */
function judgingBy({ memory, baseline, reference, atMs, input, gasCauses }: FrameStart): Omit<Judging, 'gasCauses'> {
  const followed = (input.analysis.measurement?.massScale ?? null) !== null;
  const kept = keep({ memory, baseline, atMs, followed });
  const judging = judgingOf({ memory, baseline, kept, gasCauses });
  if (!reference.lifted) return judging;
  const owns = ownCauses(baseline, reference, followed);
  const gases = judging.triggers.filter(({ own }) => !own);
  return {
    ownCauses: owns,
    triggers: [...gases, ...triggersOf([], owns, baseline, reference, backgroundTotal(memory, baseline))],
    whitener: whiteners({ memory, baseline, reference, atMs }),
  };
}

function middleOfThree(recent: readonly (readonly number[])[], latest: Float64Array): Float64Array {
  const [a, b, c] = recent;
  if (!a || !b || !c) return latest;
  const out = vector(latest.length);
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
