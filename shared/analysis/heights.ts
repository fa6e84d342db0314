import { PASCAL_PER } from '../units.ts';
import { footCanBeFitted } from './artefacts.ts';
import { barHeights, spacedMasses } from './bars.ts';
import { shotVariancePerAmpere } from './electrometer.ts';
import { heightVariance } from './heightVariance.ts';
import { PROFILE_POINTS_PER_UNIT, profileHeights } from './profile.ts';
import { type ReadNoise, readNoise } from './readNoise.ts';
import { CALIBRATION_MASS } from './sensitivity.ts';
import type { AnalysisScan, Calibration } from './types.ts';

/**
 * From a scan to peak heights in one scale.
 *
 *  - pressure units: as given; the analyser has calibrated itself;
 *  - A: divided by the sensitivity (times the gain on a multiplier) and by the transmission (28/m)^t, so that heights
 *    are what nitrogen would have to be at m/z 28 to give that current: N2-equivalent;
 *  - A without sensitivity, or a relative signal: shares of the sum, to be scaled to the gauge by the caller.
 */
export interface ScanHeights {
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  /** Per height, for all reasons but gases. */
  readonly variance: Float64Array;
  /** One sigma of read noise at m/z 28, same scale. */
  readonly readNoiseAt28: number;
  /** Counting variance at m/z 28 = this × height. */
  readonly shotAt28: number;
  readonly scale: 'pascal' | 'relative';
  readonly notes: readonly Note[];
}

export interface Note {
  readonly code: string;
  readonly text: string;
}

/**
 * Counting noise cannot be known from one scan. A million ions at the top peak are assumed, 0.1 % of it: hardly any
 * analyser repeats better, and zero to three times that moves the coverage of intervals by less than one point.
 * A multiplier sees single ions, so there the counting statistics are used where gain and time are known.
 */
const ASSUMED_IONS_AT_TOP = 1e6;
/** Fewer ions than this at the top peak and the time or the gain on record must be wrong. */
const FEWEST_IONS_AT_TOP = 1e4;
/** Gain varies from ion to ion: the variance exceeds counting statistics by about this factor (common practice). */
const MULTIPLIER_EXCESS = 1.5;

export function scanHeights(scan: AnalysisScan, calibration: Calibration): ScanHeights {
  const { masses, heights: raw, neighbourError, notes } = peaksInScanUnit(scan);
  const noise = readNoise(masses, raw);
  const { factor, scale } = scaleOf(scan, calibration, raw);
  const exponent = scan.unit === 'A' || scan.unit === '1' ? calibration.transmissionExponent : 0;
  const atMass = Float64Array.from(masses, (mass) => factor * (mass / CALIBRATION_MASS) ** exponent);
  const heights = raw.map((height, row) => height * atMass[row]!);
  const shotInUnit = shotInScanUnit(scan, calibration, raw);
  const variance = heightVariance(masses, heights, {
    read: atMass.map((perUnit) => noise.sigma * perUnit),
    shot: atMass.map((perUnit) => shotInUnit * perUnit),
    neighbourError,
    hiddenFoot: calibration.principle === 'quadrupole' && !footCanBeFitted(masses),
  });
  return {
    masses,
    heights,
    variance,
    readNoiseAt28: noise.sigma * factor,
    shotAt28: shotInUnit * factor,
    scale,
    notes: masses.length === 0 ? notes : [...notes, ...noiseNotes(noise)],
  };
}

function noiseNotes({ from }: ReadNoise): Note[] {
  if (from === 'assumed') {
    return [
      {
        code: 'noise-assumed',
        text: 'The scan holds too few masses without ions to measure its noise: noise between one part in ten thousand and one in a million of the largest peak is assumed.',
      },
    ];
  }
  if (from === 'steps') {
    return [
      {
        code: 'noise-hidden',
        text: 'The analyser writes zero where it sees nothing, so its noise cannot be measured: the smallest step between its values stands for it.',
      },
    ];
  }
  return [];
}

interface RawPeaks {
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  readonly neighbourError: number;
  readonly notes: readonly Note[];
}

function peaksInScanUnit(scan: AnalysisScan): RawPeaks {
  if (!('perUnit' in scan.masses)) return { ...barHeights(scan.masses, scan.values), neighbourError: 0, notes: [] };
  const { first, perUnit } = scan.masses;
  if (perUnit < PROFILE_POINTS_PER_UNIT) {
    const bars = barHeights(spacedMasses(first, perUnit, scan.values.length), scan.values);
    return { ...bars, neighbourError: 0, notes: [] };
  }
  const profile = profileHeights({ first, perUnit, values: scan.values });
  const { masses, heights, neighbourError, offsetU } = profile;
  if (Math.abs(offsetU) <= WORTH_SAYING_OFFSET_U) return { masses, heights, neighbourError, notes: [] };
  const text = `Peaks stand ${Math.abs(offsetU).toFixed(2)} u ${offsetU > 0 ? 'above' : 'below'} their masses; heights were read where the peaks are.`;
  return { masses, heights, neighbourError, notes: [{ code: 'mass-offset', text }] };
}

/** A peak that has moved by this much is read a few per cent low by a fixed-mass reading. */
const WORTH_SAYING_OFFSET_U = 0.15;

function scaleOf(
  scan: AnalysisScan,
  calibration: Calibration,
  raw: Float64Array,
): { factor: number; scale: 'pascal' | 'relative' } {
  if (scan.unit === 'Pa' || scan.unit === 'mbar' || scan.unit === 'Torr') {
    return { factor: PASCAL_PER[scan.unit], scale: 'pascal' };
  }
  const sensitivity = calibration.sensitivityAmperesPerPascal;
  const gain = scan.detector === 'multiplier' ? calibration.multiplierGain : 1;
  if (scan.unit === 'A' && sensitivity !== null && sensitivity > 0 && gain !== null && gain > 0) {
    return { factor: 1 / (sensitivity * gain), scale: 'pascal' };
  }
  let sum = 0;
  for (const height of raw) if (height > 0) sum += height;
  return { factor: sum > 0 ? 1 / sum : 1, scale: 'relative' };
}

function shotInScanUnit(scan: AnalysisScan, { multiplierGain }: Calibration, raw: Float64Array): number {
  let top = 0;
  for (const height of raw) top = Math.max(top, height);
  const assumed = top / ASSUMED_IONS_AT_TOP;
  if (scan.unit !== 'A' || scan.detector !== 'multiplier' || multiplierGain === null || raw.length === 0)
    return assumed;
  const dwellSeconds = (scan.seconds * scan.averages) / scan.values.length;
  const counted = shotVariancePerAmpere(dwellSeconds) * multiplierGain * MULTIPLIER_EXCESS;
  return Math.max(assumed, Math.min(counted, top / FEWEST_IONS_AT_TOP));
}
