/** The reference lifted to the tail of a settling, so far as a tail was granted and still has room. */
import type { Baseline, Settling } from './memory.ts';
import { type OwnSpectrum, wallPart } from './ownGases.ts';
import { DAY, HOUR, SETTLE } from './parameters.ts';
import { NOT_STICKING } from './settling.ts';

/** A mass is followed by itself when its noise is within 3 % of the envelope; otherwise its gas carries it. */
const KNOWN_WITHIN = 0.03;

export interface Lift {
  readonly reference: Float64Array;
  /** 0: baseline; 1: lifted by what is seen at this mass; 2: lifted with the gas that owns it. */
  readonly lifted: Uint8Array;
  /** Something large still stands above the baseline. */
  readonly stands: boolean;
}

export function liftTo(
  settling: Settling,
  base: Float64Array,
  baseline: Baseline,
  spectra: readonly OwnSpectrum[],
): Lift {
  const { envelope, room = settling.granted } = settling;
  const { mean, variance, masses } = baseline;
  const reference = base.slice();
  const lifted = new Uint8Array(base.length);
  const sigma = (m: number) => Math.sqrt(variance[m]!);
  const known = (m: number) =>
    variance[m]! * Math.max(1, envelope[m]! / Math.max(mean[m]!, 1e-300)) < (KNOWN_WITHIN * envelope[m]!) ** 2;
  const light = (m: number) => m > 0 && NOT_STICKING.has(masses[m - 1]!);
  // What was granted no tail, or hardly any by now, is not lifted: its room would hide what is there for other reasons.
  const hasRoom = (m: number) => room[m]! > 0.02 * base[m]! + 2 * sigma(m);
  let total = 0;
  for (let m = 1; m < mean.length; m++) total += Math.max(0, mean[m]!);
  let stands = false;
  for (let m = 0; m < base.length; m++) {
    if (!(hasRoom(m) && (known(m) || light(m))) || envelope[m]! <= base[m]! * 1.02 + 2 * sigma(m)) continue;
    reference[m] = envelope[m]! + 1.5 * sigma(m);
    lifted[m] = 1;
    if (m > 0 && envelope[m]! > 0.02 * total) stands = true;
  }
  for (const { own, channels } of spectra) {
    if (!lifted[own.marker]) continue;
    const factor =
      (reference[own.marker]! - base[own.marker]!) / Math.max(channels[own.marker]!, 0.5 * base[own.marker]!);
    for (let m = 1; m < base.length; m++) {
      if (lifted[m] === 1 || !(channels[m]! > 0) || known(m) || light(m)) continue;
      reference[m]! += factor * channels[m]!;
      lifted[m] = 2;
    }
  }
  liftByVisit(settling, base, reference, lifted, sigma);
  // Isotopes and fragments of a tail, too weak to be followed by themselves and of gases that the baseline hardly shows.
  const excess = reference.map((value, m) => (lifted[m] === 1 ? value - base[m]! : 0));
  const wall = excess.some((value) => value > 0) ? wallPart(excess, baseline) : null;
  for (let m = 1; m < base.length; m++) {
    if (lifted[m] || known(m)) continue;
    if (room[m]! > 0 && envelope[m]! > base[m]! + 4 * sigma(m)) {
      reference[m] = envelope[m]! + 2 * sigma(m);
      lifted[m] = 1;
    } else if (wall && wall[m]! > sigma(m)) {
      reference[m]! += wall[m]!;
      lifted[m] = 2;
    }
  }
  return { reference, lifted, stands };
}

/**
 * The tail of what was let in has the spectrum that the state had: the strongest of its peaks says how much of it is
 * left, and carries the peaks that are too weak to be followed.
 */
function liftByVisit(
  { letIn }: Settling,
  base: Float64Array,
  reference: Float64Array,
  lifted: Uint8Array,
  sigma: (m: number) => number,
): void {
  if (!letIn) return;
  let left = 0;
  for (let m = 1; m < base.length; m++) {
    if (lifted[m] === 1 && letIn[m]! > 0) left = Math.max(left, (reference[m]! - base[m]!) / letIn[m]!);
  }
  for (let m = 1; m < base.length; m++) {
    const part = left * Math.max(0, letIn[m]!);
    if (lifted[m] || part < 0.3 * sigma(m)) continue;
    reference[m]! += part;
    lifted[m] = 2;
  }
}

/** Weak masses keep a tail for so long at least and at most. */
const WEAK_SECONDS = { least: 12 * HOUR, most: 2 * DAY } as const;

/**
 * A tail is over when nothing large stands above the baseline, after two hours. While weak masses do it lasts until it is
 * twice as old as it was at first: what goes with one over time has halved by then. Not for longer than two days, since
 * less is called in a tail.
 */
export function isSettled(settling: Settling, { lifted, stands }: Lift, atMs: number): boolean {
  const age = (atMs - settling.atMs) / 1000;
  if (age > SETTLE.longestDays * DAY) return true;
  if (stands) return false;
  if (!lifted.some((kind) => kind === 1)) return age > 2 * HOUR;
  return age > Math.min(WEAK_SECONDS.most, Math.max(WEAK_SECONDS.least, settling.scaleSeconds));
}
