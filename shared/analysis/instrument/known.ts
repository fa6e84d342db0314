import type { AnalysisScan, Calibration, InstrumentMemory } from '../types.ts';
import { type GainPrior, gainPrior } from './gain.ts';
import { knownLookAlikes, type LookAlike } from './lookAlikes.ts';
import { readMemory, settingOf } from './memory.ts';
import { type KnownNoise, knownNoise } from './noise.ts';
import { followedScale } from './scale.ts';
import { type Sight, sightFor } from './sight.ts';
import { type SteadyPeak, steadyPeaks } from './steady.ts';

/** What earlier scans of the analyser tell about how to read this one. */
export interface Known {
  /** Multiplier gain measured from neighbouring Faraday and multiplier scans; null: use the one on record. */
  readonly gain: GainPrior | null;
  /** The Faraday scan just before a multiplier scan: with it the gain can be measured here and now. */
  readonly faraday: Sight | null;
  /** Read noise in the unit of the scan; null: the scan itself must tell. */
  readonly noise: KnownNoise | null;
  /** Where peaks stood lately, for a profile that shows no strong peak of its own. */
  readonly massScale: { readonly offsetU: number; readonly slope: number; readonly pivot: number } | null;
  /** Masses whose peaks have been steady, in the unit of the scan: a gap in one of them is a drop-out. */
  readonly steady: ReadonlyMap<number, SteadyPeak>;
  /** Height at which this detector ends, seen earlier, in the unit of the scan. */
  readonly fullScale: number | null;
  /** Gases that have moved in step with a larger one whose peaks they share. */
  readonly lookAlikes: readonly LookAlike[];
}

export const NOTHING_KNOWN: Known = {
  gain: null,
  faraday: null,
  noise: null,
  massScale: null,
  steady: new Map(),
  fullScale: null,
  lookAlikes: [],
};

export function knownOf(memory: InstrumentMemory | null, scan: AnalysisScan, calibration: Calibration): Known {
  if (memory === null) return NOTHING_KNOWN;
  const { settings, gain, scale, lookAlikes } = readMemory(memory);
  const setting = settingOf(settings, scan);
  return {
    gain: gainPrior(gain, calibration.multiplierGain, scan.atMs),
    faraday: scan.detector === 'multiplier' ? sightFor(gain?.faraday ?? null, scan) : null,
    noise: setting === null ? null : knownNoise(setting.noise),
    massScale: followedScale(scale),
    steady: setting === null || setting.state !== scan.state ? new Map() : steadyPeaks(setting.steady),
    fullScale: setting?.top.fullScale ?? null,
    lookAlikes: knownLookAlikes(lookAlikes),
  };
}
