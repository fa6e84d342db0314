import type { CatalogueGas } from '../../catalogue/types.ts';
import { sayShare } from '../say.ts';
import type { Ratio } from './fragmentRatios.ts';

/** What the records say of a peak against the reference peak: lowest and highest among those that speak. */
export interface RecordedRatio {
  readonly low: number;
  readonly high: number;
  readonly mean: number;
}

/** Null: no record speaks of the mass. */
export function recordedRatio({ records }: CatalogueGas, mass: number, referenceMass: number): RecordedRatio | null {
  const values = records.flatMap(({ peaks, lowMassCutoff }) => {
    const reference = peaks[referenceMass] ?? 0;
    if (!(reference > 0) || (peaks[mass] === undefined && mass < lowMassCutoff)) return [];
    return [(peaks[mass] ?? 0) / reference];
  });
  if (values.length === 0) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return { low: Math.min(...values), high: Math.max(...values), mean };
}

/** From this share of the largest peak on a fragment is one of those that a gas is known by. */
export const MAIN_SHARE = 0.03;
/**
 * Published records of one gas differ by 20 to 50 % in a fragment, and analysers whose transmission is poorly set by
 * more; three times is another gas.
 */
const IMPOSSIBLE_FACTOR = 3;
const SURE_SIGMAS = 3;

export interface RatioCheck {
  readonly gas: CatalogueGas;
  readonly masses: readonly number[];
  readonly ratios: readonly Ratio[];
  readonly referenceMass: number;
}

/** A sentence when a main fragment is off the records by more than any analyser is; null when none is. */
export function offTheRecords({ gas, masses, ratios, referenceMass }: RatioCheck): string | null {
  for (const [row, mass] of masses.entries()) {
    const recorded = mass === referenceMass ? null : recordedRatio(gas, mass, referenceMass);
    if (recorded === null) continue;
    const { mean, sigma, noise } = ratios[row]!;
    const error = SURE_SIGMAS * Math.hypot(sigma, noise);
    const tooLow = recorded.low >= MAIN_SHARE && mean + error < recorded.low / IMPOSSIBLE_FACTOR;
    const tooHigh = Math.max(mean, recorded.high) >= MAIN_SHARE && mean - error > recorded.high * IMPOSSIBLE_FACTOR;
    if (tooLow || tooHigh) {
      const published = `${sayShare(recorded.low)}${recorded.high > recorded.low ? ` to ${sayShare(recorded.high)}` : ''}`;
      return `The peaks are not those of ${gas.name}: m/z ${mass} stands at ${sayShare(Math.max(0, mean))} of m/z ${referenceMass}, published is ${published}.`;
    }
  }
  return null;
}

/** The pattern may wander by this much between the scans. */
const STEADY_WITHIN = 0.2;
/** A range of noise alone: ± 3 standard deviations. */
const NOISE_RANGE = 6;

/** A sentence when a main fragment moves between the scans; null when all stand still. */
export function unsteadyPattern({ masses, ratios, referenceMass }: Omit<RatioCheck, 'gas'>): string | null {
  for (const [row, mass] of masses.entries()) {
    const { mean, range, noise } = ratios[row]!;
    if (mean >= MAIN_SHARE && range > STEADY_WITHIN * mean && range > NOISE_RANGE * noise) {
      return `The scans disagree: m/z ${mass} against m/z ${referenceMass} moves by ${sayShare(range / mean)}. Something else came and went, or the pressure was too high for the analyser.`;
    }
  }
  return null;
}
