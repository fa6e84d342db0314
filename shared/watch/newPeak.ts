/** A peak that was not there, at a mass that no watched direction covers. */
import { totalOfMean } from './baseline.ts';
import type { Frame } from './frame.ts';
import { onDelayOf } from './onDelay.ts';
import { direction } from './whitening.ts';

/** Share of the whole spectrum: below before, above now. */
const USUAL_SHARE = 0.01;
const NEW_SHARE = 5e-4;
const NEW_SIGMA = 8;
const NEW_SCANS = 5;
/** Below mass 3 the foot of the mass filter moves by itself. */
const LOWEST_MASS = 3;

/** True once the same mass has stood out for five scans. */
const newPeakDelay = (periodSeconds: number): number =>
  Math.max(NEW_SCANS, onDelayOf({ lane: 'scan', instrument: false, gross: false, witnessed: false, periodSeconds }));

export function followNewPeak(frame: Frame): boolean {
  const { memory, baseline, reference, middle } = frame;
  const total = totalOfMean(baseline);
  const { track } = memory;
  const whitener = frame.whitener('scan', null);
  let whitened: Float64Array | null = null;
  let best = 0;
  let mass = 0;
  for (let m = 1; m < middle.length; m++) {
    // What comes back from below zero, where a neighbour's foot has been taken off, is no peak.
    const height = middle[m]! + Math.min(0, reference.spectrum[m]!);
    if (height < NEW_SHARE * total || baseline.masses[m - 1]! < LOWEST_MASS) continue;
    if (reference.spectrum[m]! > USUAL_SHARE * total || height < NEW_SIGMA * Math.sqrt(baseline.variance[m]!)) continue;
    whitened ??= whitener.apply(middle);
    const unit = new Float64Array(middle.length);
    unit[m] = 1;
    const z = whitened[m]! / Math.sqrt(whitener.information(direction(unit)));
    if (z > Math.max(NEW_SIGMA, best)) {
      best = z;
      mass = baseline.masses[m - 1]!;
    }
  }
  track.peak =
    mass === 0 ? { mass: 0, scans: 0 } : { mass, scans: mass === track.peak.mass ? track.peak.scans + 1 : 1 };
  return track.peak.scans >= newPeakDelay(frame.periodSeconds) && !memory.settling;
}
