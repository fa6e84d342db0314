/**
 * Peaks that are higher than the detector can show: several bars at exactly one top height, or a bar at the height at
 * which this detector was seen to end before. Their heights are lower bounds. (Profiles show it by themselves: the top
 * of the peak is flat to the last digit; see massScale.ts.)
 */
/** Two readings agree to the last digit by chance only near the noise, where few digits are left. */
const STRONG_SIGMAS = 30;

export interface BarTops {
  readonly masses: readonly number[];
  /** Unit of the scan. */
  readonly heights: Float64Array;
  readonly sigma: number;
  /** Height at which the detector was seen to end; null: not seen. */
  readonly fullScale: number | null;
}

export function cutOffBars({ masses, heights, sigma, fullScale }: BarTops): readonly number[] {
  let top = Number.NEGATIVE_INFINITY;
  let count = 0;
  for (let row = 0; row < heights.length; row++) {
    const height = heights[row]!;
    if (height > top) {
      top = height;
      count = 1;
    } else if (height === top) count++;
  }
  const isEnd = top > STRONG_SIGMAS * sigma && (count > 1 || (fullScale !== null && top === fullScale));
  return isEnd ? masses.filter((_, row) => heights[row] === top) : NONE;
}

const NONE: readonly number[] = [];
