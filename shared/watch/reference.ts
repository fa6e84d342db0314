/**
 * What the spectrum should be now: baseline, moved by temperature, lifted by a tail where the chamber is settling.
 */

import { carriedTail } from './carriedTail.ts';
import { typed } from './channels.ts';
import type { Baseline, Memory, Settling, Vector } from './memory.ts';
import { type OwnSpectrum, ownSpectra } from './ownGases.ts';
import { isSettled, type Lift, liftTo } from './tailLift.ts';
import { TAIL_DOUBT } from './usualTail.ts';

/** Beyond ±8 K the exponential of a slope learned in a hall says nothing. */
const MOST_KELVIN = 8;

export interface Reference {
  readonly spectrum: Float64Array;
  readonly lifted: Uint8Array | null;
  /** By how much the reference was lifted for a tail; 0 where it was not. */
  readonly tail: Float64Array | null;
  /** How much of what was lifted may be no tail. */
  readonly doubt: Float64Array | null;
  readonly spectra: readonly OwnSpectrum[];
}

/** The spectrum at this temperature, by the slope of each gas. */
export function warmed(
  mean: Vector,
  baseline: Baseline,
  spectra: readonly OwnSpectrum[],
  temperatureC: number | null,
): Float64Array {
  const out = typed(mean);
  if (temperatureC === null || baseline.temperatureC === null) return out;
  const kelvin = Math.max(-MOST_KELVIN, Math.min(MOST_KELVIN, temperatureC - baseline.temperatureC));
  if (kelvin === 0) return out;
  for (const { own, channels } of spectra) {
    const factor = Math.exp(own.slope * kelvin) - 1;
    for (let m = 0; m < out.length; m++) out[m]! += channels[m]! * factor;
  }
  return out;
}

/** q minus the spectrum; 0 where not measured. */
export const deviationsFrom = (spectrum: Float64Array, q: Float64Array): Float64Array =>
  q.map((value, m) => (Number.isFinite(value) ? value - spectrum[m]! : 0));

/** Ends the settling in memory when its tail is over. */
export function referenceNow(memory: Memory, baseline: Baseline, atMs: number): Reference {
  const spectra = ownSpectra(baseline);
  const base = warmed(baseline.mean, baseline, spectra, memory.temperatureC);
  const lift = memory.settling
    ? liftTo(memory.settling, base, baseline, spectra)
    : carriedTail(memory, baseline, base, atMs);
  if (lift === null) return { spectrum: base, lifted: null, tail: null, doubt: null, spectra };
  const known = memory.settling?.known;
  if (memory.settling && isSettled(memory.settling, lift, atMs)) endSettling(memory, memory.settling, lift, atMs);
  const tail = lift.reference.map((value, m) => value - base[m]!);
  return { spectrum: lift.reference, lifted: lift.lifted, tail, doubt: doubtOf(tail, known), spectra };
}

/** What stands in a tail may be all fault; of a known one it is known how much. */
function doubtOf(tail: Float64Array, known: Settling['known']): Float64Array {
  if (!known) return tail;
  const doubt = tail.slice();
  for (const m of Object.keys(known)) doubt[Number(m)]! *= TAIL_DOUBT;
  return doubt;
}

/** The tail of a vent underneath that of a short state goes on when the short one is over. */
function endSettling(memory: Memory, { envelope, recent, under }: Settling, lift: Lift, atMs: number): void {
  memory.settling = under && !isSettled(under, lift, atMs) ? { ...under, envelope, recent } : null;
  if (memory.settling) return;
  memory.carried = null;
  // What was measured from a lifted reference says nothing from the baseline.
  memory.track.mean = null;
  memory.track.counts = {};
}

/** The pinned reference at the present temperature, without any tail. */
export function pinnedNow(memory: Memory, baseline: Baseline, spectra: readonly OwnSpectrum[]): Float64Array | null {
  if (!baseline.pinned) return null;
  return warmed(baseline.pinned.mean, baseline, spectra, memory.temperatureC);
}
