import { barHeights, spacedMasses } from './bars.ts';
import type { Note } from './heights.ts';
import type { MassScale } from './massScale.ts';
import type { MeasuredWidths } from './peakWidths.ts';
import { PROFILE_POINTS_PER_UNIT, profileHeights } from './profile.ts';
import type { AnalysisScan, Measurement } from './types.ts';

/** Peaks in the unit of the scan, whichever way it was taken. */
export interface ScanPeaks {
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  readonly neighbourError: number;
  readonly notes: readonly Note[];
  readonly massScale: Measurement['massScale'];
  readonly widthU: Measurement['widthU'];
  /** Masses whose peak a profile shows cut off; null: bars, which do not show it. */
  readonly cutOff: readonly number[] | null;
}

const NO_PROFILE = { neighbourError: 0, notes: [], massScale: null, widthU: null, cutOff: null } as const;

/** A peak that has moved by this much is read a few per cent low by a fixed-mass reading. */
const WORTH_SAYING_OFFSET_U = 0.15;

/** `before`: where peaks stood lately, for a profile without a strong one. */
export function scanPeaks(scan: AnalysisScan, before: MassScale | null): ScanPeaks {
  if (!('perUnit' in scan.masses)) return { ...barHeights(scan.masses, scan.values), ...NO_PROFILE };
  const { first, perUnit } = scan.masses;
  if (perUnit < PROFILE_POINTS_PER_UNIT) {
    const bars = barHeights(spacedMasses(first, perUnit, scan.values.length), scan.values);
    return { ...bars, ...NO_PROFILE };
  }
  const { masses, heights, neighbourError, offsetU, scale, scaleFound, widths, cutOff } = profileHeights(
    { first, perUnit, values: scan.values },
    before,
  );
  return {
    masses,
    heights,
    neighbourError,
    massScale: scaleFound ? scale : null,
    widthU: allWidths(widths),
    cutOff,
    notes: scaleFound && Math.abs(offsetU) > WORTH_SAYING_OFFSET_U ? [offsetNote(offsetU)] : [],
  };
}

const offsetNote = (offsetU: number): Note => ({
  code: 'mass-offset',
  text: `Peaks stand ${Math.abs(offsetU).toFixed(2)} u ${offsetU > 0 ? 'above' : 'below'} their masses; heights were read where the peaks are.`,
});

/** A Gaussian is √(ln 10 / ln 2) times as wide at a tenth as at half, and √(ln 20 / ln 10) at a twentieth as at a tenth. */
const TENTH_OF_HALF = Math.sqrt(Math.LN10 / Math.LN2);
const TWENTIETH_OF_TENTH = Math.sqrt(Math.log(20) / Math.LN10);

/** Where neighbours or noise hide the foot of every peak, a Gaussian goes on from the lowest width that was measured. */
function allWidths({ half, tenth, twentieth }: MeasuredWidths): Measurement['widthU'] {
  if (half === null) return null;
  const atTenth = tenth ?? half * TENTH_OF_HALF;
  return { half, tenth: atTenth, twentieth: twentieth ?? atTenth * TWENTIETH_OF_TENTH };
}
