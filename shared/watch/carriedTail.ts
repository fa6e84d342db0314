/**
 * The tail of a vent goes on while gas is let in. What is usual in that state was mostly learned in a dry chamber, so what
 * base showed above its own level when the state began is expected in the state as well: no more than was granted, and less
 * the longer it lasts. Light gases are granted nothing: they do not hang about.
 */
import { isSameList } from './channels.ts';
import type { Baseline, Memory, Settling } from './memory.ts';
import { NOT_STICKING, tailCap } from './settling.ts';
import type { Lift } from './tailLift.ts';

/** Less than this above what is usual is no tail, and neither is noise. */
const LEAST_SHARE = 0.02;
const CLEAR_SIGMAS = 2;
/** Noise about a tail keeps its upper side, as in base (tailLift.ts). */
const ROOM_SIGMAS = 1.5;

/** Null: no tail is carried, or nothing of it stands out here. `base`: what is expected without it. */
export function carriedTail(memory: Memory, baseline: Baseline, base: Float64Array, atMs: number): Lift | null {
  const { carried, baselines } = memory;
  if (!carried || carried.short || memory.state === 'base') return null;
  if (!baselines.base || !isSameList(baselines.base.masses, baseline.masses)) return null;
  if (carried.envelope.length !== base.length) return null;
  const reference = base.slice();
  const lifted = new Uint8Array(base.length);
  let any = false;
  for (let m = 1; m < base.length; m++) {
    if (NOT_STICKING.has(baseline.masses[m - 1]!)) continue;
    const sigma = Math.sqrt(baseline.variance[m]!);
    const left = leftOf(carried, m, atMs);
    if (left <= LEAST_SHARE * Math.max(0, base[m]!) + CLEAR_SIGMAS * sigma) continue;
    reference[m]! += left + ROOM_SIGMAS * sigma;
    lifted[m] = 1;
    any = true;
  }
  return any ? { reference, lifted, stands: true } : null;
}

function leftOf(carried: Settling, m: number, atMs: number): number {
  const seen = carried.envelope[m]! - carried.start[m]!;
  return Math.max(0, Math.min(seen, carried.granted[m]! * tailCap(carried, atMs)));
}
