import { PASCAL_PER } from '../units.ts';
import { footCanBeFitted } from './artefacts.ts';
import { dropOuts } from './dropOut.ts';
import { shotVariancePerAmpere } from './electrometer.ts';
import { heightVariance } from './heightVariance.ts';
import { GAIN_ON_RECORD_UNCERTAINTY, gainFromPair } from './instrument/gain.ts';
import { type Known, NOTHING_KNOWN } from './instrument/known.ts';
import { noiseWithScan } from './instrument/noise.ts';
import { sightOf } from './instrument/sight.ts';
import { readNoise } from './readNoise.ts';
import { cutOffBars } from './saturation.ts';
import { type ScanPeaks, scanPeaks } from './scanPeaks.ts';
import { CALIBRATION_MASS } from './sensitivity.ts';
import type { AnalysisScan, Calibration, Measurement } from './types.ts';

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
  /** Heights in the unit of the scan, before sensitivity and transmission. */
  readonly raw: Float64Array;
  /** One sigma of read noise in the unit of the scan. */
  readonly rawNoise: number;
  /** One sigma per height of a peak one unit away; 0: bars. */
  readonly neighbourError: number;
  /** False: the analyser hides its noise, or no mass shows it. */
  readonly noiseVisible: boolean;
  readonly measured: HeightsMeasured;
}

/** What the heights tell of the analyser. */
export type HeightsMeasured = Pick<Measurement, 'massScale' | 'widthU' | 'noiseFrom' | 'gain' | 'leftOut'>;

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

export function scanHeights(scan: AnalysisScan, calibration: Calibration, known: Known = NOTHING_KNOWN): ScanHeights {
  const peaks = scanPeaks(scan, known.massScale);
  const { masses, heights: raw } = peaks;
  const noise = noiseOf(peaks, known);
  const leftOut = leftOutOf(peaks, noise.sigma, known);
  const gain = gainOf(scan, calibration, { known, peaks, sigma: noise.sigma, leftOut });
  const { factor, scale } = scaleOf(scan, calibration, { raw, gain: gain?.value ?? null });
  const exponent = scan.unit === 'A' || scan.unit === '1' ? calibration.transmissionExponent : 0;
  const atMass = Float64Array.from(masses, (mass) => factor * (mass / CALIBRATION_MASS) ** exponent);
  const heights = raw.map((height, row) => height * atMass[row]!);
  const shotInUnit = shotInScanUnit(scan, gain?.value ?? null, raw);
  const variance = heightVariance(masses, heights, {
    read: atMass.map((perUnit) => noise.sigma * perUnit),
    shot: atMass.map((perUnit) => shotInUnit * perUnit),
    neighbourError: peaks.neighbourError,
    hiddenFoot: calibration.principle === 'quadrupole' && !footCanBeFitted(masses),
  });
  return {
    masses,
    heights,
    variance,
    readNoiseAt28: noise.sigma * factor,
    shotAt28: shotInUnit * factor,
    scale,
    notes: masses.length === 0 ? peaks.notes : [...peaks.notes, ...noiseNotes(noise.from)],
    raw,
    rawNoise: noise.sigma,
    neighbourError: peaks.neighbourError,
    noiseVisible: noise.from === 'earlier scans' || noise.from === 'empty masses',
    measured: { massScale: peaks.massScale, widthU: peaks.widthU, noiseFrom: noise.from, gain, leftOut },
  };
}

/** Twenty scans know the noise three times better than one; but a scan that is far noisier is believed. */
function noiseOf({ masses, heights }: ScanPeaks, known: Known): { sigma: number; from: Measurement['noiseFrom'] } {
  if (known.noise === null) return readNoise(masses, heights);
  return { sigma: noiseWithScan(known.noise, masses, heights), from: 'earlier scans' };
}

function leftOutOf({ masses, heights, cutOff }: ScanPeaks, sigma: number, known: Known): Measurement['leftOut'] {
  const ended = cutOff ?? cutOffBars({ masses, heights, sigma, fullScale: known.fullScale });
  const gaps = dropOuts({ masses, heights, sigma, steady: known.steady });
  if (ended.length === 0 && gaps.length === 0) return NONE;
  return [
    ...ended.map((mass) => ({ mass, why: 'cut off' as const })),
    ...gaps.map((mass) => ({ mass, why: 'drop-out' as const })),
  ];
}

const NONE: Measurement['leftOut'] = [];

interface GainQuestion {
  readonly known: Known;
  readonly peaks: ScanPeaks;
  readonly sigma: number;
  readonly leftOut: Measurement['leftOut'];
}

/** Gain of a multiplier scan: from the pair that this scan completes, from earlier pairs, else the one on record. */
function gainOf(scan: AnalysisScan, calibration: Calibration, question: GainQuestion): Measurement['gain'] {
  if (scan.detector !== 'multiplier') return null;
  const { known, peaks, sigma, leftOut } = question;
  const record = calibration.multiplierGain;
  let gain = known.gain;
  if (known.faraday !== null && scan.unit === 'A') {
    const seen = { scan, masses: peaks.masses, heights: peaks.heights, sigma, leftOut };
    const now = sightOf(seen, known.faraday.periodMs, null);
    gain = (now && gainFromPair(known.faraday, now, { prior: known.gain, record })) ?? gain;
  }
  if (gain !== null) return { value: gain.value, uncertainty: gain.uncertainty, from: 'pair', atMs: gain.atMs };
  if (record === null) return null;
  const uncertainty = calibration.multiplierGainUncertainty ?? GAIN_ON_RECORD_UNCERTAINTY;
  return { value: record, uncertainty, from: 'record', atMs: null };
}

function noiseNotes(from: Measurement['noiseFrom']): Note[] {
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

function scaleOf(
  scan: AnalysisScan,
  calibration: Calibration,
  { raw, gain }: { readonly raw: Float64Array; readonly gain: number | null },
): { factor: number; scale: 'pascal' | 'relative' } {
  if (scan.unit === 'Pa' || scan.unit === 'mbar' || scan.unit === 'Torr') {
    return { factor: PASCAL_PER[scan.unit], scale: 'pascal' };
  }
  const sensitivity = calibration.sensitivityAmperesPerPascal;
  const amplified = scan.detector === 'multiplier' ? gain : 1;
  if (scan.unit === 'A' && sensitivity !== null && sensitivity > 0 && amplified !== null && amplified > 0) {
    return { factor: 1 / (sensitivity * amplified), scale: 'pascal' };
  }
  let sum = 0;
  for (const height of raw) if (height > 0) sum += height;
  return { factor: sum > 0 ? 1 / sum : 1, scale: 'relative' };
}

function shotInScanUnit(scan: AnalysisScan, gain: number | null, raw: Float64Array): number {
  let top = 0;
  for (const height of raw) top = Math.max(top, height);
  const assumed = top / ASSUMED_IONS_AT_TOP;
  if (scan.unit !== 'A' || scan.detector !== 'multiplier' || gain === null || raw.length === 0) return assumed;
  const dwellSeconds = (scan.seconds * scan.averages) / scan.values.length;
  const counted = shotVariancePerAmpere(dwellSeconds) * gain * MULTIPLIER_EXCESS;
  return Math.max(assumed, Math.min(counted, top / FEWEST_IONS_AT_TOP));
}
