/**
 * A gross leak that needs no second scan: what single scans cannot tell from a glitch of the analyser, the gauge can,
 * which is another instrument. Both must say the same: pressure is tenfold, by about what the cause says, and several
 * peaks of the cause are up together, since a single spiked peak is the commonest glitch of all.
 */
import type { Frame } from './frame.ts';
import type { Direction } from './whitening.ts';

/** Of the usual pressure: what stays below tenfold can wait for the second scan, since a puff is gone by then and the gauge sees it as well. */
const LEAST_RISE = 9;
/** The gauge's factor for a gas and the analyser's sensitivity to it err by some tens of per cent each. */
const ALIKE_FACTOR = 2;
const LEAST_PEAKS = 3;
/** A peak of the cause takes part from this share of its base peak on; it is up from so many sigma on. */
const PEAK_SHARE = 0.02;
const UP_SIGMAS = 6;
/** It must be up by this share of what the cause asks of it. */
const UP_SHARE = 0.3;

export function isWitnessed(
  { memory, baseline, reference, deviation }: Frame,
  { dense, support }: Direction,
  amplitude: number,
): boolean {
  const usual = reference.spectrum[0]!;
  if (!baseline.hasGauge || !(usual > 0) || memory.standing.length > 0) return false;
  const rise = deviation[0]!;
  const foretold = amplitude * dense[0]!;
  if (rise < LEAST_RISE * usual || rise < foretold / ALIKE_FACTOR || rise > foretold * ALIKE_FACTOR) return false;
  let base = 0;
  for (const m of support) if (m > 0 && dense[m]! > base) base = dense[m]!;
  let peaks = 0;
  for (const m of support) {
    if (m === 0 || dense[m]! < PEAK_SHARE * base) continue;
    const least = Math.max(UP_SIGMAS * Math.sqrt(baseline.variance[m]!), UP_SHARE * amplitude * dense[m]!);
    if (deviation[m]! > least) peaks++;
  }
  return peaks >= LEAST_PEAKS;
}
