/**
 * Variance of every height for reasons that have nothing to do with gases: read noise, counting noise, what a large
 * neighbour leaves in a profile, and a low-mass foot that the scan cannot show.
 */
export interface HeightNoise {
  /** One sigma of read noise per height. */
  readonly read: Float64Array;
  /** Counting variance = this × height. */
  readonly shot: Float64Array;
  /** One sigma per height of a peak one unit away. */
  readonly neighbourError: number;
  /** Masses 1, 3 and 5 were not measured by a quadrupole: a foot cannot be fitted. */
  readonly hiddenFoot: boolean;
}

/**
 * Foot of the zero-mass peak at m/z 1, as a share of the largest peak, and its decay: the upper part of what analysers
 * show. At m/z 4 it makes 0.3 % of the largest peak, below which such a scan cannot call anything helium.
 */
const FOOT_SHARE = 0.03;
const FOOT_DECAY_U = 1.3;
const FOOT_ENDS = 4;

export function heightVariance(masses: readonly number[], heights: Float64Array, noise: HeightNoise): Float64Array {
  const { read, shot, neighbourError, hiddenFoot } = noise;
  let top = 0;
  for (const height of heights) top = Math.max(top, height);
  return heights.map((height, row) => {
    let variance =
      read[row]! ** 2 + shot[row]! * Math.max(0, height) + leftByNeighbours(heights, row, neighbourError) ** 2;
    if (hiddenFoot && masses[row]! <= FOOT_ENDS) {
      variance += (FOOT_SHARE * top * Math.exp((1 - masses[row]!) / FOOT_DECAY_U)) ** 2;
    }
    return variance;
  });
}

/** What large neighbours may leave in a height of a profile, one sigma. */
export function leftByNeighbours(heights: Float64Array, row: number, neighbourError: number): number {
  if (neighbourError === 0) return 0;
  const left = row > 0 ? Math.abs(heights[row - 1]!) : 0;
  const right = row + 1 < heights.length ? Math.abs(heights[row + 1]!) : 0;
  return neighbourError * (left + right);
}
