/**
 * Who else says so. A name that rests on one peak may be a spike, a neighbour's tail or a slipped baseline; a gauge that
 * has risen by what the cause should bring, or a second gas of the same cause, is another instrument or another peak.
 */
import type { Frame } from './frame.ts';
import { DEAD_BAND } from './parameters.ts';

/** One sigma of a gauge reading from scan to scan, and of a median of three scans against one. */
const GAUGE_REPEATS = 0.012;
const MIDDLE_SHARE = Math.sqrt(0.45);
const WITNESS_SIGMA = 4;
/** The gauge's gas factors and its own scale: it must have risen by more than half and less than twice what is asked. */
const GAUGE_SHARE = [0.5, 2] as const;

export interface WitnessInput {
  readonly frame: Frame;
  readonly signature: string;
  readonly change: Float64Array;
  readonly direction: Float64Array;
  readonly amplitude: number;
}

export function hasSecondWitness(input: WitnessInput): boolean {
  return gaugeSaysSo(input) || (input.signature === 'air-leak' && bothGasesOfAir(input));
}

/** The gauge has risen, clear of its scatter and of the dead band, and by about what the cause brings. */
function gaugeSaysSo({ frame, change, direction, amplitude }: WitnessInput): boolean {
  const { baseline, reference } = frame;
  const usual = reference.spectrum[0]!;
  const asked = amplitude * direction[0]!;
  if (!baseline.hasGauge || !(usual > 0) || !(asked > 0)) return false;
  const sigma = Math.hypot(GAUGE_REPEATS * usual, MIDDLE_SHARE * Math.sqrt(baseline.variance[0]!));
  const risen = change[0]!;
  const share = risen / asked;
  const isClear = risen > Math.max(WITNESS_SIGMA * sigma, 0.5 * DEAD_BAND * usual);
  return isClear && share > GAUGE_SHARE[0] && share < GAUGE_SHARE[1];
}

/** Both argon and oxygen, each clear of its noise and of what the peak breathes by: one alone may be a line or a fragment. */
function bothGasesOfAir({ frame, change }: WitnessInput): boolean {
  const { masses, variance } = frame.baseline;
  return [32, 40].every((mass) => {
    const m = masses.indexOf(mass) + 1;
    if (m === 0) return false;
    const noise = WITNESS_SIGMA * MIDDLE_SHARE * Math.sqrt(variance[m]!);
    return change[m]! > Math.max(noise, 0.5 * DEAD_BAND * frame.reference.spectrum[m]!);
  });
}
