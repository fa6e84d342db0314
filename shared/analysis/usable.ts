import type { ExplainedPeak } from './explain.ts';
import type { Note, ScanHeights } from './heights.ts';

/**
 * Heights that may be believed. A peak that is cut off or has dropped out says nothing of how high it is: the gases are
 * found from the other peaks, as if the mass had not been measured.
 */
export interface Usable {
  readonly masses: readonly number[];
  readonly heights: Float64Array;
  readonly variance: Float64Array;
  readonly leftOut: readonly number[];
}

/**
 * Noise that was assumed for want of empty masses is taken from one small height: it may be this many times too small
 * (one in twenty of simulated lists of selected masses), and a shifted zero of the same size cannot be seen there either.
 */
const ASSUMED_NOISE_FACTOR = 4;

export function usableHeights(scanned: ScanHeights): Usable {
  const { masses, heights, measured } = scanned;
  const variance = measured.noiseFrom === 'assumed' ? withDoubtfulNoise(scanned) : scanned.variance;
  const leftOut = [...new Set(measured.leftOut.map(({ mass }) => mass))].sort((a, b) => a - b);
  if (leftOut.length === 0) return { masses, heights, variance, leftOut };
  const kept = masses.map((_, row) => row).filter((row) => !leftOut.includes(masses[row]!));
  return {
    masses: kept.map((row) => masses[row]!),
    heights: Float64Array.from(kept, (row) => heights[row]!),
    variance: Float64Array.from(kept, (row) => variance[row]!),
    leftOut,
  };
}

function withDoubtfulNoise({ heights, variance, readNoiseAt28 }: ScanHeights): Float64Array {
  const doubt = (ASSUMED_NOISE_FACTOR * readNoiseAt28) ** 2;
  return heights.map((_, row) => variance[row]! + doubt);
}

const REASONS = {
  'cut off': 'more than the detector can show',
  'drop-out': 'fell to the floor for one scan beside steady peaks',
} as const;

export function leftOutRemark({ measured }: ScanHeights): Note | null {
  if (measured.leftOut.length === 0) return null;
  const parts = (Object.keys(REASONS) as (keyof typeof REASONS)[]).flatMap((why) => {
    const masses = measured.leftOut.filter((one) => one.why === why).map(({ mass }) => mass);
    return masses.length === 0 ? [] : [`m/z ${masses.join(', ')} (${REASONS[why]})`];
  });
  const text = `Not used: ${parts.join('; ')}. Gases that stand there were read from their other peaks, as far as they have any.`;
  return { code: 'masses-left-out', text };
}

/** The peaks that took no part are drawn all the same, with nothing said of what makes them up. */
export function withUnusedPeaks(
  peaks: readonly ExplainedPeak[],
  { masses, heights, variance, measured }: ScanHeights,
  factor: number,
): readonly ExplainedPeak[] {
  if (measured.leftOut.length === 0) return peaks;
  const byMass = new Map(peaks.map((peak) => [peak.mass, peak]));
  return masses.map((mass, row) => {
    const heightPa = heights[row]! * factor;
    return (
      byMass.get(mass) ?? { mass, heightPa, sigmaPa: Math.sqrt(variance[row]!) * factor, parts: [], unexplained: 0 }
    );
  });
}
