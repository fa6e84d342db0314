/** Whether a cause accounts for a change: what it leaves over, and what it asks for that is not there. */
import type { Frame } from './frame.ts';
import { grownBy } from './nullModel.ts';
import { wobbleOf } from './wobble.ts';

/** A cause that leaves more than a third of what came in, or asks for as much that is not there, is no explanation. */
export const POOR_SHARE = 0.35;
/** What a peak may differ from its pattern (two sigma of 30 %), and its noise. */
const PEAK_TOLERANCE = 0.6;
export const NOISE_TOLERANCE = 4;
const BREATHING_SIGMAS = 3;
/** Of the tallest peak of what stands already: small peaks that come with it are no second fault. */
const COMPANY_SHARE = 0.005;

/** A direction and how much of it. */
export interface Part {
  readonly direction: Float64Array;
  readonly amplitude: number;
}

/** What open alerts stand for already, in the shape in which each was seen; null when none does. */
export function explainedByStanding({ memory, q, state }: Frame): Float64Array | null {
  let known: Float64Array | null = null;
  for (const standing of memory.standing) {
    const { direction, observed, amplitude, state: raisedIn } = standing;
    if (!direction || raisedIn !== state || direction.length !== q.length) continue;
    known ??= new Float64Array(q.length);
    const grown = grownBy(standing);
    // Where nothing of it was seen yet, as its pattern says.
    for (let m = 0; m < q.length; m++)
      known[m]! += grown * (observed?.[m] ?? 0) || Math.max(0, amplitude) * direction[m]!;
  }
  return known;
}

/** No gas is below zero: where a neighbour's foot has been taken off, what comes back to nothing is none. */
function belowZero({ baseline, reference, q }: Frame, m: number): number {
  const usual = reference.spectrum[m]!;
  const noise = NOISE_TOLERANCE * Math.sqrt(baseline.variance[m]!);
  if (usual > -noise) return 0;
  return q[m]! > noise ? -usual : Number.POSITIVE_INFINITY;
}

/** How far a channel may be off without a cause: noise, tail, what stands, and the breathing of the chamber's own gases. */
export function tolerances(frame: Frame): Float64Array {
  const { baseline, reference, state } = frame;
  const known = explainedByStanding(frame);
  const company = known
    ? COMPANY_SHARE * known.reduce((most, value, m) => (m > 0 ? Math.max(most, value) : most), 0)
    : 0;
  const out = baseline.variance.map(
    (variance, m) =>
      NOISE_TOLERANCE * Math.sqrt(variance) +
      0.05 * Math.abs(reference.spectrum[m]!) +
      belowZero(frame, m) +
      Math.max(0, reference.tail?.[m] ?? 0) +
      PEAK_TOLERANCE * Math.abs(known?.[m] ?? 0) +
      company,
  );
  for (const { own, channels } of reference.spectra) {
    const wobble = BREATHING_SIGMAS * wobbleOf(own, state);
    for (let m = 1; m < out.length; m++) out[m]! += wobble * channels[m]!;
  }
  // m/z 1 carries the foot of the mass filter: it speaks for nothing.
  const foot = baseline.masses.indexOf(1) + 1;
  if (foot > 0) out[foot] = Number.POSITIVE_INFINITY;
  return Float64Array.from(out);
}

/**
 * Share of the rise that a cause leaves over, or asks for without its being there, beyond what is tolerated. A channel
 * that has fallen counts only where the cause asks it to rise.
 */
export function leftShare(change: Float64Array, explained: Float64Array, tolerance: Float64Array): number {
  let left = 0;
  let all = 0;
  for (let m = 1; m < change.length; m++) {
    const allowed = tolerance[m]! + PEAK_TOLERANCE * Math.abs(explained[m]!);
    if (!Number.isFinite(allowed)) continue;
    all += Math.max(0, change[m]! - tolerance[m]!);
    if (change[m]! > explained[m]!) left += Math.max(0, change[m]! - Math.max(0, explained[m]!) - allowed);
    else left += Math.max(0, explained[m]! - Math.max(0, change[m]!) - allowed);
  }
  return all > 0 ? left / all : 0;
}

/**
 * The fault as it was seen: channels that stand out of noise and of the breathing of the chamber's own gases. The
 * clearest of its own peaks is always kept.
 */
export function shapeSeen(frame: Frame, change: Float64Array, { direction, amplitude }: Part): Float64Array {
  const tolerance = tolerances(frame);
  const out = change.map((value, m) => (Math.abs(value) > tolerance[m]! ? value : 0));
  let clearest = 0;
  const clarity = (m: number) => Math.abs(amplitude * direction[m]!) / tolerance[m]!;
  for (let m = 1; m < change.length; m++) if (clarity(m) > clarity(clearest) || clearest === 0) clearest = m;
  if (out[clearest] === 0) out[clearest] = amplitude * direction[clearest]!;
  return out;
}
