import type { SteadyPeak } from './instrument/steady.ts';

/**
 * A gap in one mass: a single peak that was strong and steady lies at the floor, while its neighbours and all the other
 * steady peaks stand where they were. No gas goes alone and comes back within a scan; a switch of ranges or a lost value
 * does that. Twice in a row at most: a third time it is believed. A whole spectrum that falls is no drop-out, and neither
 * is a gas with several peaks that goes.
 */
/** At the floor: within this many standard deviations of zero, or this small a share of what it was. */
const FLOOR_SIGMAS = 5;
const FLOOR_SHARE = 0.01;
/** Others stand still: within this share, or five times what they usually move. */
const STILL_SHARE = 0.3;
const STILL_DEVIATIONS = 5;
/** Fewer other steady peaks than this prove nothing. */
const OTHERS_NEEDED = 3;
const BELIEVED_AFTER = 2;

export interface GapScan {
  readonly masses: readonly number[];
  /** Unit of the scan. */
  readonly heights: Float64Array;
  readonly sigma: number;
  readonly steady: ReadonlyMap<number, SteadyPeak>;
}

export function dropOuts({ masses, heights, sigma, steady }: GapScan): readonly number[] {
  if (steady.size <= OTHERS_NEEDED) return NONE;
  let gap: number | null = null;
  let others = 0;
  for (let row = 0; row < masses.length; row++) {
    const known = steady.get(masses[row]!);
    if (known === undefined) continue;
    const height = heights[row]!;
    if (height < Math.max(FLOOR_SIGMAS * sigma, FLOOR_SHARE * known.height)) {
      if (gap !== null) return NONE;
      gap = masses[row]!;
    } else if (
      Math.abs(height - known.height) > Math.max(STILL_SHARE * known.height, STILL_DEVIATIONS * known.deviation)
    ) {
      return NONE;
    } else others++;
  }
  if (gap === null || others < OTHERS_NEEDED || steady.get(gap)!.gaps >= BELIEVED_AFTER) return NONE;
  return [gap];
}

const NONE: readonly number[] = [];
